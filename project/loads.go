//go:build !js

package project

import "rooftally/structural"

// Loads says what snow, wind and rails there are. What is nil is not known. The
// rule family of the site decides which are used: "nec" takes ASCE snow and
// flush or typed wind, "iec" EN snow and typed wind.
type Loads struct {
	// ASCESnow and ENSnow are roof snow after ASCE 7 and EN 1991-1-3.
	ASCESnow *structural.ASCESnow `json:"asce_snow"`
	ENSnow   *structural.ENSnow   `json:"en_snow"`
	// FlushWind is wind after the flush rooftop array rule of ASCE 7, TypedWind a
	// pressure that somebody else has found; at most one of them.
	FlushWind *structural.FlushWind `json:"flush_wind"`
	TypedWind *structural.TypedWind `json:"typed_wind"`
	// Rails is "along_eave" or "up_slope" (which is not laid out). With the turn
	// of a module it says which edges the clamps hold.
	Rails string `json:"rails"`
	// SpanM is the greatest distance between attachments that the rail maker
	// allows, 0.2 to 5 m; nil is not known, and no rails are laid.
	SpanM *float64 `json:"span_m"`
	// CantileverShare, StickM, EndM and ClampInset are as in structural.Mounting.
	CantileverShare float64 `json:"cantilever_share"`
	StickM          float64 `json:"stick_m"`
	EndM            float64 `json:"end_m"`
	ClampInset      float64 `json:"clamp_inset"`
	// RailKgPerM and AttachmentKg are as in structural.Hardware.
	RailKgPerM   float64 `json:"rail_kg_per_m"`
	AttachmentKg float64 `json:"attachment_kg"`
}

// defaultLoads is that of a new document: no load known, the defaults of package
// structural for rails.
func defaultLoads() Loads {
	m, h := structural.DefaultMounting(0, 0), structural.DefaultHardware()
	return Loads{
		Rails: string(m.Rails), CantileverShare: m.CantileverShare, StickM: m.StickM, EndM: m.EndM, ClampInset: m.ClampInset,
		RailKgPerM: h.RailKgPerM, AttachmentKg: h.AttachmentKg,
	}
}

// mounting is how the modules are held on rails of a span, with the layout's gap.
func (l Loads) mounting(spanM, gapM float64) structural.Mounting {
	return structural.Mounting{
		SpanM: spanM, CantileverShare: l.CantileverShare, StickM: l.StickM, EndM: l.EndM, GapM: gapM,
		ClampInset: l.ClampInset, Rails: structural.RailDirection(l.Rails),
	}
}
