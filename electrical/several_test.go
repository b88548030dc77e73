package electrical

import (
	"slices"
	"strconv"
	"testing"

	"pgregory.net/rapid"
)

// On the 5 kW inverter a string holds 4 to 14 modules of the request's type, and
// one inverter at most 17 by its largest array, on two trackers of one input. By
// arithmetic.
func TestPlanSeveral(t *testing.T) {
	for _, c := range []struct {
		name   string
		placed []PlacedModule
		want   []int
	}{
		{"two; three strings of ten would be twenty on one", field("s", 2, 15, 30, 180, 0), []int{17, 13}},
		{"18 are 9 and 9, never 17 and 1", field("s", 2, 9, 30, 180, 0), []int{9, 9}},
		{"three", field("s", 3, 14, 30, 180, 0), []int{14, 14, 14}},
		{"a facing of three is never wired", append(field("s", 1, 10, 30, 180, 0), field("e", 1, 3, 30, 90, 40)...), []int{}},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := request(t, "demo-inv-5k", c.placed)
			got, err := PlanSeveral(r)
			if err != nil {
				t.Fatal(err)
			}
			if !slices.Equal(got.Takes, c.want) || len(c.want) == 0 && got.Tried != mostSame {
				t.Errorf("%+v, want %v", got, c.want)
			}
		})
	}
	if _, err := PlanSeveral(PlanRequest{}); err == nil {
		t.Error("no modules give no error")
	}
}

// Whatever it answers, all modules are taken and no inverter takes more than its
// largest array or less than the shortest string.
func TestSeveralKeepTheirLimits(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		placed := field("s", 1, rapid.IntRange(1, 40).Draw(rt, "south"), 30, 180, 0)
		if n := rapid.IntRange(0, 20).Draw(rt, "east"); n > 0 {
			placed = append(placed, field("e", 1, n, 30, 90, 60)...)
		}
		r := request(t, rapid.SampledFrom([]string{"demo-inv-3k", "demo-inv-5k", "demo-inv-8k"}).Draw(rt, "inverter"), placed)
		one, err := PlanStrings(r)
		if err != nil {
			rt.Fatal(err)
		}
		got, err := PlanSeveral(r)
		if err != nil {
			rt.Fatal(err)
		}
		sum := 0
		for _, n := range got.Takes {
			sum += n
			if n < one.Shortest || float64(n*r.Module.PmaxW) > r.Inverter.MaxArrayW {
				rt.Fatalf("%d on one of %v", n, got.Takes)
			}
		}
		if len(got.Takes) > 0 && sum != len(placed) {
			rt.Fatalf("%v of %d", got.Takes, len(placed))
		}
	})
}

// BenchmarkSeveral asks how many small inverters a large roof takes.
func BenchmarkSeveral(b *testing.B) {
	for _, n := range []int{60, 300} {
		b.Run(strconv.Itoa(n), func(b *testing.B) {
			r := request(b, "demo-inv-8k", append(field("s", 4, n/8, 30, 180, 0), field("e", 4, n/8, 30, 90, 60)...))
			for b.Loop() {
				if _, err := PlanSeveral(r); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
