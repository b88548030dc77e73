package web

import (
	"strconv"

	"rooftally/project"
)

// deciding says in one or two sentences what the numbers decide.
func deciding(doc project.Document, res project.Result, u units) string {
	if doc.Target.Mode == "size" && allSized(res) {
		return decidingSize(doc.Target.SizeW, res.Candidates, u)
	}
	return decidingFill(res.Candidates, u)
}

func allSized(res project.Result) bool {
	for _, c := range res.Candidates {
		if c.Size == nil {
			return false
		}
	}
	return len(res.Candidates) > 0
}

// decidingFill compares what the full roof makes.
func decidingFill(all []project.CandidateResult, u units) string {
	top, next := leaders(all)
	first := all[top[0]]
	if first.Fill.Count == 0 {
		return "No module fits on the roof as it is drawn."
	}
	amount := kwText(first.Fill.PdcW) + " " + u.power
	if len(all) == 1 {
		return "Option " + first.Letter + " makes " + amount + " with " + modulesText(first.Fill.Count) + ". There is no other option to compare it with." + shadeClause(all, top)
	}
	if len(top) > 1 {
		return tieSentence(all, top, amount) + shadeClause(all, top)
	}
	second := all[next]
	gain := kwText(first.Fill.PdcW-second.Fill.PdcW) + " " + u.power
	return "Option " + first.Letter + " makes the most, " + amount + ": " + gain + " more than " + second.Letter +
		", with " + versus(first.Fill.Count, second.Fill.Count) + "." + shadeClause(all, top)
}

// leaders are the candidates with the most power and the best of the rest.
func leaders(all []project.CandidateResult) (top []int, next int) {
	best := 0
	for _, c := range all {
		best = max(best, c.Fill.PdcW)
	}
	next = -1
	for i, c := range all {
		switch {
		case c.Fill.PdcW == best:
			top = append(top, i)
		case next < 0 || c.Fill.PdcW > all[next].Fill.PdcW:
			next = i
		}
	}
	return top, next
}

// versus compares two counts: "2 fewer modules", "as many modules".
func versus(n, other int) string {
	switch {
	case n < other:
		return countOf(other-n, "fewer module", "fewer modules")
	case n > other:
		return countOf(n-other, "more module", "more modules")
	}
	return "as many modules"
}

// tieSentence names the candidates that make the same and, if one of them
// does it with the fewest modules, that one.
func tieSentence(all []project.CandidateResult, top []int, amount string) string {
	few := top[0]
	alone := true
	for _, i := range top[1:] {
		switch {
		case all[i].Fill.Count < all[few].Fill.Count:
			few, alone = i, true
		case all[i].Fill.Count == all[few].Fill.Count:
			alone = false
		}
	}
	t := "Options " + andList(letters(all, top)) + " tie at " + amount + "."
	if alone {
		t += " " + all[few].Letter + " does it with the fewest modules, " + strconv.Itoa(all[few].Fill.Count) + "."
	}
	return t
}

func letters(all []project.CandidateResult, of []int) []string {
	var out []string
	for _, i := range of {
		out = append(out, all[i].Letter)
	}
	return out
}

// shadeClause adds how many modules of the leading options stand in shade.
func shadeClause(all []project.CandidateResult, of []int) string {
	t := ""
	for _, i := range of {
		if n := all[i].Shown().InShade; n > 0 {
			verb := " are in shade."
			if n == 1 {
				verb = " is in shade."
			}
			t += " " + strconv.Itoa(n) + " of the " + modulesText(all[i].Shown().Count) + " of " + all[i].Letter + verb
		}
	}
	return t
}

// decidingSize says which candidates meet the size and with how many modules.
func decidingSize(sizeW int, all []project.CandidateResult, u units) string {
	size := kwText(sizeW) + " " + u.power
	var fit, short []int
	for i, c := range all {
		if c.Size.Fits {
			fit = append(fit, i)
		} else {
			short = append(short, i)
		}
	}
	if len(fit) == 0 {
		return noneReaches(size, all, u)
	}
	few := fit[0]
	for _, i := range fit {
		if all[i].Size.Need < all[few].Size.Need {
			few = i
		}
	}
	var same, rest []string
	for _, i := range fit {
		if all[i].Size.Need == all[few].Size.Need {
			same = append(same, all[i].Letter)
		} else {
			rest = append(rest, strconv.Itoa(all[i].Size.Need)+" of "+all[i].Letter)
		}
	}
	t := size + " takes " + modulesText(all[few].Size.Need) + " of " + wordList(same, "or")
	if len(rest) > 0 {
		t += "; " + andList(rest)
	}
	return t + "." + shortClause(all, short) + shadeClause(all, fit)
}

// shortClause names the candidates that the roof cannot hold enough of.
func shortClause(all []project.CandidateResult, short []int) string {
	var parts []string
	for _, i := range short {
		c := all[i]
		parts = append(parts, c.Letter+" ("+strconv.Itoa(c.Fill.Count)+" of "+strconv.Itoa(c.Size.Need)+")")
	}
	if len(parts) == 0 {
		return ""
	}
	return " The roof does not hold enough of " + andList(parts) + "."
}

func noneReaches(size string, all []project.CandidateResult, u units) string {
	top, _ := leaders(all)
	first := all[top[0]]
	if first.Fill.Count == 0 {
		return "No module fits on the roof as it is drawn."
	}
	verb := " comes nearest with "
	if len(top) > 1 {
		verb = " come nearest with "
	}
	return "No option reaches " + size + " on this roof; " + andList(letters(all, top)) + verb +
		kwText(first.Fill.PdcW) + " " + u.power + "." + shadeClause(all, top)
}
