package project

import (
	"fmt"
	"slices"
)

// hand checks the layouts set by hand. The planes and candidates that they are
// for must be there, and each pair at most once.
func (ps *Problems) hand(d Document) {
	seen := map[[2]string]int{}
	for i, h := range d.Hand {
		path := fmt.Sprintf("hand[%d]", i)
		if !slices.ContainsFunc(d.Candidates, func(c Candidate) bool { return c.ID == h.CandidateID }) {
			ps.add(path+".candidate_id", "is %q; it must be the id of a candidate", clip(h.CandidateID))
		}
		if !slices.ContainsFunc(d.Planes, func(p Plane) bool { return p.ID == h.PlaneID }) {
			ps.add(path+".plane_id", "is %q; it must be the id of a plane", clip(h.PlaneID))
		}
		pair := [2]string{h.CandidateID, h.PlaneID}
		if first, ok := seen[pair]; ok {
			ps.add(path, "is for the candidate and plane of entry %d of the list; one entry holds them all", first)
		} else {
			seen[pair] = i
		}
		ps.count(path+".modules", len(h.Modules), 0, MaxHandModules)
		for j, m := range h.Modules {
			at := fmt.Sprintf("%s.modules[%d]", path, j)
			ps.point(at, Point{XM: m.XM, YM: m.YM})
			ps.oneOf(at+".turn", m.Turn, "portrait", "landscape")
			if h.Fill && !m.Locked {
				ps.add(at+".locked", "is false; where the rest of the plane is filled, only locked modules are listed")
			}
		}
	}
}
