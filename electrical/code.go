package electrical

// Family is the family of rules that a site lives under.
type Family string

// The families.
const (
	// NEC is the National Electrical Code, NFPA 70.
	NEC Family = "nec"
	// IEC is IEC 60364 and 62548 and what countries make of them.
	IEC Family = "iec"
)

// Place is where an array stands.
type Place string

// The places.
const (
	// OnDwelling is on or in a one- or two-family dwelling.
	OnDwelling Place = "dwelling"
	// OnBuilding is on or in another building.
	OnBuilding Place = "building"
	// OffBuilding is on the ground.
	OffBuilding Place = "ground"
)

// CodeLimit returns the highest DC voltage that the rules allow. An unknown
// family or place gives an [*InputError].
func CodeLimit(family Family, place Place) (Figure, error) {
	f := Figure{Key: "code_limit", Label: "Highest DC voltage allowed by code", Unit: "V", Formula: "by place"}
	switch family {
	case NEC:
		f.Source = "NEC 690.7 (2017 and later editions)"
	case IEC:
		f.Source = "IEC 62548 and national rules, from memory; check yours"
	default:
		return Figure{}, bad("rule_family", "is %q; it must be %q or %q", family, NEC, IEC)
	}
	switch place {
	case OnDwelling:
		f.Value, f.Numbers = 600, "one- or two-family dwelling: 600 V"
		if family == IEC {
			f.Value, f.Numbers = 1000, "on a building: 1000 V"
		}
	case OnBuilding:
		f.Value, f.Numbers = 1000, "on a building: 1000 V"
	case OffBuilding:
		f.Value, f.Numbers = 1500, "not on a building: 1500 V"
	default:
		return Figure{}, bad("place", "is %q; it must be %q, %q or %q", place, OnDwelling, OnBuilding, OffBuilding)
	}
	return f, nil
}

// Mounting is how modules are held, which decides how warm their cells get.
type Mounting string

// The mountings.
const (
	// Flush lies parallel to the roof, close above it.
	Flush Mounting = "flush"
	// OpenRack has air on both sides.
	OpenRack Mounting = "open_rack"
)

// CellRiseK returns how much warmer than the air the cells get in full sun, K:
// 35 flush on a roof, 30 on an open rack (common practice, no source). An
// unknown mounting counts as flush.
func CellRiseK(m Mounting) float64 {
	if m == OpenRack {
		return 30
	}
	return 35
}

// HotCell returns the hottest cell temperature: air plus rise.
func HotCell(airC, riseK float64) Figure {
	return Figure{
		Key: "hot_cell", Label: "Cell temperature, hot", Unit: "C", Value: airC + riseK,
		Formula: "hot air + rise of the cells in full sun",
		Numbers: num(airC) + " C + " + num(riseK) + " K = " + num(airC+riseK) + " C",
		Source:  "rise: common practice, no source",
	}
}
