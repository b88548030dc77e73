package energy

// ShadowOutline is one obstruction's shadow on one plane at one instant; an
// obstruction cut into several solids has several.
type ShadowOutline struct {
	// Plane and Obstruction are indices in the scene.
	Plane, Obstruction int
	// Slope is the outline in the plane's slope frame, Plan in world plan; both
	// in metres, counter-clockwise in the slope frame. The view cuts it to the
	// roof.
	Slope, Plan [][2]float64
}

// shadowReachM is how far from a plane's origin shadows are drawn.
const shadowReachM = 300

// ShadowOutlines returns the shadows on every plane of a scene with the sun in
// a direction (see [Sun.Toward]), in order of planes and obstructions. There
// are none with the sun below the horizon or behind a plane, and none on a
// plane that the far horizon leaves in the dark: the whole scene is then in
// shade. The scene is checked first.
func ShadowOutlines(s Scene, toward Vec3) ([]ShadowOutline, error) {
	if err := s.Check(); err != nil {
		return nil, err
	}
	if toward.Z <= 0 {
		return nil, nil
	}
	var out []ShadowOutline
	var w workspace
	reach := box{-shadowReachM, -shadowReachM, shadowReachM, shadowReachM}
	window := reach.ring()
	bodies := s.bodies()
	for i := range s.Planes {
		p := newPlaneShade(s, bodies, i, nil)
		for _, sh := range p.shadowsAt(toward, reach, &w) {
			part, _, _ := clipTo(sh.ring, window[:], nil, nil)
			if areaOf(part) <= 0 {
				continue
			}
			o := ShadowOutline{Plane: i, Obstruction: sh.index}
			for _, c := range part {
				world := p.frame.world(c)
				o.Slope = append(o.Slope, [2]float64{c.u, c.v})
				o.Plan = append(o.Plan, [2]float64{world.X, world.Y})
			}
			out = append(out, o)
		}
	}
	return out, nil
}
