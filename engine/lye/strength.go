package lye

import (
	"fmt"

	"lixivium.example/engine/unit"
)

// WaterAtHydrometerReference is the density of water, g/mL, that a heavy-liquid
// hydrometer is read against: 0.99910 at 15 °C, 0.99902 at 60 °F (15.56 °C),
// taken as one figure because they differ by a hundredth of a percent (IAPWS
// 1995 formulation, from memory).
const WaterAtHydrometerReference unit.GramsPerML = 0.9990

// StrengthFromDensity gives the mass percent whose Density at t °C is rho: the
// exact inverse on each straight piece. *RangeError when t is outside the table
// or rho is lighter than water or heavier than the strongest row at t.
func StrengthFromDensity(k Kind, rho unit.GramsPerML, t unit.Celsius) (unit.Percent, error) {
	g, err := solution(k, t)
	if err != nil {
		return 0, err
	}
	c := g.column(float64(t))
	last := len(g.w) - 1
	if low, high := c.knot(0), c.knot(last); !inside(float64(rho), low, high) {
		return 0, &RangeError{
			Quantity: fmt.Sprintf("density of the %s solution at %g °C", k, float64(t)),
			Value:    float64(rho), Low: low, High: high, Unit: "g/mL",
			Next: "check the reading, its unit (g/mL or kg/L) and the temperature of the solution",
		}
	}
	i := c.bracket(float64(rho), column.knot)
	a, b := c.knot(i), c.knot(i+1)
	return unit.Percent(lerp(g.w[i], g.w[i+1], (float64(rho)-a)/(b-a))), nil
}

// StrengthFromMolarity gives the mass percent of a solution with molPerL mol of
// alkali in a liter at t °C, by Density. *RangeError outside the tables.
func StrengthFromMolarity(k Kind, molPerL float64, t unit.Celsius) (unit.Percent, error) {
	g, err := solution(k, t)
	if err != nil {
		return 0, err
	}
	c := g.column(float64(t))
	last := len(g.w) - 1
	if high := c.gramsPerL(last) / k.MolarMass(); !inside(molPerL, 0, high) {
		return 0, &RangeError{
			Quantity: fmt.Sprintf("amount of %s per liter at %g °C", k, float64(t)),
			Value:    molPerL, High: high, Unit: "mol/L",
			Next: "give moles of pure alkali per liter of finished solution",
		}
	}
	// The conversion is needed: Go may fuse a product into a sum of a later line.
	want := float64(molPerL * k.MolarMass())
	i := c.bracket(want, column.gramsPerL)
	want /= 10
	left, right := g.w[i], g.w[i+1]
	slope := (c.knot(i+1) - c.knot(i)) / (right - left)
	base := c.knot(i) - float64(slope*left)
	// want = w × (base + slope × w) by Newton from the left end: four steps
	// settle any segment, two more cost nothing. A square root would do as well
	// but is not among + - * /.
	w := left
	for range 6 {
		w = (want + float64(float64(slope*w)*w)) / (base + float64(2*float64(slope*w)))
	}
	// The last bit of rounding must not carry the answer past the table's end.
	return unit.Percent(min(max(w, left), right)), nil
}

// StrengthFromBaume gives the mass percent of a solution that reads degrees on
// a heavy-liquid Baumé hydrometer: specific gravity = modulus / (modulus −
// degrees), against water at 15 °C or 60 °F (WaterAtHydrometerReference). t is
// the temperature of the solution when read; nothing corrects the glass, which
// matters by 0.0003 per 10 °C.
//
// The modulus is printed on the instrument or its chart and has no default: 145
// (United States, 60/60 °F), 144.3 (rational scale, 15/15 °C) and 144 (older
// tables) part by 0.3 % NaOH at 38 °Bé. *RangeError for a modulus outside
// 140-150 or a reading outside the tables.
func StrengthFromBaume(k Kind, degrees, modulus float64, t unit.Celsius) (unit.Percent, error) {
	if !inside(modulus, 140, 150) {
		return 0, &RangeError{
			Quantity: "Baumé modulus", Value: modulus, Low: 140, High: 150,
			Next: "state the modulus of the hydrometer or chart: 145 (United States, 60/60 °F), " +
				"144.3 (rational, 15/15 °C) or 144 (older tables); there is no default",
		}
	}
	if high := modulus / 2; !inside(degrees, 0, high) {
		return 0, &RangeError{
			Quantity: "Baumé reading", Value: degrees, High: high, Unit: "°Bé",
			Next: "read the scale for liquids heavier than water; concentrated lye is below 55",
		}
	}
	w, err := fromGravity(k, modulus/(modulus-degrees), t)
	if err != nil {
		return 0, fmt.Errorf("%g °Bé with modulus %g: %w", degrees, modulus, err)
	}
	return w, nil
}

// StrengthFromTwaddell gives the mass percent of a solution that reads degrees
// on a Twaddell hydrometer: specific gravity = 1 + degrees/200, against water at
// 60 °F. t is the temperature of the solution when read. *RangeError for a
// reading outside the tables.
func StrengthFromTwaddell(k Kind, degrees float64, t unit.Celsius) (unit.Percent, error) {
	if !inside(degrees, 0, 200) {
		return 0, &RangeError{
			Quantity: "Twaddell reading", Value: degrees, High: 200, Unit: "°Tw",
			Next: "give degrees Twaddell, 200 × (specific gravity − 1)",
		}
	}
	w, err := fromGravity(k, 1+degrees/200, t)
	if err != nil {
		return 0, fmt.Errorf("%g °Tw: %w", degrees, err)
	}
	return w, nil
}

func fromGravity(k Kind, gravity float64, t unit.Celsius) (unit.Percent, error) {
	return StrengthFromDensity(k, WaterAtHydrometerReference*unit.GramsPerML(gravity), t)
}
