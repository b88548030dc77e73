package catalog

import (
	"math"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestDemoCatalog(t *testing.T) {
	mods := Demo()
	if len(mods) < 6 {
		t.Fatalf("%d modules, want at least 6", len(mods))
	}
	idOK := regexp.MustCompile(`^[a-z0-9-]{1,40}$`)
	ids := map[string]bool{}
	sizes := map[[2]float64]bool{}
	for _, m := range mods {
		if ids[m.ID] || !idOK.MatchString(m.ID) {
			t.Errorf("%s: id repeated or badly formed", m.ID)
		}
		ids[m.ID] = true
		sizes[[2]float64{m.LengthM, m.WidthM}] = true
		if !m.Invented || !strings.Contains(m.Label, "Invented") {
			t.Errorf("%s: not marked as invented", m.ID)
		}
		if m.PmaxW < 300 || m.PmaxW > 450 {
			t.Errorf("%s: %d W is outside 300 to 450", m.ID, m.PmaxW)
		}
		if p := m.Check(); p != nil {
			t.Errorf("%s: %v", m.ID, p)
		}
		if d := float64(m.PmaxW) / m.AreaM2(); d < 180 || d > 225 {
			t.Errorf("%s: %.1f W/m2 is not plausible", m.ID, d)
		}
	}
	if len(sizes) != 3 {
		t.Errorf("%d sizes, want 3", len(sizes))
	}
}

func TestDemoIsFreshEachCall(t *testing.T) {
	Demo()[0].Label = "changed"
	if Demo()[0].Label == "changed" {
		t.Fatal("a caller changed the catalog")
	}
}

// 400 W on 2 m2 is 20 % by arithmetic.
func TestEfficiency(t *testing.T) {
	if e := (Module{PmaxW: 400, LengthM: 2, WidthM: 1}).Efficiency(); math.Abs(e-0.2) > 1e-12 {
		t.Errorf("efficiency %g, want 0.2", e)
	}
	if e := (Module{PmaxW: 400}).Efficiency(); e != 0 {
		t.Errorf("efficiency without area %g, want 0", e)
	}
}

func TestCheck(t *testing.T) {
	sound := Module{ID: "x", PmaxW: 400, LengthM: 2, WidthM: 1}
	for _, c := range []struct {
		name  string
		edit  func(*Module)
		field string // "" for sound
		doubt bool
	}{
		{"sound", func(*Module) {}, "", false},
		{"square", func(m *Module) { m.WidthM, m.LengthM = 1.5, 1.5 }, "", false},
		{"no power", func(m *Module) { m.PmaxW = 0 }, "pmax_w", false},
		{"too much power", func(m *Module) { m.PmaxW = 2001 }, "pmax_w", false},
		{"short", func(m *Module) { m.WidthM = 0.19 }, "width_m", false},
		{"long", func(m *Module) { m.LengthM = 5.01 }, "length_m", false},
		{"not a number", func(m *Module) { m.LengthM = math.NaN() }, "length_m", false},
		{"infinite", func(m *Module) { m.LengthM = math.Inf(1) }, "length_m", false},
		{"sides swapped", func(m *Module) { m.WidthM, m.LengthM = 2, 1 }, "width_m", false},
		{"9.9 percent", func(m *Module) { m.PmaxW = 198 }, "pmax_w", true},
		{"10 percent", func(m *Module) { m.PmaxW = 200 }, "", false},
		{"26 percent", func(m *Module) { m.PmaxW = 520 }, "", false},
		{"26.1 percent", func(m *Module) { m.PmaxW = 522 }, "pmax_w", true},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := sound
			c.edit(&m)
			got := m.Check()
			if c.field == "" {
				if got != nil {
					t.Fatalf("problems %v, want none", got)
				}
				return
			}
			if len(got) != 1 || got[0].Field != c.field || got[0].Doubt != c.doubt {
				t.Fatalf("problems %+v, want one of %s (doubt %v)", got, c.field, c.doubt)
			}
		})
	}
}

func TestCheckNamesRange(t *testing.T) {
	p := Module{PmaxW: 3000, LengthM: 2, WidthM: 1}.Check()
	if len(p) != 1 || !strings.Contains(p[0].Message, "3000") || !strings.Contains(p[0].Message, "1 to 2000") {
		t.Fatalf("%+v does not name the value and the range", p)
	}
}

func TestCheckNeverPanics(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := Module{PmaxW: rapid.Int().Draw(t, "w"), LengthM: rapid.Float64().Draw(t, "l"), WidthM: rapid.Float64().Draw(t, "s")}
		m.Check()
	})
}
