//go:build !js

package project

import (
	"errors"

	"rooftally/structural"
)

// loads checks the loads section. Loads of the family that the site does not
// have are allowed: they are not used.
func (ps *Problems) loads(l Loads) {
	if l.ASCESnow != nil {
		ps.structural("loads.asce_snow", l.ASCESnow.Check())
	}
	if l.ENSnow != nil {
		ps.structural("loads.en_snow", l.ENSnow.Check())
	}
	if l.FlushWind != nil {
		ps.structural("loads.flush_wind", l.FlushWind.Check())
		if l.TypedWind != nil {
			ps.add("loads.typed_wind", "is given beside flush_wind; only one of them may be")
		}
		if l.ASCESnow != nil && l.ASCESnow.Edition != l.FlushWind.Edition {
			ps.add("loads.flush_wind.edition", "is %q and that of asce_snow %q; both must be one", l.FlushWind.Edition, l.ASCESnow.Edition)
		}
	}
	if l.TypedWind != nil {
		ps.structural("loads.typed_wind", l.TypedWind.Check())
	}
	ps.oneOf("loads.rails", l.Rails, string(structural.AlongEave), string(structural.UpSlope))
	ps.numberIf("loads.span_m", l.SpanM, 0.2, 5, " m")
	ps.number("loads.cantilever_share", l.CantileverShare, 0, structural.MaxCantileverShare, "")
	ps.number("loads.stick_m", l.StickM, 0.5, 12, " m")
	ps.number("loads.end_m", l.EndM, 0, 0.5, " m")
	ps.number("loads.clamp_inset", l.ClampInset, 0.05, 0.45, "")
	ps.number("loads.rail_kg_per_m", l.RailKgPerM, 0, 20, " kg/m")
	ps.number("loads.attachment_kg", l.AttachmentKg, 0, 20, " kg")
}

// structural reports what a check of package structural refuses.
func (ps *Problems) structural(path string, err error) {
	if bad, ok := errors.AsType[*structural.InputError](err); ok {
		ps.add(path+"."+bad.Field, "%s", bad.Message)
	} else if err != nil {
		ps.add(path, "%v", err)
	}
}

// cost checks the cost section.
func (ps *Problems) cost(c Cost) {
	ps.label("cost.currency", c.Currency, 0, maxCurrency)
	ps.numberIf("cost.rest_per_module", c.RestPerModule, 0, 1e9, "")
	ps.numberIf("cost.rest_fixed", c.RestFixed, 0, 1e9, "")
}
