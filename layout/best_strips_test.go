package layout

import (
	"context"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// TestStripsReachKnownLayouts holds strips alone against the best layouts known
// of planes on which rows, columns and their windows are beaten. On ell-02,
// ell-03, rect-06 and the pinwheels only a wheel reaches them.
func TestStripsReachKnownLayouts(t *testing.T) {
	want := map[string]bool{
		"roof-dormer-02": true, "roof-ell-02": true, "roof-ell-03": true, "roof-gable-05": true,
		"roof-gable-07": true, "roof-hip-03": true, "roof-rect-06": true, "roof-sky-02": true,
	}
	for _, c := range corpus(t, "roofs") {
		if !want[c.ID] {
			continue
		}
		t.Run(c.ID, func(t *testing.T) {
			best := 0
			for _, o := range stripViews(Drag) {
				best = max(best, len(stripsOf(t, c.region(), c.spec(), o)))
			}
			if best < c.Truth.AnyLower {
				t.Errorf("%d modules, %d are known to fit", best, c.Truth.AnyLower)
			}
		})
	}
}

// TestStripsAreLayouts holds strips of every view against the checker.
func TestStripsAreLayouts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, s := smallRoof(t)
		o := rapid.IntRange(0, 7).Draw(t, "view")
		got := stripsOf(t, r, s, o)
		if err := CheckPacking(r, s, got); err != nil {
			t.Fatal(err)
		}
	})
}

// stripsOf is the layout that view o gives, however long it takes.
func stripsOf(t interface {
	Helper()
	Fatal(...any)
}, r Region, s Spec, o int) []Rect {
	t.Helper()
	j, err := newJob(context.Background(), r, s)
	if err != nil {
		t.Fatal(err)
	}
	if len(j.modules) == 0 || j.bound > stripMost {
		return nil
	}
	var strips stripSearch
	v := newView(j.f, j.s, j.modules, o&1 != 0, o&2 != 0, o&columnsView != 0)
	spots, _ := strips.pack(v, j.profilesOf(v.f, v.modules), 1<<40)
	return j.spotRects(spots)
}

func TestMaxBytes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var a, b, want uint64
		for i := range 8 {
			p, q := rapid.Uint64Range(0, 127).Draw(t, "a"), rapid.Uint64Range(0, 127).Draw(t, "b")
			a, b, want = a|p<<(8*i), b|q<<(8*i), want|max(p, q)<<(8*i)
		}
		if got := maxBytes(a, b); got != want {
			t.Fatalf("maxBytes(%016x, %016x) = %016x, want %016x", a, b, got, want)
		}
	})
}

// TestWheelSides weighs the sides of a wheel by trying every pair of levels.
func TestWheelSides(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		levels := rapid.IntRange(1, 30).Draw(t, "levels")
		table := func(name string) []uint64 {
			out := make([]uint64, (levels+7)/8)
			counts := rapid.SliceOfN(rapid.Uint8Range(0, 30), levels, levels).Draw(t, name)
			pack8(out, slices.Concat(counts, make([]uint8, 8)))
			return out
		}
		p, q := sideBySide{table("p low"), table("p high")}, sideBySide{table("q low"), table("q high")}
		want := uint8(0)
		for a := range levels {
			for b := range a + 1 {
				want = max(want, byteOf(p.low, a)+byteOf(p.high, a)+byteOf(q.low, b)+byteOf(q.high, b))
			}
		}
		n, a, b := p.levels(q)
		if got := p.over(q); got != want || n != want {
			t.Fatalf("over gives %d, levels %d, want %d", got, n, want)
		}
		if b > a || byteOf(p.low, a)+byteOf(p.high, a)+byteOf(q.low, b)+byteOf(q.high, b) != want {
			t.Fatalf("levels %d and %d do not hold %d", a, b, want)
		}
	})
}
