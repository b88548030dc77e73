package web

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"
)

// getProposal shows the printable proposal of the chosen candidate.
func (s *server) getProposal(w http.ResponseWriter, r *http.Request) {
	stored, ok := s.load(w, r)
	if !ok {
		return
	}
	res, built, isDeep, err := s.compareBuilt(r, stored)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	sheet := choosePaper(r.URL.Query().Get("paper"), stored.Doc.Site.RuleFamily)
	view := newProposalView(stored, res, built, sheet, s.now())
	if view.Missing == "" {
		yield, ready := s.yielded(r, s.pageWait, stored.Doc, res, built)
		view.Yield = newProposalYield(stored.Doc, res, yield, ready, sheet)
	}
	view.Looking = !isDeep
	s.render(w, r, http.StatusOK, proposalPage(view))
}

// getProposalStyle sends the sheet size and the running foot, which carry the
// project's own words and so cannot be in a fixed style sheet.
func (s *server) getProposalStyle(w http.ResponseWriter, r *http.Request) {
	stored, ok := s.load(w, r)
	if !ok {
		return
	}
	sheet := choosePaper(r.URL.Query().Get("paper"), stored.Doc.Site.RuleFamily)
	foot := siteDate(stored.Doc.Site, s.now()) + " · drawing no. " + strconv.Itoa(stored.Version)
	send(w, http.StatusOK, "text/css; charset=utf-8", []byte(pageStyle(sheet, clipText(stored.Doc.Site.Label, footLabelMax), foot)))
}

// footLabelMax is how many characters of a label the foot holds beside the
// date and the page on one line.
const footLabelMax = 48

// clipText cuts a text to at most n characters, the last an ellipsis.
func clipText(t string, n int) string {
	r := []rune(t)
	if len(r) <= n {
		return t
	}
	return strings.TrimSpace(string(r[:n-1])) + "…"
}

// pageStyle is the @page rule: paper, margins and foot.
func pageStyle(sheet paper, label, foot string) string {
	const box = "font: 400 8.5pt/1.3 'Source Sans 3', sans-serif; color: #4a5364; vertical-align: top; padding-top: 5mm;"
	return fmt.Sprintf(`@page {
  size: %s;
  margin: %dmm %dmm %dmm;
  @bottom-left { content: %s; text-align: left; white-space: nowrap; %s }
  @bottom-right { content: %s counter(page) " of " counter(pages); text-align: right; white-space: nowrap; %s }
}
`, sheet.CSS, marginTopMM, marginSideMM, marginFootMM, cssString(label), box, cssString(foot+" · "), box)
}

// cssString quotes a text for CSS: everything but plain letters, figures and
// spaces is written as an escape, so that no text can end the string.
func cssString(t string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range t {
		plain := r == ' ' || r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z'
		switch {
		case plain:
			b.WriteRune(r)
		case r < ' ' || r == 0x7f:
			b.WriteByte(' ')
		default:
			fmt.Fprintf(&b, `\%x `, r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
