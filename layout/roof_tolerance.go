package layout

// The tolerances of the roof geometry (frames, edges, setbacks, keep-outs),
// each with its unit in the name and its reason. roof_tolerance_test.go has a
// test for each. Questions of order and crossing have none: they are answered
// exactly in whole micrometres.
const (
	// coordMaxM bounds plan coordinates either way. A site is a house, not a
	// county; differences of micrometres within it stay exact in int64.
	coordMaxM = 5000

	// levelPitchDeg is the pitch under which a plane counts as level when edge
	// kinds are guessed: its azimuth then only turns the rows.
	levelPitchDeg = 2

	// shareDistM is how far apart in plan two edges may be and still be one and
	// the same: 20 mm, about the thickness of the covering. The editor snaps a
	// corner to the lines drawn before, so that edges meant as one lie closer.
	// It is also the height at which a wall that tapers out, as the cheek of a
	// dormer does, has come to its end. Half a micrometre on top lets exactly
	// 20 mm count.
	shareDistM = 0.020 + halfMicroM

	// stepHeightM is how far apart in height two edges may be all along their
	// common run and still be one and the same: 150 mm, common practice, no
	// source. A step in a roof lower than that carries no wall, only a flashing.
	// Heights come from eave height and pitch, so that a ridge drawn 40 mm off
	// its place has its two slopes 46 mm apart at 30 degrees, 80 mm at 45 and
	// 139 mm at 60 (arithmetic); it stays a ridge. Half a micrometre on top lets
	// exactly 150 mm count.
	stepHeightM = 0.150 + halfMicroM

	// shareLengthM is the shortest common run of two edges that counts, and
	// the shortest piece an edge is split into: 100 mm. Planes that meet at a
	// corner only, or pass a drawing slip, must not share an edge. Half a
	// micrometre less lets exactly 100 mm count.
	shareLengthM = 0.100 - halfMicroM

	// halfMicroM is half the step in which coordinates are told apart.
	halfMicroM = 0.5e-6

	// shareAngleDeg is the largest angle in plan between two edges that may be
	// shared. Edges that cross or part from a common corner stay within
	// shareDistM of each other for a while too; nothing is shared there. 15
	// degrees is above the slip of 20 mm at both ends of the shortest run that
	// a person would draw as one line (300 mm).
	shareAngleDeg = 15

	// levelEdgeDeg is the true slope up to which a shared edge counts as level
	// and so as a ridge rather than a hip. The gentlest real hip, between
	// planes of 2:12, climbs 6.7 degrees.
	levelEdgeDeg = 2

	// alongEaveDeg is the plan angle between an edge and the plane's contour
	// up to which an unshared edge counts as lying along the eave. It is above
	// any drawing slip and below the plan angle of usual hips (45 degrees, and
	// 15 between pitches of 45 and 15 degrees).
	alongEaveDeg = 10

	// alongFallDeg is the plan angle between an edge and the plane's fall up
	// to which the edge has neither a high nor a low side.
	alongFallDeg = 2

	// roundExcessM is the most that a polygon around a round zone may take
	// beyond the true distance. It never takes less.
	roundExcessM = 0.001

	// outsideM is how far a setback zone reaches beyond the edge it starts
	// from, and how far its round part reaches into the next one, so that
	// rounding to micrometres leaves no sliver between them. What lies there is
	// outside the plane, or taken, already.
	outsideM = 0.001

	// exemptSlackDeg lets a pitch typed as 9.46 or 9.465 degrees count as 2:12
	// (9.4623 degrees).
	exemptSlackDeg = 0.005

	// topBandM is how far below a plane's highest point an outline corner may
	// lie and still be part of its top edge, for planes without a ridge.
	topBandM = 0.020

	// holdDistM is how far outside a plane's outline the center of a keep-out
	// may lie and still be on the plane, and heightTieM how much higher another
	// plane must be to hold it instead. A center snapped to an eave or a ridge
	// must not change its plane by the last digits when the roof is turned.
	holdDistM  = 0.001
	heightTieM = 0.001

	// sideTieM is the difference in distance within which neither side of a
	// plane is nearer to a street edge.
	sideTieM = 0.001
)
