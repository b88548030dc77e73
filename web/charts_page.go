package web

import (
	"bytes"
	"context"
	"fmt"
	"regexp"

	"rooftally/project"
	"rooftally/static"
)

// chartsView is the charts of a project's yield on one page that stands alone.
type chartsView struct {
	yieldView
	Style  string
	Chains []chartsChain
}

// chartsChain is one candidate's way from sunlight to AC.
type chartsChain struct {
	Letter, Name string
	Rows         []barRow
}

// ChartsPage is the charts of a yield as one HTML page that needs no server: the
// energy of each month and year, the losses of each candidate and two telling
// days, drawn as SVG, with the table behind each. res and yield are those of the
// document. A document without planes or candidates, or a year that cannot be
// reckoned, gives a page that says so.
func ChartsPage(ctx context.Context, doc project.Document, res project.Result, yield project.YieldResult) ([]byte, error) {
	style, err := chartsStyle()
	if err != nil {
		return nil, err
	}
	v := chartsView{yieldView: newYieldView(project.Stored{Doc: doc}, res, yield, ""), Style: style}
	v.Monthly.Open, v.Years.Open = true, true
	for i := range v.Days {
		v.Days[i].Wide.Open = true
	}
	for i, c := range yield.Candidates {
		if v.Missing == "" && v.Why == "" && c.Why == "" {
			v.Chains = append(v.Chains, chartsChain{c.Letter, candidateName(doc.Candidates[i]), chainRows(c.Chain, nil)})
		}
	}
	var page bytes.Buffer
	if err := chartsPage(v).Render(ctx, &page); err != nil {
		return nil, fmt.Errorf("draw the charts: %w", err)
	}
	return page.Bytes(), nil
}

// fontFace is a font that only a server has.
var fontFace = regexp.MustCompile(`(?s)@font-face \{.*?\}\n`)

// chartsStyle is the style sheets that the page needs, in one.
func chartsStyle() (string, error) {
	out := ""
	for _, name := range []string{"base.css", "options.css", "chart.css", "yield.css"} {
		data, err := static.Files.ReadFile("css/" + name)
		if err != nil {
			return "", fmt.Errorf("read the style of the charts: %w", err)
		}
		out += fontFace.ReplaceAllString(string(data), "")
	}
	return "<style>\n" + out + "</style>", nil
}
