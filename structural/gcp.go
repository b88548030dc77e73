package structural

import "slices"

// gcpMaxPitchDeg is the pitch up to which the table has rows.
const gcpMaxPitchDeg = 45

// gcpSource stands beside every coefficient of the table.
const gcpSource = "table from memory of ASCE 7-16 Fig. 30.3-2, smallest area, the larger figure where memory is unsure: check it against the standard"

// gcpRow holds the coefficients of roofs up to a pitch: suction inside, along
// edges, in corners at an eave, in corners at a ridge; and pressure.
type gcpRow struct {
	upToDeg                              float64
	inner, edge, eaveCorner, ridgeCorner float64
	down                                 float64
}

// TableGCp returns the coefficient of a zone for a pitch from a table that is
// from memory; false where it has none: above 45 degrees, or for a zone that
// does not go with the pitch. The figures are those of gable roofs at the
// smallest effective area, 10 ft2, without the reduction that a larger area
// would allow; on a roof with hips the eave zone takes the edge figure, which a
// gable's eave does not.
func TableGCp(z Zone, pitchDeg float64, hips bool) (ZoneGCp, bool) {
	flat := slices.Contains([]Zone{Zone2, Zone3}, z)
	if !(pitchDeg >= 0 && pitchDeg <= gcpMaxPitchDeg) || !slices.Contains(Zones(), z) || z != Zone1 && flat != (pitchDeg <= flatDeg) {
		return ZoneGCp{}, false
	}
	rows := [...]gcpRow{
		{flatDeg, 1.7, 2.3, 3.2, 3.2, 0.3},
		{20, 2.0, 3.0, 3.0, 3.6, 0.7},
		{27, 1.5, 2.5, 2.5, 3.6, 0.7},
		{gcpMaxPitchDeg, 1.8, 2.5, 3.2, 3.2, 0.9},
	}
	row := rows[slices.IndexFunc(rows[:], func(r gcpRow) bool { return pitchDeg <= r.upToDeg })]
	g := ZoneGCp{Zone: z, Down: row.down}
	switch z {
	case Zone1:
		g.Up = row.inner
	case Zone2E:
		g.Up = row.inner
		if hips {
			g.Up = row.edge
		}
	case Zone2, Zone2N, Zone2R:
		g.Up = row.edge
	case Zone3E:
		g.Up = row.eaveCorner
	case Zone3, Zone3R:
		g.Up = row.ridgeCorner
	}
	return g, true
}

// coefficient returns the typed coefficient of a zone or, where none is typed at
// all, that of the table; and its source. False where there is none.
func (w FlushWind) coefficient(z Zone, pitchDeg float64, hips bool) (ZoneGCp, string, bool) {
	if len(w.GCp) == 0 {
		g, ok := TableGCp(z, pitchDeg, hips)
		return g, gcpSource, ok
	}
	at := slices.IndexFunc(w.GCp, func(g ZoneGCp) bool { return g.Zone == z })
	if at < 0 {
		return ZoneGCp{}, "", false
	}
	return w.GCp[at], "typed", true
}
