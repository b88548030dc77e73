//go:build !js

package project

import "rooftally/energy"

// YieldTerms are the models, losses and spreads that yields are reckoned with.
type YieldTerms struct {
	// Sky names an energy.SkyModel and Glass an energy.GlassModel with its usual
	// number.
	Sky   string `json:"sky"`
	Glass string `json:"glass"`
	// Albedo is the ground's reflectance, 0 to 1.
	Albedo float64 `json:"albedo"`
	// Losses are multiplied in their order, 0 to 20 lines.
	Losses []LossLine `json:"losses"`
	// WeatherSigmaPct is how far one year lies from the typical one and
	// ModelSigmaPct how far the models may be off, as standard deviations in
	// percent of a year's energy, each 0 to 30.
	WeatherSigmaPct float64 `json:"weather_sigma_pct"`
	ModelSigmaPct   float64 `json:"model_sigma_pct"`
}

// LossLine is one loss; see energy.LossLine.
type LossLine struct {
	// ID is 1 to 40 of a-z 0-9 '-' and '_', unlike that of the other lines and
	// of the losses that are reckoned.
	ID string `json:"id"`
	// Label is what people call it: 1 to 60 characters.
	Label string `json:"label"`
	// Side is "dc" (before the inverter) or "ac" (after it).
	Side string `json:"side"`
	// MonthlyPct is the loss of each month, January first, -10 to 100 %; below 0
	// is a gain.
	MonthlyPct [12]float64 `json:"monthly_pct"`
}

// defaultYieldTerms are those of a new document: the defaults of package energy.
func defaultYieldTerms() YieldTerms {
	options, spread := energy.DefaultOptions(), energy.DefaultSpread()
	out := YieldTerms{
		Sky: string(options.Sky), Glass: string(options.Glass.Model), Albedo: options.Albedo,
		WeatherSigmaPct: spread.WeatherPct, ModelSigmaPct: spread.ModelPct,
	}
	for _, l := range energy.DefaultLosses() {
		out.Losses = append(out.Losses, LossLine{ID: l.ID, Label: l.Label, Side: string(l.Side), MonthlyPct: l.MonthlyPct})
	}
	return out
}
