package catalog

// DemoDatasheets returns the invented modules of the demo with all their
// figures: first those of [Demo], in the same order, then further ones of 60
// and 72 full cells and of 108, 120 and 144 half cells. Nobody makes them; the
// figures are plausible for the trade, no more. Each call returns a fresh slice.
func DemoDatasheets() []Datasheet {
	return append(demoSheets(Demo()), demoMoreSheets()...)
}

// demoSheets adds the figures to the modules of [Demo].
func demoSheets(m []Module) []Datasheet {
	return []Datasheet{
		{
			Module:         m[0], // demo-300-small
			TolerancePlusW: 5, VocV: 39.9, IscA: 9.75, VmpV: 32.7, ImpA: 9.18,
			GammaPmaxPctPerK: -0.38, BetaVocPctPerK: -0.29, BetaVmpPctPerK: -0.37, AlphaIscPctPerK: 0.05, NOCTC: 45,
			Cells: 60, Substrings: 3, CellType: PTypeMono, ThicknessM: 0.04, WeightKg: 18.3, MaxSystemV: 1000, MaxSeriesFuseA: 20,
			LongEdge:              Loads{FrontTestPa: 5400, FrontDesignPa: 3600, RearTestPa: 2400, RearDesignPa: 1600},
			ShortEdge:             Loads{FrontTestPa: 2400, FrontDesignPa: 1600, RearTestPa: 2400, RearDesignPa: 1600},
			RelativeEfficiency200: 0.96, FirstYearLossPct: 3, YearlyLossPct: 0.7, LossLaw: LinearLoss,
			ProductWarrantyYears: 10, PerformanceWarrantyYears: 25, Price: 92,
		},
		{
			Module:         m[1], // demo-330-small
			TolerancePlusW: 5, VocV: 41.4, IscA: 10.05, VmpV: 34.6, ImpA: 9.54,
			GammaPmaxPctPerK: -0.3, BetaVocPctPerK: -0.26, BetaVmpPctPerK: -0.29, AlphaIscPctPerK: 0.04, NMOTC: 43,
			Cells: 120, HalfCut: true, Substrings: 3, CellType: NTypeMono, ThicknessM: 0.035, WeightKg: 18.6, MaxSystemV: 1000, MaxSeriesFuseA: 20,
			LongEdge:              Loads{FrontTestPa: 5400, FrontDesignPa: 3600, RearTestPa: 2400, RearDesignPa: 1600},
			ShortEdge:             Loads{FrontTestPa: 2400, FrontDesignPa: 1600, RearTestPa: 2400, RearDesignPa: 1600},
			RelativeEfficiency200: 0.975, FirstYearLossPct: 1, YearlyLossPct: 0.4, LossLaw: LinearLoss,
			ProductWarrantyYears: 20, PerformanceWarrantyYears: 30, Price: 112,
		},
		{
			Module:         m[2], // demo-360-medium
			TolerancePlusW: 5, VocV: 41.0, IscA: 11.18, VmpV: 34.0, ImpA: 10.59,
			GammaPmaxPctPerK: -0.35, BetaVocPctPerK: -0.27, BetaVmpPctPerK: -0.34, AlphaIscPctPerK: 0.045, NMOTC: 43,
			Cells: 120, HalfCut: true, Substrings: 3, CellType: PTypeMono, ThicknessM: 0.035, WeightKg: 20.2, MaxSystemV: 1000, MaxSeriesFuseA: 20,
			LongEdge:              Loads{FrontTestPa: 5400, RearTestPa: 2400},
			ShortEdge:             Loads{FrontTestPa: 2400, RearTestPa: 1600},
			RelativeEfficiency200: 0.965, FirstYearLossPct: 2, YearlyLossPct: 0.55, LossLaw: LinearLoss,
			ProductWarrantyYears: 12, PerformanceWarrantyYears: 25, Price: 110,
		},
		{
			Module:         m[3], // demo-400-medium
			TolerancePlusW: 5, VocV: 37.8, IscA: 13.35, VmpV: 31.6, ImpA: 12.66,
			GammaPmaxPctPerK: -0.29, BetaVocPctPerK: -0.25, BetaVmpPctPerK: -0.28, AlphaIscPctPerK: 0.045, NMOTC: 42,
			Cells: 108, HalfCut: true, Substrings: 3, CellType: NTypeMono, ThicknessM: 0.03, WeightKg: 20.8, MaxSystemV: 1500, MaxSeriesFuseA: 25,
			LongEdge:              Loads{FrontTestPa: 5400, FrontDesignPa: 3600, RearTestPa: 2400, RearDesignPa: 1600},
			ShortEdge:             Loads{FrontTestPa: 3600, FrontDesignPa: 2400, RearTestPa: 2400, RearDesignPa: 1600},
			RelativeEfficiency200: 0.975, FirstYearLossPct: 1, YearlyLossPct: 0.4, LossLaw: LinearLoss,
			ProductWarrantyYears: 25, PerformanceWarrantyYears: 30, Price: 128,
		},
		{
			Module:         m[4], // demo-420-large
			TolerancePlusW: 5, VocV: 48.6, IscA: 11.02, VmpV: 40.4, ImpA: 10.4,
			GammaPmaxPctPerK: -0.36, BetaVocPctPerK: -0.28, BetaVmpPctPerK: -0.35, AlphaIscPctPerK: 0.05, NMOTC: 44,
			Cells: 72, Substrings: 3, CellType: PTypeMono, ThicknessM: 0.04, WeightKg: 24.2, MaxSystemV: 1000, MaxSeriesFuseA: 20,
			LongEdge:              Loads{FrontTestPa: 5400, FrontDesignPa: 3600, RearTestPa: 3800, RearDesignPa: 2530},
			ShortEdge:             Loads{FrontTestPa: 2400, FrontDesignPa: 1600, RearTestPa: 2400, RearDesignPa: 1600},
			RelativeEfficiency200: 0.96, FirstYearLossPct: 2.5, YearlyLossPct: 0.6, LossLaw: LinearLoss,
			ProductWarrantyYears: 12, PerformanceWarrantyYears: 25, Price: 121,
		},
		{
			Module:         m[5], // demo-450-large
			TolerancePlusW: 5, VocV: 42.6, IscA: 13.36, VmpV: 35.4, ImpA: 12.71,
			GammaPmaxPctPerK: -0.29, BetaVocPctPerK: -0.25, BetaVmpPctPerK: -0.28, AlphaIscPctPerK: 0.045, NMOTC: 42,
			Cells: 120, HalfCut: true, Substrings: 3, CellType: NTypeMono, ThicknessM: 0.035, WeightKg: 23.4, MaxSystemV: 1500, MaxSeriesFuseA: 25,
			LongEdge:              Loads{FrontTestPa: 6000, FrontDesignPa: 4000, RearTestPa: 4000, RearDesignPa: 2660},
			ShortEdge:             Loads{FrontTestPa: 3600, FrontDesignPa: 2400, RearTestPa: 2400, RearDesignPa: 1600},
			RelativeEfficiency200: 0.975, FirstYearLossPct: 1, YearlyLossPct: 0.4, LossLaw: CompoundLoss,
			ProductWarrantyYears: 25, PerformanceWarrantyYears: 30, Price: 142,
		},
	}
}

// demoMoreSheets are the modules that [Demo] does not list.
func demoMoreSheets() []Datasheet {
	return []Datasheet{
		{
			Module:         Module{ID: "demo-340-long", Label: "Invented 340 W, 72 cells", PmaxW: 340, LengthM: 1.96, WidthM: 0.992, Invented: true},
			TolerancePlusW: 5, VocV: 46.4, IscA: 9.42, VmpV: 38.3, ImpA: 8.88,
			GammaPmaxPctPerK: -0.4, AlphaIscPctPerK: 0.05, NOCTC: 45,
			Cells: 72, Substrings: 3, CellType: PTypePoly, ThicknessM: 0.04, WeightKg: 22.5, MaxSystemV: 1000, MaxSeriesFuseA: 15,
			LongEdge:              Loads{FrontTestPa: 5400, RearTestPa: 2400},
			ShortEdge:             Loads{FrontTestPa: 2400, RearTestPa: 2400},
			RelativeEfficiency200: 0.955, FirstYearLossPct: 2.5, YearlyLossPct: 0.7, LossLaw: LinearLoss,
			ProductWarrantyYears: 10, PerformanceWarrantyYears: 25, Price: 105,
		},
		{
			Module:         Module{ID: "demo-410-black", Label: "Invented 410 W, 108 half cells, black", PmaxW: 410, LengthM: 1.722, WidthM: 1.134, Invented: true},
			TolerancePlusW: 5, VocV: 37.2, IscA: 13.95, VmpV: 31.1, ImpA: 13.19,
			GammaPmaxPctPerK: -0.35, BetaVocPctPerK: -0.27, BetaVmpPctPerK: -0.34, AlphaIscPctPerK: 0.045, NMOTC: 43,
			Cells: 108, HalfCut: true, Substrings: 3, CellType: PTypeMono, ThicknessM: 0.03, WeightKg: 21.3, MaxSystemV: 1000, MaxSeriesFuseA: 25,
			LongEdge:              Loads{FrontTestPa: 5400, FrontDesignPa: 3600, RearTestPa: 2400, RearDesignPa: 1600},
			ShortEdge:             Loads{FrontTestPa: 2400, FrontDesignPa: 1600, RearTestPa: 1600},
			RelativeEfficiency200: 0.965, FirstYearLossPct: 2, YearlyLossPct: 0.55, LossLaw: LinearLoss,
			ProductWarrantyYears: 15, PerformanceWarrantyYears: 25, Price: 118,
		},
		{
			Module:         Module{ID: "demo-415-hjt", Label: "Invented 415 W, heterojunction", PmaxW: 415, LengthM: 1.755, WidthM: 1.038, Invented: true},
			TolerancePlusW: 5, VocV: 44.8, IscA: 11.48, VmpV: 37.9, ImpA: 10.95,
			GammaPmaxPctPerK: -0.26, BetaVocPctPerK: -0.24, BetaVmpPctPerK: -0.25, AlphaIscPctPerK: 0.04, NMOTC: 43,
			Cells: 120, HalfCut: true, Substrings: 3, CellType: Heterojunction, ThicknessM: 0.04, WeightKg: 20.5, MaxSystemV: 1000, MaxSeriesFuseA: 25,
			LongEdge:              Loads{FrontTestPa: 6000, FrontDesignPa: 4000, RearTestPa: 4000, RearDesignPa: 2660},
			ShortEdge:             Loads{FrontTestPa: 3600, FrontDesignPa: 2400, RearTestPa: 2400, RearDesignPa: 1600},
			RelativeEfficiency200: 0.98, FirstYearLossPct: 1, YearlyLossPct: 0.25, LossLaw: LinearLoss,
			ProductWarrantyYears: 25, PerformanceWarrantyYears: 30, Price: 205,
		},
		{
			Module:         Module{ID: "demo-430-n", Label: "Invented 430 W, 108 half cells, n-type", PmaxW: 430, LengthM: 1.722, WidthM: 1.134, Invented: true},
			TolerancePlusW: 5, VocV: 38.9, IscA: 14.02, VmpV: 32.6, ImpA: 13.19,
			GammaPmaxPctPerK: -0.29, BetaVocPctPerK: -0.25, BetaVmpPctPerK: -0.28, AlphaIscPctPerK: 0.045, NMOTC: 42,
			Cells: 108, HalfCut: true, Substrings: 3, CellType: NTypeMono, ThicknessM: 0.03, WeightKg: 21.0, MaxSystemV: 1500, MaxSeriesFuseA: 30,
			LongEdge:              Loads{FrontTestPa: 5400, FrontDesignPa: 3600, RearTestPa: 2400, RearDesignPa: 1600},
			ShortEdge:             Loads{FrontTestPa: 2400, FrontDesignPa: 1600, RearTestPa: 2400, RearDesignPa: 1600},
			RelativeEfficiency200: 0.975, FirstYearLossPct: 1, YearlyLossPct: 0.4, LossLaw: CompoundLoss,
			ProductWarrantyYears: 25, PerformanceWarrantyYears: 30, Price: 135,
		},
		{
			Module:         Module{ID: "demo-550-field", Label: "Invented 550 W, 144 half cells", PmaxW: 550, LengthM: 2.278, WidthM: 1.134, Invented: true},
			TolerancePlusW: 5, VocV: 49.9, IscA: 13.98, VmpV: 42.0, ImpA: 13.1,
			GammaPmaxPctPerK: -0.34, BetaVocPctPerK: -0.27, BetaVmpPctPerK: -0.33, AlphaIscPctPerK: 0.045, NMOTC: 43,
			Cells: 144, HalfCut: true, Substrings: 3, CellType: PTypeMono, ThicknessM: 0.035, WeightKg: 28.0, MaxSystemV: 1500, MaxSeriesFuseA: 25,
			LongEdge:              Loads{FrontTestPa: 5400, RearTestPa: 2400},
			RelativeEfficiency200: 0.965, FirstYearLossPct: 2, YearlyLossPct: 0.55, LossLaw: LinearLoss,
			ProductWarrantyYears: 12, PerformanceWarrantyYears: 25, Price: 150,
		},
		{
			Module:         Module{ID: "demo-585-field", Label: "Invented 585 W, 144 half cells, n-type", PmaxW: 585, LengthM: 2.278, WidthM: 1.134, Invented: true},
			TolerancePlusW: 5, VocV: 52.3, IscA: 14.08, VmpV: 43.9, ImpA: 13.33,
			GammaPmaxPctPerK: -0.29, BetaVocPctPerK: -0.25, BetaVmpPctPerK: -0.28, AlphaIscPctPerK: 0.045, NMOTC: 43,
			Cells: 144, HalfCut: true, Substrings: 3, CellType: NTypeMono, ThicknessM: 0.03, WeightKg: 31.5, MaxSystemV: 1500, MaxSeriesFuseA: 30,
			LongEdge:              Loads{FrontTestPa: 5400, FrontDesignPa: 3600, RearTestPa: 2400, RearDesignPa: 1600},
			RelativeEfficiency200: 0.975, FirstYearLossPct: 1, YearlyLossPct: 0.4, LossLaw: LinearLoss,
			ProductWarrantyYears: 12, PerformanceWarrantyYears: 30, Price: 168,
		},
	}
}
