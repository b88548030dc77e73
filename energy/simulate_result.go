package energy

// result sums up a finished run.
func (r *run) result() Result {
	out := Result{Hours: r.hours, Chain: r.steps()}
	kw := r.in.Module.PmaxW / 1000
	out.Modules = make([]ModuleYield, len(r.modules))
	for i := range r.modules {
		out.Modules[i] = r.moduleYield(&r.modules[i])
	}
	for i, p := range r.in.Scene.Planes {
		out.Planes = append(out.Planes, r.planeYield(i, p, kw, out.Modules))
	}
	for i, g := range r.in.Groups {
		out.Groups = append(out.Groups, GroupYield{ID: g.ID, ACYear: r.groups[i].acWh / 1000, ClippedKWh: r.groups[i].clippedWh / 1000})
	}
	out.Total = total(out.Planes)
	return out
}

func (r *run) moduleYield(m *moduleRun) ModuleYield {
	p := &r.planes[m.plane]
	y := ModuleYield{DCKWh: m.dcWh / 1000, ACKWh: m.acWh / 1000}
	var open float64
	for i := range 12 {
		y.POAKWhM2[i] = m.lit[i] / 1000
		open += p.open[i] / 1000
		if p.open[i] > 0 {
			y.MonthlyAccess[i] = m.lit[i] / p.open[i]
		}
		y.SkyView += p.views[m.slot].mix(r.leafOn[i]) / 12
	}
	y.POAYear = sum12(y.POAKWhM2)
	if open > 0 {
		y.Access = y.POAYear / open
	}
	return y
}

func (r *run) planeYield(i int, p Plane, kw float64, modules []ModuleYield) Yield {
	run := &r.planes[i]
	y := Yield{ID: p.ID, Modules: len(run.modules), KWp: kw * float64(len(run.modules))}
	for m := range 12 {
		y.POAKWhM2[m] = run.open[m] / 1000
		y.ACKWh[m] = run.acWh[m] / 1000
	}
	for _, k := range run.modules {
		y.ShadedYear += modules[k].POAYear / float64(len(run.modules))
	}
	y.finish()
	return y
}

// total adds planes; irradiations are means weighted by power.
func total(planes []Yield) Yield {
	var t Yield
	for _, p := range planes {
		t.Modules += p.Modules
		t.KWp += p.KWp
	}
	for _, p := range planes {
		if p.KWp == 0 {
			continue
		}
		share := p.KWp / t.KWp
		t.ShadedYear += share * p.ShadedYear
		for m := range 12 {
			t.POAKWhM2[m] += share * p.POAKWhM2[m]
			t.ACKWh[m] += p.ACKWh[m]
		}
	}
	t.finish()
	return t
}

// steps makes the chain: the hourly sums, with the loss lines between them.
func (r *run) steps() []ChainStep {
	var out []ChainStep
	left := r.chain[stepLight]
	add := func(id, label string, next [12]float64) {
		before, after := sum12(left), sum12(next)
		s := ChainStep{ID: id, Label: label, KWh: after / 1000}
		if before > 0 {
			s.LossPct = 100 * (1 - after/before)
		}
		out = append(out, s)
		left = next
	}
	line := func(l LossLine) {
		next := left
		for m := range next {
			next[m] *= 1 - l.MonthlyPct[m]/100
		}
		add(l.ID, l.Label, next)
	}
	add("light", "Light on the open planes", left)
	add("shade", "Shade and horizon", r.chain[stepShade])
	add("glass", "Glass at an angle", r.chain[stepGlass])
	add("heat", "Heat", r.chain[stepHeat])
	add("low_light", "Low light", r.chain[stepLowLight])
	add("string_shade", "Uneven light in strings", r.chain[stepString])
	first := LossLine{ID: "first_year", Label: "First year in light"}
	for m := range first.MonthlyPct {
		first.MonthlyPct[m] = r.in.Module.FirstYearLossPct
	}
	line(first)
	for _, l := range r.in.Losses {
		if l.Side == BeforeInverter {
			line(l)
		}
	}
	add("inverter", "Inverter", r.chain[stepInverter])
	add("clipping", "Inverter at its limit", r.chain[stepClipping])
	for _, l := range r.in.Losses {
		if l.Side == AfterInverter {
			line(l)
		}
	}
	return out
}
