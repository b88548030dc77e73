package structural

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
)

// MaxCantileverShare is the most that a rail may reach past its last attachment,
// as a share of the distance between attachments (common practice, no source).
// An even load then bends it less there (0.4 x 0.4 / 2 = 0.08 of load x
// distance2) than between two attachments (0.125).
const MaxCantileverShare = 0.4

// Mounting is how modules are held. [DefaultMounting] gives the defaults; every
// figure must be in its range.
type Mounting struct {
	// SpanM is the greatest distance between attachments that the rail maker
	// allows here, 0.2 to 5 m. It has no default that is safe everywhere.
	SpanM float64 `json:"span_m"`
	// CantileverShare is 0 to 0.4 of the distance between attachments.
	CantileverShare float64 `json:"cantilever_share"`
	// StickM is the length that rails are sold in, 0.5 to 12 m.
	StickM float64 `json:"stick_m"`
	// EndM is how far a rail reaches past the modules for the end clamp, 0 to
	// 0.5 m.
	EndM float64 `json:"end_m"`
	// GapM is the clear distance between two modules that a mid clamp holds, 0
	// to 0.1 m: that of the layout.
	GapM float64 `json:"gap_m"`
	// ClampInset is where the two rails lie under a module: so much of its side
	// in from either end, 0.05 to 0.45. The datasheet gives the allowed zone.
	ClampInset float64 `json:"clamp_inset"`
	// Rails is the direction; only AlongEave can be laid.
	Rails RailDirection `json:"rails"`
}

// DefaultMounting returns the defaults for a span and the layout's gap: rails
// along the eave a quarter of the side in, sticks of 4.2 m, 50 mm for the end
// clamp, cantilever 0.4 (all common practice, no source).
func DefaultMounting(spanM, gapM float64) Mounting {
	return Mounting{SpanM: spanM, CantileverShare: MaxCantileverShare, StickM: 4.2, EndM: 0.05, GapM: gapM, ClampInset: 0.25, Rails: AlongEave}
}

// Check returns an [*InputError] for the first figure out of range.
func (m Mounting) Check() error {
	switch m.Rails {
	case AlongEave:
	case UpSlope:
		return bad("rails", "is %q; such rails lie along the rafters and do not cross them: they need a lower layer of rails, which is not worked out here", m.Rails)
	default:
		return bad("rails", "is %q; it must be %q", m.Rails, AlongEave)
	}
	return checkSpans(
		span{"span_m", m.SpanM, 0.2, 5, "m"}, span{"cantilever_share", m.CantileverShare, 0, MaxCantileverShare, ""},
		span{"stick_m", m.StickM, 0.5, 12, "m"}, span{"end_m", m.EndM, 0, 0.5, "m"}, span{"gap_m", m.GapM, 0, 0.1, "m"},
		span{"clamp_inset", m.ClampInset, 0.05, 0.45, ""})
}

// RailPlane is one roof plane whose modules get rails.
type RailPlane struct {
	ID string
	// Modules lie in the plane's frame.
	Modules []Rect
	// RafterSpacingM is the distance between rafter centres, 0.2 to 2 m. Rafters
	// run up the slope.
	RafterSpacingM float64
	// RafterU is where one rafter's centre lies along the eave, metres in the
	// plane's frame; nil for not measured: 0 is then assumed, and said.
	RafterU *float64
}

// RailRequest asks for rails under modules.
type RailRequest struct {
	// LengthM and WidthM are the module's sides, as in [ModuleBuild].
	LengthM, WidthM float64
	Mounting        Mounting
	Planes          []RailPlane
}

// RailPlan is the answer of [LayRails].
type RailPlan struct {
	// Caution is the text [Caution].
	Caution string `json:"caution"`
	// Planes follow the request; Total is their sum, line by line.
	Planes   []PlaneRails `json:"planes"`
	Total    []BillLine   `json:"total"`
	Findings []Finding    `json:"findings"`
}

// PlaneRails is the rails of one plane.
type PlaneRails struct {
	ID   string    `json:"id"`
	Runs []RailRun `json:"runs"`
	// StepM is the distance between attachments: the largest multiple of the
	// rafter spacing within the span. CantileverM is the most past the last one.
	StepM       float64 `json:"step_m"`
	CantileverM float64 `json:"cantilever_m"`
	// RailM is the length of all rails, Attachments their number.
	RailM       float64    `json:"rail_m"`
	Attachments int        `json:"attachments"`
	Figures     []Figure   `json:"figures"`
	Bill        []BillLine `json:"bill"`
}

// RailRun is modules of one turn side by side on two rails along the eave.
type RailRun struct {
	// Number counts from 1 in the plane, upwards and along the eave.
	Number int `json:"number"`
	// Modules are their indices, along the eave.
	Modules []int `json:"modules"`
	// Turn is how they lie and Clamps which edges the clamps hold.
	Turn   Turn      `json:"turn"`
	Clamps ClampEdge `json:"clamps"`
	// FromUM and ToUM are the ends of both rails, RailVM their places up the
	// slope, in the plane's frame, metres.
	FromUM float64    `json:"from_u_m"`
	ToUM   float64    `json:"to_u_m"`
	RailVM [2]float64 `json:"rail_v_m"`
	// AttachUM are the places of the attachments of each rail.
	AttachUM []float64 `json:"attach_u_m"`
	// ExtendedM is how much longer than modules and end clamps each rail is, to
	// reach a rafter; 0 mostly.
	ExtendedM float64 `json:"extended_m"`
	// SpliceUM are the places of the splices of each rail: whole sticks are laid
	// from the left end on, the rest lies at the right end. Splices is their number.
	SpliceUM []float64 `json:"splice_u_m"`
	Splices  int       `json:"splices"`
	// MidClamps and EndClamps are those of the run.
	MidClamps int `json:"mid_clamps"`
	EndClamps int `json:"end_clamps"`
}

// LengthM is the length of each of the run's two rails.
func (r RailRun) LengthM() float64 { return r.ToUM - r.FromUM }

// railsPerRun is how many rails carry a run.
const railsPerRun = 2

// LayRails finds the rail runs of each plane and puts two rails under each,
// attachments on the rafters. Its rules:
//
//  1. A run is modules of one turn in one row, each at the mid clamp's gap from
//     the one before, within 1 mm.
//  2. Attachments lie on rafters, no further apart than the largest multiple of
//     the rafter spacing within the span; both rails of a run alike.
//  3. A rail reaches at most the cantilever past its last attachment and has two
//     at least. Where no rafter lies so, the rail is made longer to the next
//     one, which a finding says.
//
// A span below the rafter spacing, a stick shorter than the distance between
// attachments and values out of range give an [*InputError].
func LayRails(r RailRequest) (RailPlan, error) {
	if err := r.check(); err != nil {
		return RailPlan{}, err
	}
	out := RailPlan{Caution: Caution, Planes: []PlaneRails{}, Findings: []Finding{}, Total: []BillLine{}}
	var bills [][]BillLine
	for _, p := range r.Planes {
		rails, err := r.plane(p)
		if err != nil {
			return RailPlan{}, fmt.Errorf("plane %s: %w", p.ID, err)
		}
		out.Planes = append(out.Planes, rails)
		bills = append(bills, rails.Bill)
	}
	out.Findings = append(r.assumedRafters(), longerRails(out.Planes)...)
	out.Total = SumBills(bills...)
	out.Findings = append(out.Findings, Finding{Note, "rail_parts",
		"Splices, clamps and attachments follow the makers' instructions, which may ask for more. Bonding parts are not counted: they belong to the listing of the rail."})
	return out, nil
}

// BareRuns are the rail runs of each plane where the span is not known yet: rails
// from end clamp to end clamp, without attachments and splices. Of the mounting
// only EndM, GapM, ClampInset and Rails matter. Values out of range give an
// [*InputError].
func BareRuns(r RailRequest) ([][]RailRun, error) {
	// Any sound span does: nothing is attached.
	r.Mounting.SpanM, r.Mounting.StickM, r.Mounting.CantileverShare = 1, 1, 0
	if err := r.check(); err != nil {
		return nil, err
	}
	m := r.Mounting
	out := make([][]RailRun, len(r.Planes))
	for i, p := range r.Planes {
		turns, err := checkRects(p.Modules, r.LengthM, r.WidthM)
		if err != nil {
			return nil, fmt.Errorf("plane %s: %w", p.ID, err)
		}
		for n, modules := range runsOf(p.Modules, m.GapM) {
			run := m.bareRun(p.Modules, modules, turns[modules[0]])
			run.Number = n + 1
			out[i] = append(out[i], run)
		}
	}
	return out, nil
}

// check tests the parts of a request that all planes share.
func (r RailRequest) check() error {
	if err := r.Mounting.Check(); err != nil {
		return err
	}
	if err := checkSpans(span{"length_m", r.LengthM, 0.1, 5, "m"}, span{"width_m", r.WidthM, 0.1, r.LengthM, "m"}); err != nil {
		return err
	}
	if len(r.Planes) > maxPlanes {
		return bad("planes", "are %d; there may be 0 to %d", len(r.Planes), maxPlanes)
	}
	count := 0
	for _, p := range r.Planes {
		if count += len(p.Modules); count > maxModules {
			return bad("modules", "are more than %d", maxModules)
		}
	}
	return nil
}

// AttachmentStepM is the distance between attachments: the largest multiple of
// the rafter spacing, 0.2 to 2 m, that is no more than the span, 0.2 to 5 m. A
// span below the spacing gives an [*InputError], as do values out of range.
func AttachmentStepM(spanM, rafterSpacingM float64) (float64, error) {
	if err := checkSpans(span{"span_m", spanM, 0.2, 5, "m"}, span{"rafter_spacing_m", rafterSpacingM, 0.2, 2, "m"}); err != nil {
		return 0, err
	}
	n := math.Floor(spanM * (1 + roundSlack) / rafterSpacingM)
	if n < 1 {
		return 0, bad("span_m", "is %g, less than the rafter spacing %g m: the rail cannot reach from rafter to rafter; it takes a stronger rail, or blocking between rafters by an engineer", spanM, rafterSpacingM)
	}
	return n * rafterSpacingM, nil
}

// plane lays the rails of one plane.
func (r RailRequest) plane(p RailPlane) (PlaneRails, error) {
	m := r.Mounting
	turns, err := checkRects(p.Modules, r.LengthM, r.WidthM)
	if err != nil {
		return PlaneRails{}, err
	}
	step, err := AttachmentStepM(m.SpanM, p.RafterSpacingM)
	if err != nil {
		return PlaneRails{}, err
	}
	if m.StickM < step*(1-roundSlack) {
		return PlaneRails{}, bad("stick_m", "is %g; it must be at least the distance between attachments, %g m, so that no piece hangs between two of them", m.StickM, step)
	}
	phase := 0.0
	if p.RafterU != nil {
		phase = *p.RafterU
		if err := checkSpans(span{"rafter_u_m", phase, -1e4, 1e4, "m"}); err != nil {
			return PlaneRails{}, err
		}
	}
	out := PlaneRails{ID: p.ID, Runs: []RailRun{}, StepM: step, CantileverM: float64(m.CantileverShare * step)}
	rafters := rafterLine{phase, p.RafterSpacingM, step, out.CantileverM}
	for _, modules := range runsOf(p.Modules, m.GapM) {
		run := m.run(p.Modules, modules, turns[modules[0]], rafters)
		run.Number = len(out.Runs) + 1
		out.RailM += float64(railsPerRun * run.LengthM())
		out.Attachments += railsPerRun * len(run.AttachUM)
		out.Runs = append(out.Runs, run)
	}
	out.Figures = r.railFigures(out, p)
	out.Bill = out.bill(len(p.Modules), m.StickM)
	return out, nil
}

// assumedRafters says once where no rafter has been measured under modules.
func (r RailRequest) assumedRafters() []Finding {
	var planes, every []string
	for _, p := range r.Planes {
		if p.RafterU != nil || len(p.Modules) == 0 {
			continue
		}
		planes = append(planes, p.ID)
		if m := num(p.RafterSpacingM) + " m"; !slices.Contains(every, m) {
			every = append(every, m)
		}
	}
	if len(planes) == 0 {
		return []Finding{}
	}
	text := "No rafter has been measured on " + strings.Join(planes, ", ") + ": one is assumed at the start of each eave, the next every " + strings.Join(every, " or ")
	if len(every) > 1 {
		text += " as typed for the plane"
	}
	return []Finding{{Warning, "rafters_assumed", text + ". Attachments may move, and their number change by one a rail."}}
}

// longerRails says of each plane which rails are made longer, and by how much at
// most.
func longerRails(planes []PlaneRails) []Finding {
	var out []Finding
	for _, p := range planes {
		var runs []string
		mostM := 0.0
		for _, run := range p.Runs {
			if run.ExtendedM > 0 {
				runs = append(runs, fmt.Sprint(run.Number))
				mostM = max(mostM, run.ExtendedM)
			}
		}
		word, upTo := "run", ""
		if len(runs) > 1 {
			word, upTo = "runs", "up to "
		}
		if len(runs) > 0 {
			out = append(out, Finding{Warning, "rail_extended", fmt.Sprintf(
				"Plane %s, %s %s: each rail is %s%s m longer than its modules need, to reach a rafter. See that there is room, or move the run along the eave.",
				p.ID, word, strings.Join(runs, ", "), upTo, num(mostM))})
		}
	}
	return out
}

// runsOf lists the runs upwards and along the eave, each as indices along the
// eave.
func runsOf(modules []Rect, gapM float64) [][]int {
	order := make([]int, len(modules))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(modules[a].VM, modules[b].VM), cmp.Compare(modules[a].UM, modules[b].UM), cmp.Compare(a, b))
	})
	// Modules of one row may differ by a tolerance in their height.
	for i := 0; i < len(order); {
		end := i + 1
		for end < len(order) && near(modules[order[i]].VM, modules[order[end]].VM) {
			end++
		}
		slices.SortFunc(order[i:end], func(a, b int) int {
			return cmp.Or(cmp.Compare(modules[a].UM, modules[b].UM), cmp.Compare(a, b))
		})
		i = end
	}
	var runs [][]int
	for i, at := range order {
		if i > 0 {
			m, before := modules[at], modules[order[i-1]]
			if near(before.VM, m.VM) && near(before.WM, m.WM) && near(before.UM+before.WM+gapM, m.UM) {
				runs[len(runs)-1] = append(runs[len(runs)-1], at)
				continue
			}
		}
		runs = append(runs, []int{at})
	}
	return runs
}

// run lays the two rails of one run.
func (m Mounting) run(all []Rect, modules []int, turn Turn, rafters rafterLine) RailRun {
	run := m.bareRun(all, modules, turn)
	from, to := run.FromUM, run.ToUM
	a := rafters.attach(from, to)
	run.FromUM, run.ToUM, run.AttachUM = a.fromM, a.toM, a.atM
	if extended := run.LengthM() - (to - from); extended > roundSlack {
		run.ExtendedM = extended
	}
	run.Splices = sticks(run.LengthM(), m.StickM) - 1
	run.SpliceUM = make([]float64, run.Splices)
	for i := range run.SpliceUM {
		run.SpliceUM[i] = run.FromUM + float64(float64(i+1)*m.StickM)
	}
	return run
}

// bareRun is a run on rails from end clamp to end clamp.
func (m Mounting) bareRun(all []Rect, modules []int, turn Turn) RailRun {
	first, last := all[modules[0]], all[modules[len(modules)-1]]
	inset := float64(m.ClampInset * first.HM)
	return RailRun{
		Modules: modules, Turn: turn, Clamps: ClampsAt(turn, m.Rails), FromUM: first.UM - m.EndM, ToUM: last.UM + last.WM + m.EndM,
		RailVM: [2]float64{first.VM + inset, first.VM + first.HM - inset}, AttachUM: []float64{}, SpliceUM: []float64{},
		MidClamps: railsPerRun * (len(modules) - 1), EndClamps: railsPerRun * 2,
	}
}

// sticks is how many sticks reach a length.
func sticks(lengthM, stickM float64) int {
	return max(1, int(math.Ceil(lengthM*(1-roundSlack)/stickM)))
}

// railFigures shows how a plane's attachments were found.
func (r RailRequest) railFigures(p PlaneRails, in RailPlane) []Figure {
	const practice = "common practice, no source"
	m := r.Mounting
	return []Figure{
		{"rails", "Rails", "along the eave, across the rafters, two to a run",
			fmt.Sprintf("%d runs: %d rails, %s m", len(p.Runs), railsPerRun*len(p.Runs), num(p.RailM)), p.RailM, "m", practice},
		{"attachment_step", "Distance between attachments", "largest multiple of the rafter spacing within the span",
			num(math.Round(p.StepM/in.RafterSpacingM)) + " x " + num(in.RafterSpacingM) + " m = " + num(p.StepM) + " m <= " + num(m.SpanM) + " m", p.StepM, "m",
			"span by the rail maker, as typed"},
		{"cantilever", "Most past the last attachment", "share x distance between attachments",
			num(m.CantileverShare) + " x " + num(p.StepM) + " m = " + num(p.CantileverM) + " m", p.CantileverM, "m", practice},
	}
}
