package layout

import "fmt"

// ShapeError says which rule a ring breaks and where.
type ShapeError struct {
	// Ring names the ring: "outer", "holes[3]", or what the caller calls it.
	Ring string
	// Vertex is the index of the offending point in the ring as given, or -1
	// when the rule concerns the whole ring.
	Vertex int
	// Rule is the broken rule as a phrase for people, with the value and the
	// allowed range where there is one: "crosses the edge from point 4".
	Rule string
}

// Error is "outer[5]: crosses the edge from point 9"; without a vertex
// "outer: has no area".
func (e *ShapeError) Error() string {
	if e.Vertex < 0 {
		return e.Ring + ": " + e.Rule
	}
	return fmt.Sprintf("%s[%d]: %s", e.Ring, e.Vertex, e.Rule)
}
