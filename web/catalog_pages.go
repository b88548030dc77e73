package web

import (
	"cmp"
	"fmt"
	"mime"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"github.com/go-chi/chi/v5"

	"rooftally/catalog"
)

// catalogRoutes are the pages below /catalog.
func (s *server) catalogRoutes(r chi.Router) {
	r.Get("/", func(w http.ResponseWriter, r *http.Request) {
		http.Redirect(w, r, moduleKind().path(""), http.StatusFound)
	})
	r.Get("/{kind}", s.withProducts(s.getProducts))
	r.Get("/{kind}/list.csv", s.withProducts(s.getProductsCSV))
	r.Post("/{kind}/upload", s.withProducts(s.postProductsUpload))
	r.Post("/{kind}/demo", s.withProducts(s.postProductsDemo))
	r.Post("/{kind}/apply", s.withProducts(s.postProductsApply))
	r.Get("/{kind}/entry", s.withProducts(s.getEntryForm))
	r.Post("/{kind}/entry", s.withProducts(s.postEntry))
	r.Get("/{kind}/delete", s.withProducts(s.getDelete))
	r.Post("/{kind}/delete", s.withProducts(s.postDelete))
}

// withProducts finds the list that the path names.
func (s *server) withProducts(answer func(http.ResponseWriter, *http.Request, productList)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		list := productsOf(s.catalog, chi.URLParam(r, "kind"))
		if list == nil {
			s.fail(w, r, errNoPage)
			return
		}
		answer(w, r, list)
	}
}

// getProducts shows a list, or what of it matches the search.
func (s *server) getProducts(w http.ResponseWriter, r *http.Request, list productList) {
	kept, err := list.read(r.Context())
	if err != nil {
		s.fail(w, r, err)
		return
	}
	query := r.URL.Query()
	view := productsView{
		Kind: list.kind(), Columns: list.described(), Query: strings.TrimSpace(query.Get("q")),
		Total: len(kept.Entries), Notice: noticeOf(query, list.kind()),
	}
	for _, e := range kept.Entries {
		if matches(e, view.Query) {
			view.Entries = append(view.Entries, e)
		}
	}
	view.Found = len(view.Entries)
	view.turnTo(query.Get("sheet"))
	view.Head = headView(view.Kind, view.Entries)
	view.Parts = partsOf(view.Kind, list.columns())
	s.render(w, r, http.StatusOK, productsPage(view))
}

// sheetSize is how many entries one page shows: each brings all its figures.
const sheetSize = 100

// turnTo leaves the entries of one sheet, the nearest that there is to the number
// asked for; the first is 1.
func (v *productsView) turnTo(asked string) {
	number, err := strconv.Atoi(asked)
	if err != nil {
		number = 1
	}
	last := max(0, (v.Found-1)/sheetSize)
	v.Sheet = min(max(number-1, 0), last)
	v.Entries = v.Entries[sheetSize*v.Sheet : min(sheetSize*(v.Sheet+1), v.Found)]
}

// sheetPath is the address of another sheet of what is shown.
func (v productsView) sheetPath(sheet int) string {
	query := url.Values{"sheet": {strconv.Itoa(sheet + 1)}}
	if v.Query != "" {
		query.Set("q", v.Query)
	}
	return v.Kind.path("?" + query.Encode())
}

// matches tells whether an entry's name or ID contains every word of a search,
// whatever the case.
func matches(e entry, query string) bool {
	text := strings.ToLower(e.Label() + "\n" + e.ID())
	for _, word := range strings.Fields(strings.ToLower(query)) {
		if !strings.Contains(text, word) {
			return false
		}
	}
	return true
}

// noticeOf says what was just done, by the query of the address; "" for nothing.
func noticeOf(query url.Values, kind productKind) string {
	if query.Get("deleted") != "" {
		return "The " + kind.One + " was deleted."
	}
	added, _ := strconv.Atoi(query.Get("added"))
	changed, _ := strconv.Atoi(query.Get("changed"))
	if added < 1 && changed < 1 {
		return ""
	}
	return changeWords(max(added, 0), max(changed, 0), kind) + "."
}

// changeWords are like "2 modules added, 1 changed".
func changeWords(added, changed int, kind productKind) string {
	switch {
	case changed == 0:
		return countOf(added, kind.One, kind.Many) + " added"
	case added == 0:
		return countOf(changed, kind.One, kind.Many) + " changed"
	}
	return fmt.Sprintf("%s added, %d changed", countOf(added, kind.One, kind.Many), changed)
}

// headView makes the cells of the table: all numbers of a column get as many
// decimals as the one with most, so that the points stand under each other.
func headView(kind productKind, entries []entry) [][]string {
	rows := make([][]string, len(entries))
	for i := range rows {
		rows[i] = make([]string, len(kind.Head))
	}
	for j, head := range kind.Head {
		decimals := 0
		for _, e := range entries {
			for _, name := range head.Names {
				decimals = max(decimals, decimalsOf(e.Cell(name)))
			}
		}
		for i, e := range entries {
			rows[i][j] = headCell(head, e, decimals)
		}
	}
	return rows
}

// decimalsOf counts the digits after the point.
func decimalsOf(cell string) int {
	if point := strings.IndexByte(cell, '.'); point >= 0 {
		return len(cell) - point - 1
	}
	return 0
}

// headCell is one cell of the table; "–" where the figure is not given.
func headCell(head headColumn, e entry, decimals int) string {
	parts := make([]string, 0, len(head.Names))
	for _, name := range head.Names {
		cell := e.Cell(name)
		if cell == "" {
			return "–"
		}
		if v, err := strconv.ParseFloat(cell, 64); err == nil {
			cell = minusSign(strconv.FormatFloat(v, 'f', decimals, 64))
		}
		// A figure for each tracker has spaces between them.
		parts = append(parts, strings.ReplaceAll(cell, " ", " + "))
	}
	return strings.Join(parts, head.Join)
}

// columnPart is a group of columns under a heading.
type columnPart struct {
	Title   string
	Columns []catalog.Column
}

// partsOf divides columns into the kind's groups.
func partsOf(kind productKind, columns []catalog.Column) []columnPart {
	var out []columnPart
	for _, c := range columns {
		for _, p := range kind.Parts {
			if p.From == c.Name {
				out = append(out, columnPart{Title: p.Title})
			}
		}
		last := &out[len(out)-1]
		last.Columns = append(last.Columns, c)
	}
	return out
}

// shownCell is a figure as it is read.
func shownCell(e entry, column string) string {
	cell := e.Cell(column)
	if _, err := strconv.ParseFloat(cell, 64); err == nil {
		return minusSign(cell)
	}
	return cmp.Or(cell, "not given")
}

// minusSign sets a number with the sign that is as wide as a digit.
func minusSign(number string) string { return strings.Replace(number, "-", "−", 1) }

// getProductsCSV sends the whole list as a file.
func (s *server) getProductsCSV(w http.ResponseWriter, r *http.Request, list productList) {
	kept, err := list.read(r.Context())
	if err != nil {
		s.fail(w, r, err)
		return
	}
	w.Header().Set("Content-Disposition", mime.FormatMediaType("attachment", map[string]string{"filename": list.kind().Slug + ".csv"}))
	send(w, http.StatusOK, "text/csv; charset=utf-8", []byte(kept.CSV))
}

// getDelete asks whether an entry shall go.
func (s *server) getDelete(w http.ResponseWriter, r *http.Request, list productList) {
	s.askDelete(w, r, list, http.StatusOK, "")
}

func (s *server) askDelete(w http.ResponseWriter, r *http.Request, list productList, status int, warning string) {
	kept, err := list.read(r.Context())
	if err != nil {
		s.fail(w, r, err)
		return
	}
	e, err := kept.find(r.URL.Query().Get("id"))
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.render(w, r, status, deletePage(deleteView{
		Kind: list.kind(), Entry: e, Version: kept.Version, Warning: warning, Parts: partsOf(list.kind(), list.columns()),
	}))
}

// postDelete deletes an entry. If the list has changed meanwhile it asks again.
func (s *server) postDelete(w http.ResponseWriter, r *http.Request, list productList) {
	base, err := readFormVersion(w, r)
	if err == nil {
		err = list.drop(r.Context(), base, r.URL.Query().Get("id"))
	}
	if isMoved(err) {
		s.askDelete(w, r, list, http.StatusConflict, "The list has changed since this page was opened. These are the figures now.")
		return
	}
	if err != nil {
		s.fail(w, r, err)
		return
	}
	http.Redirect(w, r, list.kind().path("?deleted=1"), http.StatusSeeOther)
}

// entryPath is the page that changes or deletes an entry.
func entryPath(kind productKind, page string, e entry) string {
	return kind.path("/" + page + "?" + url.Values{"id": {e.ID()}}.Encode())
}

// countText is a whole number on a page.
func countText(n int) string { return strconv.Itoa(n) }
