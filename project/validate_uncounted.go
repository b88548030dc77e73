//go:build !js

package project

import "fmt"

// uncounted checks the parts of a document that no count depends on.
func (ps *Problems) uncounted(d Document) {
	for i, c := range d.Candidates {
		ps.datasheet(fmt.Sprintf("candidates[%d].datasheet", i), c)
	}
	ps.wiring(d.Wiring)
	ps.loads(d.Loads)
	ps.cost(d.Cost)
	ps.weather(d.Weather)
	ps.surroundings(d.Surroundings, d.KeepOuts)
	ps.yieldTerms(d.Yield)
}
