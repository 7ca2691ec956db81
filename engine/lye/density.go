package lye

import (
	"slices"

	"lixivium.example/engine/unit"
)

var (
	naohDensity = shifted(densityRows(tableNaOH20), densityRows(tableNaOHByT))
	kohDensity  = densityRows(tableKOH)
)

// Density gives the density in g/mL of a solution of mass percent pure alkali
// at t °C. NaOH 0-52 %, 10-100 °C; KOH 0-51.9 %, 10-80 °C; anything else is a
// *RangeError. It allocates nothing.
//
// NaOH is the CRC Handbook table at 20 °C, continued above 40 % by the
// International Critical Tables, plus the difference the Olsson equation (Int.
// J. Thermophys. 18, 1997) gives between t and 20 °C. A difference and not a
// ratio, because sums of straight lines are straight and can be inverted
// exactly; the two part by less than 0.0002 g/mL. KOH is Laliberté (J. Chem.
// Eng. Data 54, 2009). See DensityHalfWidth.
func Density(k Kind, mass unit.Percent, t unit.Celsius) (unit.GramsPerML, error) {
	g, err := solution(k, t)
	if err != nil {
		return 0, err
	}
	if top := g.w[len(g.w)-1]; !inside(float64(mass), 0, top) {
		return 0, &RangeError{
			Quantity: k.String() + " strength", Value: float64(mass), High: top, Unit: "%",
			Next: "give grams of pure alkali per 100 g of solution; a stronger solution does not stay dissolved",
		}
	}
	return unit.GramsPerML(g.column(float64(t)).density(float64(mass))), nil
}

// DensityHalfWidth gives the half-width of Density as percent of the density:
// 0.2 for NaOH, the spread of three published sets up to 60 °C (0.25 above); 0.7
// for KOH, where the CRC Handbook lies 0.2 % (5 wt%) to 0.67 % (36-50 wt%) below
// Laliberté and nothing settles which is right. 0 for no valid Kind.
func DensityHalfWidth(k Kind) unit.Percent {
	switch k {
	case NaOH:
		return 0.2
	case KOH:
		return 0.7
	}
	return 0
}

// DensitySource names the tables behind Density and their sources, for a
// worksheet. Empty for no valid Kind.
func DensitySource(k Kind) string {
	switch k {
	case NaOH:
		return tableNaOH20 + ": " + sources(tableNaOH20) + "; shifted from 20 °C by " +
			tableNaOHByT + ": " + sources(tableNaOHByT)
	case KOH:
		return tableKOH + ": " + sources(tableKOH)
	}
	return ""
}

// shifted lays the temperature surface onto the 20 °C column. Its strengths are
// those of both, so that it stays linear between its own.
func shifted(base, byT *grid) *grid {
	const reference = 20
	out := &grid{w: merged(base.w, byT.w), t: byT.t}
	if slices.Min(base.w) != slices.Min(byT.w) || slices.Max(base.w) != slices.Max(byT.w) {
		panic("lye: " + tableNaOH20 + " and " + tableNaOHByT + " do not cover the same strengths")
	}
	at20 := line{base.w, base.rho}
	zero := byT.column(reference)
	for _, w := range out.w {
		anchor, _ := at20.at(w)
		for _, t := range out.t {
			out.rho = append(out.rho, anchor+(byT.column(t).density(w)-zero.density(w)))
		}
	}
	return out
}
