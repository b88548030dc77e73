//go:build !js

package project

import (
	"fmt"

	"rooftally/electrical"
)

// several says whether more inverters of the chosen type would take what one
// leaves out. The plan itself is always of one.
func (b builder) several(c electrical.Conditions, wires int) []electrical.Finding {
	s, err := electrical.PlanSeveral(b.request(c))
	if err != nil || s.Tried == 0 || wires == 0 {
		return nil
	}
	all := plural(b.lay.Count, "module")
	say := func(format string, args ...any) []electrical.Finding {
		return []electrical.Finding{{Level: electrical.Note, Code: "several_inverters", Message: fmt.Sprintf(format, args...)}}
	}
	n := len(s.Takes)
	if n == 0 {
		return say("One of this inverter takes %d of %s, and up to %d of the same, as far as was tried, do not take all.", wires, all, s.Tried)
	}
	counts := make([]string, n)
	for i, k := range s.Takes {
		counts[i] = fmt.Sprint(k)
	}
	ac := b.connection(n, b.doc.Wiring.Inverter.ACCurrentA, b.doc.Wiring.Inverter.Phases)
	text := fmt.Sprintf("One of this inverter takes %d of %s; %d of the same would take all (%s). This plan, its parts and its cost are for one. %d give %.4g A on the AC side",
		wires, all, n, andList(counts), n, ac.CurrentA)
	for _, f := range ac.Findings {
		if f.Level == electrical.Error {
			return say("%s, and there: %s", text, f.Message)
		}
	}
	if ac.Why != "" {
		return say("%s, which is not checked.", text)
	}
	return say("%s, which the connection allows.", text)
}
