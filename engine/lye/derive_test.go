package lye

import (
	"math"
	"testing"
)

// The derived rows of the tables are worked out again here from the published
// equations, so that a slip in a table cannot live.

func polynomial(x float64, c ...float64) float64 {
	var v float64
	for i := len(c) - 1; i >= 0; i-- {
		v = v*x + c[i]
	}
	return v
}

// olssonDensity is the density equation of Olsson, Jernqvist and Aly (1997),
// g/mL, in the square root of the water mass fraction.
func olssonDensity(w, t float64) float64 {
	s := math.Sqrt(1 - w/100)
	return polynomial(t,
		polynomial(s, 5007.2279636, -25131.164248, 74107.692582, -104657.48684, 69821.773186, -18145.911810),
		polynomial(s, -64.786269079, 525.34360564, -1608.4471903, 2350.9753235, -1660.9035108, 457.6437435),
		polynomial(s, 0.24436776978, -1.9737722344, 6.04601497138, -8.9090614947, 6.37146769397, -1.7816083111),
	) / 1000
}

// olssonEnthalpy is their enthalpy equation, kJ per kg of solution.
func olssonEnthalpy(w, t float64) float64 {
	x := 1 - w/100
	return polynomial(t,
		polynomial(x, 1288.4485, -4387.8908, 4938.2298, -1841.1890)/polynomial(x, 1, -0.49649131, -4.0915144, 7.2887292, -3.0202651),
		polynomial(x, 2.3087919, -9.0004252, 167.59914, -1051.6368, 3394.3378, -6115.0986, 6220.8249, -3348.8098, 743.87432),
		polynomial(x, 0.02302860, -0.37866056, 2.4529593, -8.2693542, 15.728833, -16.944427, 9.6254192, -2.2410628),
		1e-5*polynomial(x, -8.5131313, 136.52823, -875.68741, 2920.0398, -5488.2983, 5841.8034, -3278.7483, 754.45993),
	)
}

// laliberteDensity is the KOH density of Laliberté (2009), g/mL, over that of
// water at the same temperature.
func laliberteDensity(w, t, water float64) float64 {
	w /= 100
	apparent := (821.119043*w + 1043.201734) * math.Exp(1e-6*(t+539.630388)*(t+539.630388)) /
		(w + 0.112873330 + 0.00124023636*t)
	return 1 / ((1-w)/water + 1000*w/apparent)
}

func TestDensityRowsFromEquations(t *testing.T) {
	for _, r := range known.rows[tableNaOHByT] {
		if want := olssonDensity(r.num[0], r.num[1]); math.Abs(r.num[2]-want) > 6e-5 {
			t.Errorf("NaOH %g %% at %g °C: row %g, equation %.5f", r.num[0], r.num[1], r.num[2], want)
		}
	}
	water := map[float64]float64{}
	for _, r := range known.rows[tableKOH] {
		if r.num[0] == 0 {
			water[r.num[1]] = r.num[2]
			continue
		}
		if want := laliberteDensity(r.num[0], r.num[1], water[r.num[1]]); math.Abs(r.num[2]-want) > 1.2e-4 {
			t.Errorf("KOH %g %% at %g °C: row %g, equation %.5f", r.num[0], r.num[1], r.num[2], want)
		}
	}
}

// Linear steps may cost little against the curves they stand for.
func TestInterpolationError(t *testing.T) {
	for w := 1.25; w < 50; w += 2.5 {
		for c := 22.5; c < 60; c += 5 {
			shift := olssonDensity(w, c) - olssonDensity(w, 20)
			if got := density(t, NaOH, w, c) - density(t, NaOH, w, 20); math.Abs(got-shift) > 2.5e-4 {
				t.Errorf("NaOH %g %% at %g °C: shift %.5f, equation %.5f", w, c, got, shift)
			}
			if want := laliberteDensity(w, c, density(t, KOH, 0, c)); math.Abs(density(t, KOH, w, c)/want-1) > 5e-4 {
				t.Errorf("KOH %g %% at %g °C: %.5f, equation %.5f", w, c, density(t, KOH, w, c), want)
			}
		}
	}
}

func TestHeatRowsFromEquations(t *testing.T) {
	perMole := func(w float64) float64 {
		return (olssonEnthalpy(w, 25) - (1-w/100)*olssonEnthalpy(0, 25)) * NaOH.MolarMass() / (10 * w)
	}
	// The equation's own zero is moved by one constant, taken at 30 wt%.
	moved := known.naohHeat.y[len(known.naohHeat.y)-1] - perMole(52)
	for i, w := range known.naohHeat.x {
		if w == 0 {
			continue
		}
		if want := perMole(w) + moved; math.Abs(known.naohHeat.y[i]-want) > 0.02 {
			t.Errorf("heat at %g %%: row %g, equation %.3f", w, known.naohHeat.y[i], want)
		}
	}
	for i, w := range known.naohHeatCapacity.x {
		want := (olssonEnthalpy(w, 61) - olssonEnthalpy(w, 59)) / 2
		if math.Abs(known.naohHeatCapacity.y[i]-want) > 0.02 {
			t.Errorf("heat capacity at %g %%: row %g, equation %.3f", w, known.naohHeatCapacity.y[i], want)
		}
	}
}

// The end of a solution made of solid and water at one start: what they hold
// above 25 °C plus the heat of solution at 25 °C is what the lye holds.
func TestEndRowsFromHeatBalance(t *testing.T) {
	const solid, water = 1.488, 4.18 // kJ/(kg K)
	for _, r := range known.rows[tableEnd] {
		w, start, end := r.num[0], r.num[1], r.num[2]
		if w == 0 {
			continue
		}
		heat, _ := known.naohHeat.at(w)
		given := (w/100*solid+(1-w/100)*water)*(start-25) - heat*10*w/NaOH.MolarMass()
		held := olssonEnthalpy(w, end) - olssonEnthalpy(w, 25)
		if off := (given - held) / 3.5; math.Abs(off) > 0.1 {
			t.Errorf("%g %% from %g °C: row %g is off by %.2f °C", w, start, end, off)
		}
	}
}
