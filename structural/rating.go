package structural

// TestOverDesign is what a test value is divided by to give the design value it
// allows (gamma_m of IEC 61215-2 MQT 16).
const TestOverDesign = 1.5

// ClampEdge says which edges of a module its clamps hold.
type ClampEdge string

// The clamp positions.
const (
	LongEdge  ClampEdge = "long_edge"
	ShortEdge ClampEdge = "short_edge"
)

// RailDirection says how rails run.
type RailDirection string

// The directions. Rails along the eave cross the rafters, which run up the slope.
const (
	AlongEave RailDirection = "along_eave"
	UpSlope   RailDirection = "up_slope"
)

// ClampsAt returns the edges that two rails under a module reach: rails cross
// the edges that they clamp, so that rails along the eave hold a portrait module
// at its long edges and a landscape one at its short edges.
func ClampsAt(t Turn, d RailDirection) ClampEdge {
	if (t == Portrait) == (d == AlongEave) {
		return LongEdge
	}
	return ShortEdge
}

// Ratings are static load ratings for one position of the clamps, pascals, each
// 500 to 20 000; 0 is not given. Front presses, rear lifts. A rating that does
// not say whether it is a test or a design value is a test value. The fields are
// those of the loads of package catalog, so that one converts to the other.
type Ratings struct {
	FrontTestPa   float64 `json:"front_test_pa"`
	FrontDesignPa float64 `json:"front_design_pa"`
	RearTestPa    float64 `json:"rear_test_pa"`
	RearDesignPa  float64 `json:"rear_design_pa"`
}

// check tests the ranges.
func (r Ratings) check(where ClampEdge) error {
	for _, s := range []span{
		{"front_test_pa", r.FrontTestPa, 500, 20000, "Pa"}, {"front_design_pa", r.FrontDesignPa, 500, 20000, "Pa"},
		{"rear_test_pa", r.RearTestPa, 500, 20000, "Pa"}, {"rear_design_pa", r.RearDesignPa, 500, 20000, "Pa"},
	} {
		if s.v != 0 && checkSpans(s) != nil {
			return bad(string(where)+" "+s.field, "is %g; it must be 500 to 20000 Pa, or 0 for not given", s.v)
		}
	}
	return nil
}

// Side says which face of a module a load acts on.
type Side string

// The sides.
const (
	Front Side = "front"
	Rear  Side = "rear"
)

// DesignPa returns the design rating of a side: the design value where it is
// given, else the test value / 1.5; 0 where neither is.
func (r Ratings) DesignPa(s Side) float64 {
	test, design := r.FrontTestPa, r.FrontDesignPa
	if s == Rear {
		test, design = r.RearTestPa, r.RearDesignPa
	}
	if design > 0 {
		return design
	}
	return test / TestOverDesign
}

// figures shows both ratings of one clamp position; a rating that is not given
// has none.
func (r Ratings) figures(at ClampEdge) []Figure {
	var out []Figure
	for _, s := range [2]Side{Front, Rear} {
		v := r.DesignPa(s)
		if v == 0 {
			continue
		}
		f := Figure{"rating_" + string(s), "Design rating, " + string(s) + ", clamps on the " + at.words(), "as the datasheet gives it",
			whole(v) + " Pa", v, "Pa", "datasheet"}
		if test, given := r.testOnly(s); given {
			f.Formula, f.Numbers = "test value / 1.5", whole(test)+" Pa / 1.5 = "+whole(v)+" Pa"
			f.Source = "datasheet; IEC 61215-2 MQT 16"
		}
		out = append(out, f)
	}
	return out
}

// testOnly returns the test value of a side that has no design value.
func (r Ratings) testOnly(s Side) (float64, bool) {
	if s == Rear {
		return r.RearTestPa, r.RearDesignPa == 0
	}
	return r.FrontTestPa, r.FrontDesignPa == 0
}

// words names a clamp position in a sentence.
func (c ClampEdge) words() string {
	if c == LongEdge {
		return "long edges"
	}
	return "short edges"
}
