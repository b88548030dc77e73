package web

import (
	"math"
	"strconv"

	"rooftally/project"
)

// overPath is one path over the roof: class for its colour, and its form.
type overPath struct {
	Class, Path string
	// Fill is a pattern's name or "", WidthMM the line in millimetres of print.
	Fill    string
	WidthMM float64
	DashMM  []float64
}

// fill is the paint of a path, "" for what the style sheet says.
func (p overPath) fill(d drawing) string {
	if p.Fill == "" {
		return ""
	}
	return "url(#" + d.ID + "-" + p.Fill + ")"
}

// quadsPath is the outlines of modules.
func quadsPath(placed []placedModule) string {
	path := ""
	for _, m := range placed {
		path += closedPath(m.quad)
	}
	return path
}

// drawStrings draws each string's or branch's way from module to module, with
// its name where it begins, and crosses out the modules that are left out.
func (b builtCandidate) drawStrings(w project.WiringResult) func(sheet, *drawing, []placedModule, *room) {
	type way struct {
		name string
		form lineForm
		refs []project.ModuleRef
	}
	var ways []way
	for _, s := range w.Strings {
		ways = append(ways, way{stringName(s.Number, false), stringForm(s.Number), s.Modules})
	}
	for _, s := range w.Branches {
		ways = append(ways, way{stringName(s.Number, true), stringForm(s.Number), s.Modules})
	}
	return func(s sheet, d *drawing, placed []placedModule, room *room) {
		u := s.style.UnitU
		d.Over = append(d.Over, overPath{Class: "build-module", Path: quadsPath(placed), WidthMM: 0.18})
		for _, way := range ways {
			line := make([]xy, len(way.refs))
			for i, r := range way.refs {
				line[i], _, _ = quadMiddle(placed[r.Number-1].quad)
			}
			path := openPath(line...)
			room.addPath(lineMark, line...)
			d.Over = append(d.Over,
				overPath{Class: "build-halo", Path: path, WidthMM: way.form.WidthMM + 0.7},
				overPath{Class: "build-string", Path: path, WidthMM: way.form.WidthMM, DashMM: way.form.DashMM},
				overPath{Class: "build-dot", Path: ringPath(line[0], 0.9*u), WidthMM: 0.3})
			if len(line) > 1 {
				d.Over = append(d.Over, overPath{Class: "build-end", Path: ringPath(line[len(line)-1], 0.7*u), WidthMM: 0.4})
			}
		}
		for _, way := range ways {
			tagModule(d, placed[way.refs[0].Number-1], way.name, 2.9*u, "tag", room)
		}
		for _, r := range w.LeftOut {
			q := placed[r.Number-1].quad
			d.Over = append(d.Over, overPath{Class: "build-left", Path: openPath(q[0], q[2]) + openPath(q[1], q[3]), WidthMM: 0.35})
		}
		drawNumbers(s, d, placed, room)
	}
}

// ringPath is a circle.
func ringPath(c xy, r float64) string {
	return "M" + num(c.x-r) + " " + num(c.y) + "a" + num(r) + " " + num(r) + " 0 1 0 " + num(2*r) + " 0a" + num(r) + " " + num(r) + " 0 1 0 " + num(-2*r) + " 0Z"
}

// tagModule writes a name inside a module, beside what is drawn there if it can.
func tagModule(d *drawing, m placedModule, text string, size float64, class string, room *room) {
	c, a, b := quadMiddle(m.quad)
	places := []xy{{-0.25, 0.27}, {0.25, 0.27}, {-0.25, -0.27}, {0.25, -0.27}, {0, 0.27}, {0, -0.27}}
	for i, f := range places {
		at := xy{c.x + a.x*f.x + b.x*f.y, c.y + a.y*f.x + b.y*f.y}
		q := box(at, textWidth(text, size), size*0.85, 0)
		if room.free(q) || i == len(places)-1 {
			room.take(q)
			d.Labels = append(d.Labels, newLabel(at, 0, text, size, class))
			return
		}
	}
}

// drawLoads draws each module with the pattern and the letter of its level and,
// where there is room, its number below.
func (b builtCandidate) drawLoads(l project.LoadsResult) func(sheet, *drawing, []placedModule, *room) {
	return func(s sheet, d *drawing, placed []placedModule, room *room) {
		for _, level := range loadLevels() {
			var of []placedModule
			for i, m := range placed {
				if l.Modules[i].Status == level.Status {
					of = append(of, m)
				}
			}
			if len(of) > 0 {
				d.Over = append(d.Over, overPath{Class: "build-load build-load-" + level.Letter, Path: quadsPath(of), Fill: "load-" + level.Letter, WidthMM: 0.18})
			}
		}
		size := numberSize(placed, s.style.UnitU)
		if size < numberMinU*s.style.UnitU {
			d.NumbersHidden = len(placed)
			return
		}
		for i, m := range placed {
			c, _, _ := quadMiddle(m.quad)
			text := levelOf(l.Modules[i].Status).Letter + " " + strconv.Itoa(m.number)
			room.take(box(c, textWidth(text, size), size, 0))
			d.Labels = append(d.Labels, newLabel(c, 0, text, size, "number"))
		}
	}
}

// drawRails draws rails, attachments and splices over the outlines of the
// modules, with each run's name at its left end.
func (b builtCandidate) drawRails(r project.RailsResult) func(sheet, *drawing, []placedModule, *room) {
	return func(s sheet, d *drawing, placed []placedModule, room *room) {
		u := s.style.UnitU
		d.Over = append(d.Over, overPath{Class: "build-module", Path: quadsPath(placed), WidthMM: 0.18})
		rails, feet, splices := "", "", ""
		for i, l := range r.Lines {
			from, to := s.at(l.From), s.at(l.To)
			rails += openPath(from, to)
			room.addPath(lineMark, from, to)
			for _, a := range l.Attachments {
				p, h := s.at(a), 0.65*u
				feet += closedPath([]xy{{p.x - h, p.y - h}, {p.x + h, p.y - h}, {p.x + h, p.y + h}, {p.x - h, p.y + h}})
			}
			for _, at := range l.Splices {
				splices += acrossPath(s.at(at), from, to, 1.1*u)
			}
			if i%2 == 1 { // the second rail of a run
				other := s.at(r.Lines[i-1].From)
				number, _ := b.planeLabel(l.PlaneID)
				b.tagRun(d, xy{(from.x + other.x) / 2, (from.y + other.y) / 2}, to, from, number+"."+strconv.Itoa(l.Run), room, 2.4*u)
			}
		}
		d.Over = append(d.Over, overPath{Class: "build-rail", Path: rails, WidthMM: 0.4}, overPath{Class: "build-attach", Path: feet, WidthMM: 0.15},
			overPath{Class: "build-splice", Path: splices, WidthMM: 0.3})
		drawNumbers(s, d, placed, room)
	}
}

// acrossPath is two short strokes across a line at one of its places.
func acrossPath(at, from, to xy, half float64) string {
	long := math.Hypot(to.x-from.x, to.y-from.y)
	if long == 0 {
		return ""
	}
	dx, dy := (to.x-from.x)/long, (to.y-from.y)/long
	path := ""
	for _, side := range []float64{-0.35, 0.35} {
		c := xy{at.x + dx*half*side, at.y + dy*half*side}
		path += openPath(xy{c.x - dy*half, c.y + dx*half}, xy{c.x + dy*half, c.y - dx*half})
	}
	return path
}

// tagRun writes a run's name within its first module, between the rails.
func (b builtCandidate) tagRun(d *drawing, mid, to, from xy, text string, room *room, size float64) {
	long := math.Hypot(to.x-from.x, to.y-from.y)
	if long == 0 {
		return
	}
	dx, dy := (to.x-from.x)/long, (to.y-from.y)/long
	step := textWidth(text, size)
	for _, f := range []float64{0.75, 1.3, -0.75, 2} {
		if placeLabel(d, room, xy{mid.x + dx*step*f, mid.y + dy*step*f}, 0, text, size, "tag") {
			return
		}
	}
}
