//go:build !js

package project

import (
	"fmt"
	"strings"
)

// CostResult is what a candidate costs by the prices that are given.
type CostResult struct {
	// Why says why there is no total, "" where there is one.
	Why string `json:"why"`
	// Currency is the document's, shown after amounts.
	Currency string `json:"currency"`
	// Lines are the costs that are known.
	Lines []CostLine `json:"lines"`
	// Total is their sum and PerKWdc that over the layout's kWdc; nil without a
	// price of the module.
	Total   *float64 `json:"total"`
	PerKWdc *float64 `json:"per_kwdc"`
	// Without says what Total leaves out because no price is given, "" for
	// nothing.
	Without string `json:"without"`
}

// CostLine is one cost.
type CostLine struct {
	Label    string  `json:"label"`
	Quantity int     `json:"quantity"`
	Price    float64 `json:"price"`
	Amount   float64 `json:"amount"`
}

// cost adds up a candidate's prices. A datasheet's price of 0 is not given.
func (b builder) cost(w WiringResult) CostResult {
	out := CostResult{Currency: b.doc.Cost.Currency, Lines: []CostLine{}}
	var without []string
	add := func(label string, n int, price float64) {
		switch {
		case n == 0:
		case price == 0:
			without = append(without, label)
		default:
			out.Lines = append(out.Lines, CostLine{label, n, price, float64(n) * price})
		}
	}
	module := 0.0
	if b.candidate.Datasheet != nil {
		module = b.candidate.Datasheet.Price
	}
	add("modules", b.lay.Count, module)
	switch g := b.doc.Wiring.gear(); {
	case w.Why != "":
		without = append(without, "inverter")
	case g.micro != nil:
		add("micro-inverters", w.Wires, g.micro.Price)
	case g.inverter != nil:
		add("inverter", 1, g.inverter.Price)
		if g.optimiser != nil {
			add("optimisers", w.Wires, g.optimiser.Price)
		}
	}
	for _, rest := range []struct {
		label string
		n     int
		price *float64
	}{{"other costs for each module", b.lay.Count, b.doc.Cost.RestPerModule}, {"other costs of the project", 1, b.doc.Cost.RestFixed}} {
		if rest.price == nil {
			without = append(without, rest.label)
		} else if rest.n > 0 {
			out.Lines = append(out.Lines, CostLine{rest.label, rest.n, *rest.price, float64(rest.n) * *rest.price})
		}
	}
	switch {
	case b.lay.Count == 0:
		out.Why = noModules
	case module == 0:
		out.Why = "The module has no price."
	default:
		out.total(b.lay.KWdc)
		if len(without) > 0 {
			out.Without = fmt.Sprintf("No price is given for: %s.", strings.Join(without, ", "))
		}
	}
	return out
}

// total sums the lines up.
func (out *CostResult) total(kwdc float64) {
	sum := 0.0
	for _, l := range out.Lines {
		sum += l.Amount
	}
	per := sum / kwdc
	out.Total, out.PerKWdc = &sum, &per
}
