package energy

// Result is the yield of the first year.
type Result struct {
	Total Yield
	// Planes has one entry per plane of the scene, in its order.
	Planes []Yield
	// Modules has one entry per module of the scene, in its order.
	Modules []ModuleYield
	// Groups has one entry per inverter group, in order.
	Groups []GroupYield
	// Chain leads from the light on the open planes to AC.
	Chain []ChainStep
	// Hours is nil unless asked for.
	Hours *HourArrays
}

// Yield is what a plane or the whole roof gives.
type Yield struct {
	// ID is the plane's; "" for the total.
	ID      string
	Modules int
	KWp     float64
	// POAKWhM2 is the irradiation of the plane by month without obstructions
	// and far horizon, before glass and dirt, kWh/m2; over several planes the mean
	// weighted by power.
	POAKWhM2 [12]float64
	POAYear  float64
	// ShadedYear is POAYear past obstructions and horizon, mean over the modules.
	ShadedYear float64
	// ACKWh is the energy by month.
	ACKWh  [12]float64
	ACYear float64
	// KWhPerKW is ACYear / KWp; PerformanceRatio is ACYear / (POAYear x KWp).
	// Both are 0 without modules.
	KWhPerKW, PerformanceRatio float64
}

// finish fills the sums and ratios.
func (y *Yield) finish() {
	y.POAYear, y.ACYear = sum12(y.POAKWhM2), sum12(y.ACKWh)
	if y.KWp > 0 {
		y.KWhPerKW = y.ACYear / y.KWp
		if y.POAYear > 0 {
			y.PerformanceRatio = y.KWhPerKW / y.POAYear
		}
	}
}

// Scaled is the yield of k times as many modules.
func (y Yield) Scaled(k float64) Yield {
	y.KWp *= k
	y.ACYear *= k
	for i := range y.ACKWh {
		y.ACKWh[i] *= k
	}
	return y
}

func sum12(m [12]float64) float64 {
	var s float64
	for _, v := range m {
		s += v
	}
	return s
}

// ModuleYield is one module's part.
type ModuleYield struct {
	// POAKWhM2 is the irradiation by month past obstructions and horizon.
	POAKWhM2 [12]float64
	POAYear  float64
	// Access is POAYear over the open plane's, 0 to 1; MonthlyAccess by month.
	Access        float64
	MonthlyAccess [12]float64
	// SkyView is the share of the even sky's light that reaches the module, mean
	// of the months.
	SkyView float64
	// DCKWh and ACKWh are the module's part of the year's energy; what a string
	// or an inverter loses is shared among its modules in proportion.
	DCKWh, ACKWh float64
}

// GroupYield is one inverter's part.
type GroupYield struct {
	ID     string
	ACYear float64
	// ClippedKWh is AC energy over the limit, lost. Hourly means understate it,
	// since a cloud's edge is brighter than its hour.
	ClippedKWh float64
}

// ChainStep is one step from sunlight to AC.
type ChainStep struct {
	// ID is "light", "shade", "glass", "heat", "low_light", "string_shade",
	// "first_year", a loss line's, "inverter" or "clipping".
	ID, Label string
	// KWh is what is left after the step: the first is the light on the open
	// planes turned into energy at the label's efficiency.
	KWh float64
	// LossPct is what the step takes of what came in; below 0 is a gain.
	LossPct float64
}

// HourArrays are the hours of the year, in its order.
type HourArrays struct {
	// ACW is the whole roof's AC power; POAWM2 and CellC are by plane and hour,
	// the open plane's irradiance and its cell temperature, the air's in the dark.
	ACW    []float64
	POAWM2 [][]float64
	CellC  [][]float64
}
