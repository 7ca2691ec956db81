package trace

import "math"

// fatHeatCapacity is of liquid fat in kJ/(kg K), 2.02 at 25 °C and 2.06 at 60
// (Choi and Okos 1986), rounded.
const fatHeatCapacity = 2.0

// lyeHeatCapacity is of soda lye at 25-40 °C by wt%, in kJ/(kg K): water 4.18,
// the others reckoned with the correlation of Laliberté, J. Chem. Eng. Data 54
// (2009) 1725. Potash lye runs to 0.7 lower, which moves a mix by 1-2 °C.
var lyeHeatCapacity = []struct{ pct, kJ float64 }{
	{0, 4.18}, {25, 3.61}, {30, 3.57}, {33, 3.57}, {40, 3.47}, {50, 3.23},
}

// MixTemperature gives the temperature in °C that fats and lye reach when they
// are put together, before they react and without losses: each counts by mass
// and heat capacity. Masses are in grams, lyePct is the alkali of the lye in
// percent. Fats are taken as liquid: fat yet to melt makes the mix cooler.
// Without mass or with an impossible figure the answer is not known.
func MixTemperature(fatsG, fatsC, lyeG, lyeC, lyePct float64) (c float64, known bool) {
	const mostG = 1e12 // beyond any batch, and well inside what can be multiplied
	// written so that NaN fails every part
	possible := fatsG >= 0 && lyeG >= 0 && fatsG+lyeG > 0 && math.Max(fatsG, lyeG) <= mostG &&
		lyePct >= 0 && lyePct <= 100 && possibleC(fatsC) && possibleC(lyeC)
	if !possible {
		return 0, false
	}
	fats, lye := float64(fatsG*fatHeatCapacity), float64(lyeG*lyeCapacity(lyePct))
	// weighted from the fats' side: equal temperatures stay exactly what they are
	return fatsC + float64((lyeC-fatsC)*(lye/(fats+lye))), true
}

// possibleC refuses what no fat or lye can have, not what is unusual.
func possibleC(c float64) bool { return c > -273.15 && c < 1000 }

// lyeCapacity is linear between knots and flat past the strongest, which is
// about as much as dissolves.
func lyeCapacity(pct float64) float64 {
	t := lyeHeatCapacity
	for i := 1; i < len(t); i++ {
		if pct <= t[i].pct {
			share := (pct - t[i-1].pct) / (t[i].pct - t[i-1].pct)
			return t[i-1].kJ + float64((t[i].kJ-t[i-1].kJ)*share)
		}
	}
	return t[len(t)-1].kJ
}
