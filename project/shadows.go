//go:build !js

package project

import (
	"time"

	"rooftally/energy"
)

// shadowYear is a year without a 29th of February. Which one it is moves the sun
// by a quarter of a degree at most.
const shadowYear = 2025

// ShadowsOf returns the shadows on the used planes at one moment, in the order of
// planes and of [SceneOf]. The sun is that of the site. A document that
// [Document.Validate] does not pass, one without a place and a moment that does
// not exist give [Problems].
func ShadowsOf(d Document, at LocalTime) (Shadows, error) {
	scene, err := SceneOf(d)
	if err != nil {
		return Shadows{}, err
	}
	if ps := at.check(d.Site); len(ps) > 0 {
		return Shadows{}, ps
	}
	site := energy.Site{LatDeg: d.Site.LatDeg, LonDeg: d.Site.LonDeg, UTCOffsetH: d.Site.UTCOffsetH, ElevationM: d.Site.ElevationM}
	midnight := float64(time.Date(shadowYear, time.Month(at.Month), at.Day, 0, 0, 0, 0, time.UTC).Unix()) - site.UTCOffsetH*secondsPerHour
	sun := energy.SunAt(midnight+at.ClockH*secondsPerHour, site.LatDeg, site.LonDeg)
	day := energy.SunDay(site, shadowYear, time.Month(at.Month), at.Day)
	hour := func(unixS float64) float64 { return (unixS - midnight) / secondsPerHour }
	out := Shadows{
		Sun: SunPlace{AzimuthDeg: sun.AzimuthDeg, ElevationDeg: sun.RefractedDeg},
		Day: string(day.Kind), NoonH: hour(day.TransitUnixS),
		Dark:         sun.RefractedDeg <= max(0, scene.Horizon.At(sun.AzimuthDeg)),
		BehindPlanes: []string{}, Outlines: []ShadowOnRoof{},
	}
	if day.Kind == energy.Ordinary {
		out.RisesH, out.SetsH = hour(day.RiseUnixS), hour(day.SetUnixS)
	}
	for _, p := range scene.Planes {
		n := p.Normal()
		if sun.RefractedDeg > 0 && n.X*sun.Toward.X+n.Y*sun.Toward.Y+n.Z*sun.Toward.Z <= 0 {
			out.BehindPlanes = append(out.BehindPlanes, p.ID)
		}
	}
	if out.Dark {
		return out, nil
	}
	outlines, err := energy.ShadowOutlines(scene, sun.Toward)
	if err != nil {
		return Shadows{}, err
	}
	leaves := energy.LeafMonths(site.LatDeg)[at.Month-1]
	for _, o := range outlines {
		thing := scene.Obstructions[o.Obstruction]
		s := ShadowOnRoof{PlaneID: scene.Planes[o.Plane].ID, ObstructionID: thing.ID, Kind: d.kindOf(thing), Plan: o.Plan}
		if thing.Kind == energy.Tree {
			s.Pass = leaves*thing.LeafOnPass + (1-leaves)*thing.LeafOffPass
		}
		out.Outlines = append(out.Outlines, s)
	}
	return out, nil
}

const secondsPerHour = 3600

// daysIn are the days of the months of [shadowYear].
var daysIn = [12]int{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}

// check reports a moment that does not exist and a site without a place.
func (at LocalTime) check(site Site) Problems {
	var ps Problems
	if site.Unset() {
		ps.add("site.lat_deg", "is not given, nor is lon_deg; the sun's path hangs on them")
	}
	ps.number("month", float64(at.Month), 1, 12, "")
	if len(ps) == 0 {
		ps.number("day", float64(at.Day), 1, float64(daysIn[at.Month-1]), "")
	}
	ps.number("clock_h", at.ClockH, 0, 24, " h")
	return ps
}

// kindOf is the kind of an obstruction as people know it: that of the keep-out,
// "tree", "building" or "plane".
func (d Document) kindOf(o energy.Obstruction) string {
	switch o.Kind {
	case energy.Tree:
		return "tree"
	case energy.RoofPart:
		return "plane"
	}
	for _, k := range d.KeepOuts {
		if k.ID == o.ID {
			return k.Kind
		}
	}
	return "building"
}
