package web

import (
	"testing"

	"rooftally/project"
)

func TestFindingText(t *testing.T) {
	doc := project.Demo()
	doc.Planes[1].Label = ""
	doc.KeepOuts[1].Label = " "
	for _, c := range []struct{ path, message, want string }{
		{"planes[0].azimuth_deg", "is 30, but the lowest edge faces 0 deg", "Main, south, azimuth: is 30, but the lowest edge faces 0 deg."},
		{"planes[1]", "is in use but has no room", "Plane 2: is in use but has no room."},
		{"planes[0]", "Main, south, Plane 2: a path.", "Main, south, Plane 2: a path."},
		{"planes[0].ring[2].street", "marks the street side", "Main, south: marks the street side."},
		{"keep_outs[0]", "lies on no plane", "K1 Chimney: lies on no plane."},
		{"keep_outs[1]", "lies on no plane", "K2: lies on no plane."},
		{"candidates[2].pmax_w", "is doubtful", "Option C, rated power: is doubtful."},
		{"site.lat_deg", "is not given, so that", "Site, latitude: is not given, so that."},
		{"target.max_blocks", "is 1, but", "Size, limit of blocks: is 1, but."},
		{"target.min_access_pct", "is 80 %, but", "Least light: is 80 %, but."},
		{"planes[9]", "is not there", "is not there."},
		{"planes[99999999999999999999]", "is not there", "is not there."},
		{"rules.style", "is odd", "is odd."},
	} {
		if got := findingText(doc, project.Finding{Path: c.path, Message: c.message}); got != c.want {
			t.Errorf("%s: got %q, want %q", c.path, got, c.want)
		}
	}
}

func TestFindingsOnHandsAreLeftToTheReasons(t *testing.T) {
	res := project.Result{Findings: []project.Finding{
		{Path: "hand[0]", Message: "sets 2 modules where the roof does not allow them"},
		{Path: "planes[0]", Message: "has no room"},
	}}
	if got := findingTexts(project.Demo(), res); len(got) != 1 || got[0] != "Main, south: has no room." {
		t.Errorf("got %q", got)
	}
}
