package layout

import (
	"slices"
	"strings"
	"testing"
)

func TestRuleSets(t *testing.T) {
	var ids []string
	for _, r := range RuleSets() {
		ids = append(ids, r.ID)
		if r.Title == "" {
			t.Errorf("%s has no title", r.ID)
		}
		if !strings.Contains(strings.Join(r.Notes, " "), "local code") {
			t.Errorf("%s does not say that the local code governs", r.ID)
		}
		if got, ok := RuleSetByID(r.ID); !ok || got.Title != r.Title {
			t.Errorf("%s is not found by its ID", r.ID)
		}
	}
	if want := []string{"none", "distances", "irc_r324"}; !slices.Equal(ids, want) {
		t.Errorf("sets %v, want %v", ids, want)
	}
	if _, ok := RuleSetByID("nonesuch"); ok {
		t.Error("found a set that is none")
	}
}

func edgeKinds() []EdgeKind {
	return []EdgeKind{Eave, Ridge, Rake, Hip, Valley, Break, Wall, PartyWall}
}

func TestDistancesOf(t *testing.T) {
	d := Distances{EaveM: 1, RidgeM: 2, RakeM: 3, HipM: 4, ValleyM: 5, BreakM: 6, WallM: 7, PartyWallM: 8}
	for i, k := range edgeKinds() {
		if got := d.Of(k); got != float64(i+1) {
			t.Errorf("%s: %v", k, got)
		}
	}
	if d.Of(Auto) != 0 || d.Of("nonesuch") != 0 {
		t.Error("a kind that is none has a distance")
	}
}

// Preset of the typed distances: 300 mm all round, common practice, no source.
// Fire access: IRC 2018 R324.6 (18 in = 457 mm, 36 in = 914 mm, 33 %, 2:12).
func TestRuleSetNumbers(t *testing.T) {
	none, _ := RuleSetByID("none")
	typed, _ := RuleSetByID("distances")
	irc, _ := RuleSetByID("irc_r324")
	for _, k := range edgeKinds() {
		if got := none.Distances.Of(k); got != 0 {
			t.Errorf("none, %s: %v", k, got)
		}
		if got := typed.Distances.Of(k); got != 0.3 {
			t.Errorf("distances, %s: %v", k, got)
		}
		want := 0.0
		if k == Ridge {
			want = 0.457
		}
		if got := irc.Distances.Of(k); got != want {
			t.Errorf("irc_r324, %s: %v, want %v", k, got, want)
		}
	}
	if !typed.Typed || none.Typed || irc.Typed {
		t.Error("only the set of typed distances is typed")
	}
	if irc.WideRidgeM != 0.914 || irc.CoverageLimit != 0.33 || irc.PathM != 0.914 {
		t.Errorf("%+v", irc)
	}
	for _, tc := range []struct {
		pitch float64
		want  bool
	}{{0, true}, {RiseIn12ToDeg(2), true}, {9.46, true}, {9.465, true}, {9.5, false}, {RiseIn12ToDeg(2.05), false}, {30, false}} {
		if got := irc.Exempts(tc.pitch); got != tc.want {
			t.Errorf("pitch %v: exempt %v", tc.pitch, got)
		}
		if typed.Exempts(tc.pitch) || none.Exempts(tc.pitch) {
			t.Errorf("pitch %v is exempt from a set without exemptions", tc.pitch)
		}
	}
}
