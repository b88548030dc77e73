package web

import (
	"testing"

	"rooftally/project"
)

func TestTidyText(t *testing.T) {
	for want, tidy := range map[string]project.Tidiness{
		"":                                     {},
		"1 rail run, 1 block, one orientation": {RailRuns: 1, Blocks: 1, Turns: 1},
		"9 rail runs, 3 blocks, two orientations": {RailRuns: 9, Blocks: 3, Turns: 2},
	} {
		if got := tidyText(tidy); got != want {
			t.Errorf("%+v is %q, want %q", tidy, got, want)
		}
	}
}

func TestOfferText(t *testing.T) {
	for _, c := range []struct {
		offer project.OfferResult
		turns int
		want  string
	}{
		{project.OfferResult{More: 2, RailRuns: 3, Turns: 1}, 1, "+2 modules, 3 more rail runs"},
		{project.OfferResult{More: 1, RailRuns: 1, Turns: 2}, 1, "+1 module, 1 more rail run, two orientations"},
		{project.OfferResult{More: 1, RailRuns: -1, Turns: 2}, 2, "+1 module, 1 fewer rail run"},
		{project.OfferResult{More: 3, Turns: 1}, 2, "+3 modules, as many rail runs"},
	} {
		if got := offerText(c.offer, c.turns); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}

func TestRefusedText(t *testing.T) {
	doc := gableDoc()
	for _, c := range []struct{ why, with, want string }{
		{"outside", "", "beyond the edge of the plane"},
		{"setback", "", "within a setback"},
		{"path", "", "within an access path"},
		{"keep_out", "chimney", "on K1 Chimney or its clearance"},
		{"keep_out", "", "on a keep-out or its clearance"},
		{"shade_off_limits", "tree", "on K3 Shade of the tree, which is off limits"},
		{"shade_off_limits", "", "on shade, which is off limits"},
		{"end", "", "no room for clamp and rail at its end"},
		{"limit", "", "over the module limit of the plane"},
		{"overlap", "0", "on or too close to module 1"},
		{"overlap", "", "on or too close to another module"},
	} {
		if got := refusedText(doc, project.RefusedModule{Why: c.why, With: c.with}); got != c.want {
			t.Errorf("%s with %q: %q, want %q", c.why, c.with, got, c.want)
		}
	}
}

func TestHandAndTurnOfAPlane(t *testing.T) {
	tall, wide := project.Module{Turn: "portrait", Locked: true}, project.Module{Turn: "landscape"}
	plane := project.Plane{Turn: "either"}
	for _, c := range []struct {
		by         project.PlaneLayoutResult
		hand, turn string
	}{
		{project.PlaneLayoutResult{}, "", "either way"},
		{project.PlaneLayoutResult{Modules: []project.Module{tall, tall}}, "", "portrait"},
		{project.PlaneLayoutResult{Hand: "by_hand", Modules: []project.Module{wide}}, "placed by hand", "landscape"},
		{project.PlaneLayoutResult{Hand: "around", Modules: []project.Module{tall, wide, tall}}, "around 2 locked modules", "both"},
	} {
		if hand, turn := handText(c.by), turnUsed(plane, c.by); hand != c.hand || turn != c.turn {
			t.Errorf("%+v is %q and lies %q, want %q and %q", c.by, hand, turn, c.hand, c.turn)
		}
	}
}

func TestValueText(t *testing.T) {
	size := project.SizeResult{Value: 36.24, ValueBound: 37, ValueWords: "distance from shade, m"}
	if got, want := valueText(&size), "The places taken are worth 36.2 together, no choice of as many is worth more than 37. Worth is counted in distance from shade, m."; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	size.ValueProved = true
	if got, want := valueText(&size), "The places taken are worth 36.2 together, proved the highest for as many. Worth is counted in distance from shade, m."; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got := valueText(nil) + valueText(&project.SizeResult{}); got != "" {
		t.Errorf("said %q of no value", got)
	}
}

func TestGrouped(t *testing.T) {
	for v, want := range map[float64]string{0: "0", 999.96: "1\u202f000", 36.24: "36.2", 136500: "136\u202f500", -1234567.8: "-1\u202f234\u202f567.8", -123: "-123"} {
		if got := grouped(v); got != want {
			t.Errorf("%v is %q, want %q", v, got, want)
		}
	}
}
