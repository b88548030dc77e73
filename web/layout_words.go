package web

import (
	"fmt"
	"strconv"
	"strings"

	"rooftally/project"
)

// styleWord is what a style is called within a sentence.
func styleWord(style string) string {
	switch style {
	case "grid":
		return "one grid"
	case "best":
		return "most modules"
	}
	return style
}

// turnWord is what a plane's turn is called where no module shows it.
func turnWord(turn string) string {
	switch turn {
	case "either":
		return "either way"
	case "mixed":
		return "each row either way"
	}
	return turn
}

// tidyText says how even a layout is, "" without modules.
func tidyText(t project.Tidiness) string {
	if t.RailRuns == 0 {
		return ""
	}
	return countOf(t.RailRuns, "rail run", "rail runs") + ", " + countOf(t.Blocks, "block", "blocks") + ", " + turnsText(t.Turns)
}

// wholeParts lets a list parted by commas break after commas alone.
func wholeParts(list string) string {
	parts := strings.Split(list, ", ")
	for i, p := range parts {
		parts[i] = strings.ReplaceAll(p, " ", "\u00a0")
	}
	return strings.Join(parts, ", ")
}

func turnsText(turns int) string {
	if turns == 1 {
		return "one orientation"
	}
	return "two orientations"
}

// changeText is "3 more rail runs", "1 fewer rail run" or "as many rail runs".
func changeText(change int, one, many string) string {
	switch {
	case change == 0:
		return "as many " + many
	case change < 0:
		return countOf(-change, "fewer "+one, "fewer "+many)
	}
	return countOf(change, "more "+one, "more "+many)
}

// offerText is what style "best" would add to a layout in so many turns:
// "+2 modules, 3 more rail runs".
func offerText(o project.OfferResult, turns int) string {
	t := "+" + modulesText(o.More) + ", " + changeText(o.RailRuns, "rail run", "rail runs")
	if turns == 1 && o.Turns == 2 {
		t += ", " + turnsText(2)
	}
	return t
}

// handText says who placed the modules of a plane, "" for the engine.
func handText(b project.PlaneLayoutResult) string {
	switch b.Hand {
	case "by_hand":
		return "placed by hand"
	case "around":
		locked := 0
		for _, m := range b.Modules {
			if m.Locked {
				locked++
			}
		}
		return "around " + countOf(locked, "locked module", "locked modules")
	}
	return ""
}

// handNotes name the planes of a layout that a person had a hand in.
func handNotes(doc project.Document, l project.LayoutResult) []string {
	return planeNotes(doc, l, func(b project.PlaneLayoutResult) []string {
		switch b.Hand {
		case "by_hand":
			return []string{": " + handText(b) + "."}
		case "around":
			return []string{": filled " + handText(b) + "."}
		}
		return nil
	})
}

// refusedNotes list the modules placed by hand that the roof does not allow,
// each with its reason. They are not counted and must not be built.
func refusedNotes(doc project.Document, l project.LayoutResult) []string {
	return planeNotes(doc, l, func(b project.PlaneLayoutResult) []string {
		var out []string
		for _, r := range b.Refused {
			out = append(out, fmt.Sprintf(": module %d of those placed by hand is not allowed, %s.", r.Index+1, refusedText(doc, r)))
		}
		return out
	})
}

// planeNotes are what is said of each plane, after its name.
func planeNotes(doc project.Document, l project.LayoutResult, say func(project.PlaneLayoutResult) []string) []string {
	var out []string
	for i, p := range doc.Planes {
		b, _ := planeLayout(l, p.ID)
		for _, t := range say(b) {
			out = append(out, planeName(p, i)+t)
		}
	}
	return out
}

// refusedText is the reason why the roof does not allow a module.
func refusedText(doc project.Document, r project.RefusedModule) string {
	keepOut := ""
	for i, k := range doc.KeepOuts {
		if k.ID == r.With {
			keepOut = strings.TrimSpace(keepOutKey(i) + " " + k.Label)
		}
	}
	switch r.Why {
	case "outside":
		return "beyond the edge of the plane"
	case "setback":
		return "within a setback"
	case "path":
		return "within an access path"
	case "keep_out":
		if keepOut == "" {
			keepOut = "a keep-out"
		}
		return "on " + keepOut + " or its clearance"
	case "shade_off_limits":
		if keepOut == "" {
			keepOut = "shade"
		}
		return "on " + keepOut + ", which is off limits"
	case "end":
		return "no room for clamp and rail at its end"
	case "limit":
		return "over the module limit of the plane"
	}
	if n, err := strconv.Atoi(r.With); err == nil {
		return "on or too close to module " + strconv.Itoa(n+1)
	}
	return "on or too close to another module"
}

// turnUsed is how a plane's modules lie, or how they may lie if it has none.
func turnUsed(p project.Plane, b project.PlaneLayoutResult) string {
	used := ""
	for _, m := range b.Modules {
		switch used {
		case "", m.Turn:
			used = m.Turn
		default:
			return "both"
		}
	}
	if used == "" {
		return turnWord(p.Turn)
	}
	return used
}

// knownText says how a filled roof stands to what it could hold: proved, or
// the bound; "" where a size is met, or a limit or a person ends the count.
func knownText(doc project.Document, c project.CandidateResult) string {
	if c.Size != nil && c.Size.Fits || c.Fill.Count == 0 || limited(doc, c.Fill) {
		return ""
	}
	bound, proved := boundOf(c.Fill, "")
	if proved {
		return "Proved: no other arrangement square to the eaves holds more of these modules on any of the planes."
	}
	return "No arrangement square to the eaves can hold more than " + strconv.Itoa(bound) + " of these modules; " +
		strconv.Itoa(c.Fill.Count) + " are the most found in " + styleWord(doc.Rules.Style) + "."
}

// boundOf is the most that a layout's plane can hold, all planes with id "",
// and whether the layout reaches it on each.
func boundOf(l project.LayoutResult, id string) (bound int, proved bool) {
	proved = true
	for _, b := range l.ByPlane {
		if id == "" || b.PlaneID == id {
			bound += b.Bound
			proved = proved && b.Proved && b.Count == b.Bound
		}
	}
	return bound, proved && bound > 0
}

// limited reports whether a plane's own limit or a person, and not the roof,
// ends its count.
func limited(doc project.Document, l project.LayoutResult) bool {
	for _, p := range doc.Planes {
		b, ok := planeLayout(l, p.ID)
		if ok && (b.Hand != "" || p.ModuleLimit != nil && b.Count == *p.ModuleLimit && b.Count < b.Bound) {
			return true
		}
	}
	return false
}

// valueText says what the places chosen for a size are worth together, "" where
// nothing is said of it.
func valueText(s *project.SizeResult) string {
	if s == nil || s.ValueWords == "" {
		return ""
	}
	known := "no choice of as many is worth more than " + grouped(s.ValueBound)
	if s.ValueProved {
		known = "proved the highest for as many"
	}
	return "The places taken are worth " + grouped(s.Value) + " together, " + known + ". Worth is counted in " + s.ValueWords + "."
}

// grouped shows a number to a tenth, in groups of three digits.
func grouped(v float64) string {
	whole, part, found := strings.Cut(trimZeros(fixed(v, 1)), ".")
	for i := len(whole) - 3; i > 0 && whole[i-1] != '-'; i -= 3 {
		whole = whole[:i] + "\u202f" + whole[i:]
	}
	if found {
		whole += "." + part
	}
	return whole
}
