package structural

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rooftally/layout"
)

// at returns a pointer to a rafter's place.
func at(u float64) *float64 { return &u }

// railRequest is a sound one: a row of six portrait modules, rafters at 0.6 m,
// span 1.8 m.
func railRequest(edit func(*RailRequest)) RailRequest {
	r := RailRequest{
		LengthM: 1.7, WidthM: 1, Mounting: DefaultMounting(1.8, 0.02),
		Planes: []RailPlane{{ID: "south", Modules: grid(6, 1, 1, 0.5, 1, 1.7, 0.02), RafterSpacingM: 0.6, RafterU: at(0)}},
	}
	if edit != nil {
		edit(&r)
	}
	return r
}

func mustLay(t testing.TB, r RailRequest) RailPlan {
	t.Helper()
	out, err := LayRails(r)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// The largest multiple of the rafter spacing within the span; arithmetic.
func TestAttachmentStep(t *testing.T) {
	for _, c := range []struct{ span, spacing, want float64 }{
		{1.8, 0.6, 1.8}, {1.79, 0.6, 1.2}, {1.2, 0.4, 1.2}, {0.6, 0.6, 0.6}, {1.8288, 0.4064, 1.6256}, {5, 0.2, 5}, {1.2, 0.61, 0.61},
	} {
		got, err := AttachmentStepM(c.span, c.spacing)
		if err != nil {
			t.Error(err)
		}
		within(t, "step", got, c.want, 1e-12)
	}
	for _, c := range []struct {
		span, spacing float64
		field, words  string
	}{
		{1, 1.2, "span_m", "cannot reach from rafter to rafter"}, {5.1, 0.6, "span_m", "0.2 to 5"},
		{1.2, 0.1, "rafter_spacing_m", "0.2 to 2"}, {1.2, math.NaN(), "rafter_spacing_m", "0.2 to 2"},
	} {
		_, err := AttachmentStepM(c.span, c.spacing)
		refuses(t, "step", err, c.field)
		if err != nil && !strings.Contains(err.Error(), c.words) {
			t.Errorf("%v does not say %q", err, c.words)
		}
	}
}

// By hand: rail 0.95 to 7.15 m, rafters 1.2, 1.8, ... 6.6. Cantilever 0.72:
// the first attachment at 1.2 (1.8 is 0.85 in), then every 1.8: 3.0, 4.8, 6.6,
// which leaves 0.55.
func TestRailsOfOneRow(t *testing.T) {
	out := mustLay(t, railRequest(nil))
	p := out.Planes[0]
	if len(p.Runs) != 1 {
		t.Fatalf("%+v", p)
	}
	r := p.Runs[0]
	within(t, "from", r.FromUM, 0.95, 1e-12)
	within(t, "to", r.ToUM, 7.15, 1e-12)
	within(t, "lower rail", r.RailVM[0], 0.5+0.25*1.7, 1e-12)
	within(t, "upper rail", r.RailVM[1], 0.5+0.75*1.7, 1e-12)
	if len(r.AttachUM) != 4 {
		t.Fatalf("attachments %v", r.AttachUM)
	}
	for i, want := range []float64{1.2, 3, 4.8, 6.6} {
		within(t, "attachment", r.AttachUM[i], want, 1e-9)
	}
	if r.ExtendedM != 0 || r.Turn != Portrait || r.Clamps != LongEdge || !slices.Equal(r.Modules, []int{0, 1, 2, 3, 4, 5}) {
		t.Errorf("%+v", r)
	}
	// 6.2 m is two sticks of 4.2 m: one splice; the rests of 2 m share a stick.
	want := []BillLine{
		{"module", "Modules", 6, "piece", 0}, {"rail_stick", "Rails, 4.2 m sticks", 3, "piece", 4.2}, {"splice", "Rail splices", 2, "piece", 0},
		{"mid_clamp", "Mid clamps", 10, "piece", 0}, {"end_clamp", "End clamps", 4, "piece", 0}, {"attachment", "Attachments", 8, "piece", 0},
	}
	if !slices.Equal(p.Bill, want) || !slices.Equal(out.Total, want) {
		t.Errorf("%+v", p.Bill)
	}
	if len(r.SpliceUM) != 1 || math.Abs(r.SpliceUM[0]-(0.95+4.2)) > 1e-9 {
		t.Errorf("splices at %v, want one at 5.15", r.SpliceUM)
	}
	within(t, "rail", p.RailM, 12.4, 1e-9)
	within(t, "step", figure(t, p.Figures, "attachment_step").Value, 1.8, 1e-12)
	within(t, "cantilever", figure(t, p.Figures, "cantilever").Value, 0.72, 1e-12)
}

func TestRuns(t *testing.T) {
	for _, c := range []struct {
		name    string
		modules []Rect
		want    [][]int
	}{
		{"row", grid(3, 1, 0, 0, 1, 1.7, 0.02), [][]int{{0, 1, 2}}},
		{"two rows", grid(2, 2, 0, 0, 1, 1.7, 0.02), [][]int{{0, 1}, {2, 3}}},
		{"any order", []Rect{{2.04, 0, 1, 1.7}, {0, 0, 1, 1.7}, {1.02, 0, 1, 1.7}}, [][]int{{1, 2, 0}}},
		{"another turn beside", []Rect{{0, 0, 1, 1.7}, {1.02, 0, 1.7, 1}}, [][]int{{0}, {1}}},
		{"a wider gap", []Rect{{0, 0, 1, 1.7}, {1.05, 0, 1, 1.7}}, [][]int{{0}, {1}}},
		{"a gap a hair off", []Rect{{0, 0, 1, 1.7}, {1.0209, 0.0009, 1, 1.7}}, [][]int{{0, 1}}},
		{"a step up", []Rect{{0, 0, 1, 1.7}, {1.02, 0.01, 1, 1.7}}, [][]int{{0}, {1}}},
	} {
		if got := runsOf(c.modules, 0.02); !slices.EqualFunc(got, c.want, func(a, b []int) bool { return slices.Equal(a, b) }) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// The layout counts rail runs too: both must agree on whatever it packs.
func TestRunsAgreeWithTheLayout(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spec := layout.Spec{WidthM: 1, HeightM: 1.7, GapUM: 0.02, GapVM: 0.02}
		var rects []Rect
		var packed []layout.Rect
		v := 0.0
		for range rapid.IntRange(0, 5).Draw(t, "rows") {
			u := rapid.Float64Range(0, 3).Draw(t, "u")
			w, h := 1.0, 1.7
			if rapid.Bool().Draw(t, "landscape") {
				w, h = h, w
			}
			for range rapid.IntRange(0, 6).Draw(t, "modules") {
				rects = append(rects, Rect{u, v, w, h})
				packed = append(packed, layout.Rect{UM: u, VM: v, WM: w, HM: h})
				u += w + rapid.SampledFrom([]float64{0.02, 0.02, 0.02, 0.5}).Draw(t, "gap")
			}
			v += h + 0.02
		}
		if got, want := len(runsOf(rects, 0.02)), layout.TidinessOf(packed, spec).RailRuns; got != want {
			t.Fatalf("%d runs, the layout counts %d", got, want)
		}
	})
}

func TestAttachmentsInTightPlaces(t *testing.T) {
	for _, c := range []struct {
		name     string
		u, phase float64
		n        int
		span     float64
		share    float64
		want     []float64
		extended float64
	}{
		// Rail 0.95 to 2.05; rafters 1.2 and 1.8; step 0.6, cantilever 0.24: 1.2 is
		// 0.25 in, so that the rail is made longer to 0.6.
		{"longer on the left", 1, 0, 1, 0.6, 0.4, []float64{0.6, 1.2, 1.8, 2.4}, 0.4 + 0.4},
		{"one module on two rafters", 1, 0, 1, 1.8, 0.4, []float64{1.2, 1.8}, 0},
		// Rail -0.25 to 0.85 with one at 0 and 0.6, cantilever 0.24 each end: 0.25 too much.
		{"just too far at both ends", -0.2, 0, 1, 0.6, 0.4, []float64{-0.6, 0, 0.6, 1.2}, 0.4 + 0.4},
		{"no cantilever", 1.05, 0.4, 2, 0.6, 0, []float64{1, 1.6, 2.2, 2.8, 3.4}, 0.28},
		{"rafters further apart than the rail is long", 1, 0.9, 1, 2, 0.4, []float64{0.9, 2.7}, 0.1 + 0.7},
	} {
		t.Run(c.name, func(t *testing.T) {
			out := mustLay(t, railRequest(func(r *RailRequest) {
				r.Planes[0].Modules = grid(c.n, 1, c.u, 0, 1, 1.7, 0.02)
				r.Planes[0].RafterU = at(c.phase)
				r.Mounting.SpanM, r.Mounting.CantileverShare = c.span, c.share
				if strings.HasPrefix(c.name, "rafters further") {
					r.Planes[0].RafterSpacingM = 1.8
				}
			}))
			run := out.Planes[0].Runs[0]
			if !slices.EqualFunc(run.AttachUM, c.want, func(a, b float64) bool { return math.Abs(a-b) < 1e-9 }) {
				t.Errorf("attachments %v, want %v (%g to %g)", run.AttachUM, c.want, run.FromUM, run.ToUM)
			}
			within(t, "extended", run.ExtendedM, c.extended, 1e-9)
			said := slices.ContainsFunc(out.Findings, func(f Finding) bool { return f.Code == "rail_extended" })
			if said != (c.extended > 0) {
				t.Errorf("findings %+v", out.Findings)
			}
		})
	}
}

// One finding names all planes whose rafters are assumed, and every spacing.
func TestUnmeasuredRaftersAreSaid(t *testing.T) {
	out := mustLay(t, railRequest(func(r *RailRequest) {
		r.Planes[0].RafterU = nil
		r.Planes = append(r.Planes, RailPlane{ID: "empty", RafterSpacingM: 0.5})
		for _, id := range []string{"east", "west"} {
			p := r.Planes[0]
			p.ID, p.RafterSpacingM = id, 0.8
			r.Planes = append(r.Planes, p)
		}
	}))
	said := slices.DeleteFunc(out.Findings, func(f Finding) bool { return f.Code != "rafters_assumed" })
	if len(said) != 1 || said[0].Level != Warning || !strings.HasPrefix(said[0].Message,
		"No rafter has been measured on south, east, west: one is assumed at the start of each eave, the next every 0.6 m or 0.8 m as typed for the plane.") {
		t.Errorf("%+v", said)
	}
}

// Two runs of one plane whose rails are made longer are one finding.
func TestLongerRailsAreSaidOnce(t *testing.T) {
	out := mustLay(t, railRequest(func(r *RailRequest) {
		r.Planes[0].Modules = append(grid(1, 1, 1, 0, 1, 1.7, 0.02), Rect{5.05, 3, 1, 1.7})
		r.Mounting.SpanM = 0.6
	}))
	said := slices.DeleteFunc(out.Findings, func(f Finding) bool { return f.Code != "rail_extended" })
	runs := out.Planes[0].Runs
	if len(said) != 1 || len(runs) != 2 || runs[0].ExtendedM <= 0 || runs[1].ExtendedM <= 0 ||
		!strings.HasPrefix(said[0].Message, "Plane south, runs 1, 2: each rail is up to 0.8 m longer") {
		t.Errorf("%+v, runs %+v", said, runs)
	}
}

// Without a span the runs are those of the plan, on rails from clamp to clamp.
func TestBareRuns(t *testing.T) {
	r := railRequest(func(r *RailRequest) { r.Planes = append(r.Planes, RailPlane{ID: "empty"}) })
	r.Mounting.SpanM = 0
	runs, err := BareRuns(r)
	if err != nil || len(runs) != 2 || len(runs[0]) != 1 || len(runs[1]) != 0 {
		t.Fatalf("%+v, %v", runs, err)
	}
	run := runs[0][0]
	if run.Number != 1 || !near(run.FromUM, 0.95) || !near(run.ToUM, 7.15) || len(run.AttachUM) != 0 || run.Splices != 0 || len(run.Modules) != 6 {
		t.Errorf("%+v", run)
	}
	r.Mounting.Rails = UpSlope
	_, err = BareRuns(r)
	refuses(t, "up the slope", err, "rails")
	r.Mounting.Rails = AlongEave
	r.Planes[0].Modules[0].WM = 3
	_, err = BareRuns(r)
	refuses(t, "module", err, "modules")
}

// First fit, longest first: rests of 3, 2, 2 and 1 m fill two sticks of 4 m.
func TestSticks(t *testing.T) {
	for _, c := range []struct {
		rails []float64
		stick float64
		want  int
	}{
		{nil, 4, 0}, {[]float64{4}, 4, 1}, {[]float64{4.01}, 4, 2}, {[]float64{3, 2, 2, 1}, 4, 2}, {[]float64{7, 7}, 4, 4}, {[]float64{6, 6}, 4, 3},
		{[]float64{0.1 + 0.2, 0.3}, 0.3, 2},
	} {
		if got := SticksFor(c.rails, c.stick); got != c.want {
			t.Errorf("%v of %g m: %d, want %d", c.rails, c.stick, got, c.want)
		}
	}
}

func TestBillOfTwoPlanes(t *testing.T) {
	out := mustLay(t, railRequest(func(r *RailRequest) {
		r.Planes = append(r.Planes, RailPlane{ID: "north", Modules: grid(1, 1, 1, 0, 1.7, 1, 0), RafterSpacingM: 0.6, RafterU: at(0)}, RailPlane{ID: "empty", RafterSpacingM: 0.6})
	}))
	for _, line := range out.Total {
		sum := 0
		for _, p := range out.Planes {
			for _, l := range p.Bill {
				if l.Key == line.Key {
					sum += l.Quantity
				}
			}
		}
		if line.Quantity != sum || sum == 0 {
			t.Errorf("%+v, planes have %d", line, sum)
		}
	}
	north := out.Planes[1]
	if north.Runs[0].Turn != Landscape || north.Runs[0].Clamps != ShortEdge || len(north.Bill) != 4 {
		t.Errorf("%+v", north)
	}
	if e := out.Planes[2]; len(e.Runs) != 0 || len(e.Bill) != 0 {
		t.Errorf("%+v", e)
	}
	other := SumBills([]BillLine{{"rail_stick", "a", 1, "piece", 4}}, []BillLine{{"rail_stick", "b", 2, "piece", 3}})
	if len(other) != 2 {
		t.Errorf("sticks of two lengths are one line: %+v", other)
	}
}

func TestRailRequestRefuses(t *testing.T) {
	for _, c := range []struct {
		name  string
		edit  func(*RailRequest)
		field string
	}{
		{"up the slope", func(r *RailRequest) { r.Mounting.Rails = UpSlope }, "rails"},
		{"no direction", func(r *RailRequest) { r.Mounting.Rails = "" }, "rails"},
		{"span", func(r *RailRequest) { r.Mounting.SpanM = 0.1 }, "span_m"},
		{"span below rafters", func(r *RailRequest) { r.Mounting.SpanM = 0.5 }, "span_m"},
		{"cantilever", func(r *RailRequest) { r.Mounting.CantileverShare = 0.41 }, "cantilever_share"},
		{"stick", func(r *RailRequest) { r.Mounting.StickM = math.NaN() }, "stick_m"},
		{"stick below the step", func(r *RailRequest) { r.Mounting.StickM = 1.7 }, "stick_m"},
		{"end", func(r *RailRequest) { r.Mounting.EndM = -0.1 }, "end_m"},
		{"gap", func(r *RailRequest) { r.Mounting.GapM = 0.2 }, "gap_m"},
		{"inset", func(r *RailRequest) { r.Mounting.ClampInset = 0.5 }, "clamp_inset"},
		{"length", func(r *RailRequest) { r.LengthM = 6 }, "length_m"},
		{"rafter spacing", func(r *RailRequest) { r.Planes[0].RafterSpacingM = 0 }, "rafter_spacing_m"},
		{"rafter", func(r *RailRequest) { r.Planes[0].RafterU = at(math.Inf(1)) }, "rafter_u_m"},
		{"module", func(r *RailRequest) { r.Planes[0].Modules[0].WM = 3 }, "modules"},
		{"too many", func(r *RailRequest) { r.Planes[0].Modules = grid(2001, 1, 0, 0, 1, 1.7, 0) }, "modules"},
		{"too many planes", func(r *RailRequest) { r.Planes = make([]RailPlane, 201) }, "planes"},
	} {
		_, err := LayRails(railRequest(c.edit))
		refuses(t, c.name, err, c.field)
	}
}

// anyRails draws a sound request of one plane.
func anyRails(t *rapid.T) RailRequest {
	r := railRequest(nil)
	f := func(lo, hi float64, label string) float64 { return rapid.Float64Range(lo, hi).Draw(t, label) }
	spacing := f(0.2, 2, "spacing")
	r.Mounting.SpanM = f(spacing, 5, "span")
	r.Mounting.StickM = f(max(0.5, r.Mounting.SpanM), 12, "stick")
	r.Mounting.CantileverShare = f(0, 0.4, "share")
	r.Mounting.EndM = f(0, 0.5, "end")
	var modules []Rect
	for j := range rapid.IntRange(1, 3).Draw(t, "rows") {
		modules = append(modules, grid(rapid.IntRange(1, 12).Draw(t, "columns"), 1, f(-5, 5, "u"), 2*float64(j), 1, 1.7, 0.02)...)
	}
	r.Planes = []RailPlane{{ID: "p", Modules: modules, RafterSpacingM: spacing, RafterU: at(f(-3, 3, "rafter"))}}
	return r
}

// Attachments are never further apart than the span, lie on rafters and within
// the rail; the cantilever is never above its share, nor above 40 %; every
// module is in one run and held by its rails.
func TestRailsKeepTheirRules(t *testing.T) {
	const eps = 1e-6
	rapid.Check(t, func(t *rapid.T) {
		r := anyRails(t)
		out, err := LayRails(r)
		if err != nil {
			t.Fatal(err)
		}
		p, m, plane := out.Planes[0], r.Mounting, r.Planes[0]
		if p.StepM > m.SpanM+eps || p.StepM+plane.RafterSpacingM <= m.SpanM-eps || p.CantileverM > 0.4*m.SpanM+eps {
			t.Fatalf("step %g, cantilever %g of span %g", p.StepM, p.CantileverM, m.SpanM)
		}
		seen := make([]int, len(plane.Modules))
		attachments := 0
		for _, run := range p.Runs {
			attachments += 2 * len(run.AttachUM)
			last := len(run.AttachUM) - 1
			if last < 1 || run.AttachUM[0]-run.FromUM > p.CantileverM+eps || run.ToUM-run.AttachUM[last] > p.CantileverM+eps {
				t.Fatalf("cantilever of %+v; at most %g", run, p.CantileverM)
			}
			for i, u := range run.AttachUM {
				if k := (u - *plane.RafterU) / plane.RafterSpacingM; math.Abs(k-math.Round(k)) > eps || u < run.FromUM-eps || u > run.ToUM+eps {
					t.Fatalf("attachment %g is on no rafter or off its rail: %+v", u, run)
				}
				if i > 0 && (u-run.AttachUM[i-1] > m.SpanM+eps || u <= run.AttachUM[i-1]) {
					t.Fatalf("attachments %v with span %g", run.AttachUM, m.SpanM)
				}
			}
			if float64(run.Splices+1)*m.StickM < run.LengthM()-eps || run.MidClamps != 2*(len(run.Modules)-1) || run.EndClamps != 4 {
				t.Fatalf("%+v", run)
			}
			from := run.FromUM
			for _, u := range append(slices.Clone(run.SpliceUM), run.ToUM) {
				if u-from > m.StickM+eps || u <= from {
					t.Fatalf("a piece from %g to %g, sticks of %g: %+v", from, u, m.StickM, run)
				}
				from = u
			}
			if len(run.SpliceUM) != run.Splices {
				t.Fatalf("%d splices at %v", run.Splices, run.SpliceUM)
			}
			for _, i := range run.Modules {
				seen[i]++
				if q := plane.Modules[i]; q.UM < run.FromUM-eps || q.UM+q.WM > run.ToUM+eps || run.RailVM[0] < q.VM || run.RailVM[1] > q.VM+q.HM {
					t.Fatalf("module %d hangs off %+v", i, run)
				}
			}
		}
		if slices.ContainsFunc(seen, func(n int) bool { return n != 1 }) || attachments != p.Attachments {
			t.Fatalf("modules in runs: %v; %d attachments", seen, attachments)
		}
		if sticks := p.Bill[1]; sticks.Key != "rail_stick" || float64(sticks.Quantity)*m.StickM < p.RailM-eps {
			t.Fatalf("%+v for %g m", sticks, p.RailM)
		}
	})
}

// BenchmarkRails lays rails under 60 modules.
func BenchmarkRails(b *testing.B) {
	r := railRequest(func(r *RailRequest) { r.Planes[0].Modules = grid(12, 5, 1, 0.8, 1, 1.7, 0.02) })
	for b.Loop() {
		if _, err := LayRails(r); err != nil {
			b.Fatal(err)
		}
	}
}
