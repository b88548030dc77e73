package layout

import "testing"

func TestTidinessOf(t *testing.T) {
	s := Spec{WidthM: 2, HeightM: 1, GapUM: 0.1, GapVM: 0.2}
	at := func(u, v float64) Rect { return Rect{u, v, 2, 1} }
	turned := func(u, v float64) Rect { return Rect{u, v, 1, 2} }
	for _, c := range []struct {
		name    string
		modules []Rect
		want    Tidiness
	}{
		{"none", nil, Tidiness{}},
		{"one", []Rect{at(0, 0)}, Tidiness{1, 1, 1}},
		{"two by two", []Rect{at(2.1, 1.2), at(0, 0), at(2.1, 0), at(0, 1.2)}, Tidiness{2, 1, 1}},
		{"a run with a break", []Rect{at(0, 0), at(2.2, 0)}, Tidiness{2, 2, 1}},
		{"rows at a distance", []Rect{at(0, 0), at(0, 1.3)}, Tidiness{2, 2, 1}},
		{"a longer row above", []Rect{at(0, 0), at(0, 1.2), at(2.1, 1.2)}, Tidiness{2, 2, 1}},
		{"staggered", []Rect{at(0, 0), at(1, 1.2)}, Tidiness{2, 2, 1}},
		{"both turns in a row", []Rect{at(0, 0), turned(2.1, 0)}, Tidiness{2, 2, 2}},
		{"a turned row above", []Rect{at(0, 0), turned(0, 1.2), turned(1.1, 1.2)}, Tidiness{2, 2, 2}},
		{"rounded places", []Rect{at(2.1-2e-6, 0), at(0, 1e-6), at(0, 1.2), at(2.1, 1.2-1e-6)}, Tidiness{2, 1, 1}},
	} {
		if got := TidinessOf(c.modules, s); got != c.want {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
}

func TestTidierThan(t *testing.T) {
	order := []Tidiness{{1, 1, 1}, {2, 1, 1}, {2, 1, 2}, {3, 1, 1}, {2, 2, 1}}
	for i, a := range order {
		for k, b := range order {
			if a.TidierThan(b) != (i < k) {
				t.Errorf("%+v tidier than %+v: %v", a, b, a.TidierThan(b))
			}
		}
	}
}
