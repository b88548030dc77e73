package energy

// HeatCoefficients are Faiman's: the cell is G / (ConstantWM2K + WindWsM3K v)
// warmer than the air.
type HeatCoefficients struct {
	// ConstantWM2K is U0, W/m2K; WindWsM3K is U1, W s/m3K.
	ConstantWM2K, WindWsM3K float64
}

func mountings() []string {
	return []string{string(OpenRack), string(FlatRoof), string(FlushOnRoof), string(Facade)}
}

// HeatLoss returns the coefficients of a mounting. Open rack: U0 25, U1 6.84,
// Faiman, Prog. Photovolt. 16 (2008) 307-315. The others divide both by the
// factor by which that mounting is warmer: 1.2 on a flat roof, 1.8 flush on a
// sloped roof, 2.4 on a facade (Skoplaki, Boudouvis and Palyvos, SOLMAT 92
// (2008) 1393-1402, from memory). An unknown mounting is a *[ChoiceError].
func HeatLoss(m Mounting) (HeatCoefficients, error) {
	warmer := 1.0
	switch m {
	case OpenRack:
	case FlatRoof:
		warmer = 1.2
	case FlushOnRoof:
		warmer = 1.8
	case Facade:
		warmer = 2.4
	default:
		return HeatCoefficients{}, &ChoiceError{"Mounting", string(m), mountings()}
	}
	return HeatCoefficients{25 / warmer, 6.84 / warmer}, nil
}

// ForNMOT scales open-rack coefficients, or those of any mounting, to a
// module's own nominal operating temperature: at 800 W/m2, 20 C and 1 m/s on an
// open rack the cell then is at nmotC (IEC 61215-2:2016 MQT 05, from memory).
// 0 means that it is not known and leaves them as they are.
func (h HeatCoefficients) ForNMOT(nmotC float64) HeatCoefficients {
	if nmotC == 0 {
		return h
	}
	const openRackAt1MS = 25 + 6.84
	k := 800 / (nmotC - 20) / openRackAt1MS
	return HeatCoefficients{h.ConstantWM2K * k, h.WindWsM3K * k}
}

// CellC is the cell's temperature under an irradiance and wind.
func (h HeatCoefficients) CellC(airC, planeWM2, windMS float64) float64 {
	return airC + planeWM2/(h.ConstantWM2K+h.WindWsM3K*windMS)
}
