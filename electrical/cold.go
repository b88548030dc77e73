package electrical

import "math"

// Method says how the open-circuit voltage in the cold is found.
type Method string

// The methods.
const (
	// ByCoefficient uses the maker's temperature coefficient (NEC 690.7(A)(1)).
	ByCoefficient Method = "coefficient"
	// ByTable uses NEC Table 690.7(A), for crystalline silicon without one.
	ByTable Method = "table"
)

// coldBand is a row of NEC Table 690.7(A): from lowC up to the next row the
// voltage is that many times the rated one.
type coldBand struct {
	lowC   float64
	factor float64
}

// The ends of NEC Table 690.7(A) in whole C.
const (
	tableTopC    = 24
	tableBottomC = -40
)

// coldBands is NEC Table 690.7(A), warmest first (NFPA 70, 2017, 2020 and 2023).
func coldBands() []coldBand {
	return []coldBand{
		{20, 1.02}, {15, 1.04}, {10, 1.06}, {5, 1.08}, {0, 1.10}, {-5, 1.12}, {-10, 1.14},
		{-15, 1.16}, {-20, 1.18}, {-25, 1.20}, {-30, 1.21}, {-35, 1.23}, {-40, 1.25},
	}
}

// TableFactor returns the factor of NEC Table 690.7(A) on the open-circuit
// voltage of crystalline silicon at the lowest air temperature. The table has
// whole degrees from 24 down to -40 C; a temperature between two is taken as the
// colder one. Outside the table, 24.1 C and -40.1 C too, it returns an
// [*InputError] of "cold_c".
func TableFactor(coldC float64) (float64, error) {
	if whole := math.Floor(coldC); coldC <= tableTopC {
		for _, band := range coldBands() {
			if whole >= band.lowC {
				return band.factor, nil
			}
		}
	}
	return 0, bad("cold_c", "is %g C; the voltage table (NEC Table 690.7(A)) goes from %d to %d C: give the module's voltage coefficient instead",
		coldC, tableTopC, tableBottomC)
}

// atCell returns a rated voltage at another cell temperature by its coefficient
// in percent per kelvin.
func atCell(ratedV, pctPerK, cellC float64) float64 {
	return ratedV * (1 + pctPerK/100*(cellC-stcCellC))
}
