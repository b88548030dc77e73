package web

import (
	"math"
	"strconv"

	"rooftally/project"
)

// sameRunM is how far two modules of one run may be from the same height up
// the slope and from the gap of the rules: rounding, far under any tape.
const sameRunM = 1e-4

// moduleRun is modules side by side in one row, set out as one piece.
type moduleRun struct {
	first, count        int // first is the number of its first module in the drawing
	leftM, upM, lengthM float64
	tall                bool // the long side lies up the slope
}

// moduleRuns joins the neighbours of one plane's modules, which lie row by row
// from left to right. first is the drawing's number of the first of them.
func moduleRuns(modules []project.Module, gapM float64, first int) []moduleRun {
	var runs []moduleRun
	for i, m := range modules {
		tall := m.HM > m.WM
		if i > 0 {
			last := &runs[len(runs)-1]
			beside := math.Abs(last.leftM+last.lengthM+gapM-m.UM) <= sameRunM
			if beside && math.Abs(last.upM-m.VM) <= sameRunM && last.tall == tall {
				last.count++
				last.lengthM = m.UM + m.WM - last.leftM
				continue
			}
		}
		runs = append(runs, moduleRun{first: first + i, count: 1, leftM: m.UM, upM: m.VM, lengthM: m.WM, tall: tall})
	}
	return runs
}

// proposalRun is one run in the installer's table.
type proposalRun struct {
	Plane, Modules, Turn string
	Left, Length, Up     string
}

// proposalRuns sets out every run of a layout, numbered as in the drawing.
func proposalRuns(doc project.Document, layout project.LayoutResult, u units) []proposalRun {
	var out []proposalRun
	next := 1
	for _, by := range layout.ByPlane {
		for _, r := range moduleRuns(by.Modules, doc.Rules.GapEaveM, next) {
			row := proposalRun{
				Plane: planeNumber(doc, by.PlaneID), Modules: strconv.Itoa(r.first), Turn: "landscape",
				Left: u.length(r.leftM), Length: u.length(r.lengthM), Up: u.length(r.upM),
			}
			if r.count > 1 {
				row.Modules += "–" + strconv.Itoa(r.first+r.count-1)
			}
			if r.tall {
				row.Turn = "portrait"
			}
			out = append(out, row)
		}
		next += len(by.Modules)
	}
	return out
}

func planeNumber(doc project.Document, id string) string {
	for i, p := range doc.Planes {
		if p.ID == id {
			return strconv.Itoa(i + 1)
		}
	}
	return ""
}
