package project

import "fmt"

func (ps *Problems) keepOuts(keepOuts []KeepOut) {
	ps.count("keep_outs", len(keepOuts), 0, MaxKeepOuts)
	ids := make(map[string]int, len(keepOuts))
	for i, k := range keepOuts {
		path := fmt.Sprintf("keep_outs[%d]", i)
		ps.id(path+".id", k.ID, ids, i)
		ps.label(path+".label", k.Label, 0, MaxLabel)
		ps.oneOf(path+".kind", k.Kind, "chimney", "vent", "pipe", "roof_window", "shade", "other")
		ps.shape(path, k)
		ps.number(path+".clearance_m", k.ClearanceM, 0, 10, " m")
		ps.number(path+".height_m", k.HeightM, 0, 100, " m")
		if k.Kind == "shade" {
			ps.oneOf(path+".shade", k.Shade, "off_limits", "last_resort")
		} else if k.Shade != "" {
			ps.add(path+".shade", "is %q; only kind \"shade\" has it, leave it \"\"", clip(k.Shade))
		}
	}
}

// shape checks the fields of a keep-out's shape and reports those of the other
// shapes. An unknown shape is reported alone, since no field can be judged.
func (ps *Problems) shape(path string, k KeepOut) {
	ps.oneOf(path+".shape", k.Shape, "polygon", "rect", "circle")
	switch k.Shape {
	case "polygon":
		ps.outline(path+".points", k.Points)
		ps.unused(path+".center", k.Shape, k.Center != nil)
		ps.unusedRect(path, k)
		ps.unused(path+".radius_m", k.Shape, k.RadiusM != 0)
	case "rect":
		ps.unused(path+".points", k.Shape, len(k.Points) > 0)
		ps.center(path+".center", k)
		ps.number(path+".width_m", k.WidthM, 0.01, 100, " m")
		ps.number(path+".depth_m", k.DepthM, 0.01, 100, " m")
		ps.bearing(path+".turn_deg", k.TurnDeg)
		ps.unused(path+".radius_m", k.Shape, k.RadiusM != 0)
	case "circle":
		ps.unused(path+".points", k.Shape, len(k.Points) > 0)
		ps.center(path+".center", k)
		ps.unusedRect(path, k)
		ps.number(path+".radius_m", k.RadiusM, 0.005, 50, " m")
	}
}

func (ps *Problems) center(path string, k KeepOut) {
	if k.Center == nil {
		ps.add(path, "is missing; shape %q needs it", k.Shape)
		return
	}
	ps.point(path, *k.Center)
}

func (ps *Problems) unusedRect(path string, k KeepOut) {
	ps.unused(path+".width_m", k.Shape, k.WidthM != 0)
	ps.unused(path+".depth_m", k.Shape, k.DepthM != 0)
	ps.unused(path+".turn_deg", k.Shape, k.TurnDeg != 0)
}

func (ps *Problems) unused(path, shape string, present bool) {
	if present {
		ps.add(path, "belongs to another shape than %q; leave it out", shape)
	}
}
