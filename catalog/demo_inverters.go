package catalog

// DemoInverters returns the invented string inverters of the demo. Nobody makes
// them. Each call returns a fresh slice.
func DemoInverters() []StringInverter {
	return []StringInverter{
		{
			ID: "demo-inv-3k", Label: "Invented 3 kW, one tracker", Invented: true,
			MaxDCV: 600, MaxArrayW: 4500, MPPTMinV: 80, MPPTMaxV: 550, StartV: 100,
			MPPTs:    trackers(1, 1, 16, 20),
			ACPowerW: 3000, ACCurrentA: 13.6, ACVoltageV: 230, Phases: 1, WeightedEfficiencyPct: 96.5, Price: 520,
		},
		{
			ID: "demo-inv-5k", Label: "Invented 5 kW, two trackers", Invented: true,
			MaxDCV: 600, MaxArrayW: 7500, MPPTMinV: 90, MPPTMaxV: 560, StartV: 120,
			MPPTs:    trackers(2, 1, 16, 20),
			ACPowerW: 5000, ACCurrentA: 21, ACVoltageV: 240, Phases: 1, WeightedEfficiencyPct: 97, ArcFault: true, Price: 890,
		},
		{
			ID: "demo-inv-7k6", Label: "Invented 7.6 kW, three trackers", Invented: true,
			MaxDCV: 600, MaxArrayW: 11400, MPPTMinV: 60, MPPTMaxV: 550, StartV: 90,
			MPPTs:    trackers(3, 1, 16, 21),
			ACPowerW: 7600, ACCurrentA: 32, ACVoltageV: 240, Phases: 1, WeightedEfficiencyPct: 97.5, ArcFault: true, Price: 1180,
		},
		{
			ID: "demo-inv-8k", Label: "Invented 8 kW, three-phase, two trackers", Invented: true,
			MaxDCV: 1000, MaxArrayW: 12000, MPPTMinV: 160, MPPTMaxV: 850, StartV: 180,
			MPPTs:    []MPPT{{Inputs: 2, MaxOperatingA: 27, MaxShortCircuitA: 36}, {Inputs: 1, MaxOperatingA: 13.5, MaxShortCircuitA: 18}},
			ACPowerW: 8000, ACCurrentA: 12.7, ACVoltageV: 400, Phases: 3, WeightedEfficiencyPct: 97.6, Price: 1090,
		},
		{
			ID: "demo-inv-12k", Label: "Invented 12 kW, three-phase, two trackers", Invented: true,
			MaxDCV: 1000, MaxArrayW: 18000, MPPTMinV: 200, MPPTMaxV: 850, StartV: 200,
			MPPTs:    trackers(2, 2, 27, 36),
			ACPowerW: 12000, ACCurrentA: 19.1, ACVoltageV: 400, Phases: 3, WeightedEfficiencyPct: 98, ArcFault: true, Price: 1420,
		},
		{
			ID: "demo-inv-30k", Label: "Invented 30 kW, three-phase, three trackers", Invented: true,
			MaxDCV: 1100, MaxArrayW: 45000, MPPTMinV: 200, MPPTMaxV: 1000, StartV: 250,
			MPPTs:    trackers(3, 2, 32, 45),
			ACPowerW: 30000, ACCurrentA: 48, ACVoltageV: 400, Phases: 3, WeightedEfficiencyPct: 98.2, ArcFault: true, Price: 2350,
		},
	}
}

// trackers returns n equal ones.
func trackers(n, inputs int, operatingA, shortA float64) []MPPT {
	out := make([]MPPT, n)
	for i := range out {
		out[i] = MPPT{Inputs: inputs, MaxOperatingA: operatingA, MaxShortCircuitA: shortA}
	}
	return out
}

// DemoMicroInverters returns the invented micro-inverter of the demo.
func DemoMicroInverters() []MicroInverter {
	return []MicroInverter{{
		ID: "demo-micro-400", Label: "Invented micro-inverter, 400 W", Invented: true,
		MaxDCV: 60, MPPTMinV: 22, MPPTMaxV: 52, StartV: 22, MaxOperatingA: 15, MaxShortCircuitA: 25, MaxModuleW: 600,
		ACPowerW: 400, ACCurrentA: 1.67, ACVoltageV: 240, Phases: 1, WeightedEfficiencyPct: 96.5,
		BranchBreakerA: 20, MaxUnitsPerBranch: 9, Price: 145,
	}}
}

// DemoOptimisers returns the invented DC optimiser of the demo.
func DemoOptimisers() []Optimiser {
	return []Optimiser{{
		ID: "demo-opt-600", Label: "Invented optimiser, 600 W", Invented: true,
		MaxInputV: 80, MPPTMinV: 10, MPPTMaxV: 70, MaxShortCircuitA: 18, MaxModuleW: 600,
		StringVoltageV: 380, MaxOutputA: 15, MinUnits: 8, MaxUnits: 25, MaxStringW: 5700,
		RapidShutdown: true, WeightedEfficiencyPct: 98.8, Price: 58,
	}}
}
