package lye

import (
	"math"
	"testing"

	"lixivium.example/engine/unit"
)

// Every way of stating a strength, taken from Density by the definition of the
// unit, must come back.
func TestRoundTrips(t *testing.T) {
	const reference = float64(WaterAtHydrometerReference)
	for k, top := range map[Kind][2]float64{NaOH: {52, 100}, KOH: {51.9, 80}} {
		for c := 10.0; c <= top[1]; c += 3.7 {
			for i := range 523 {
				w := min(float64(i)*0.1, top[0])
				rho := density(t, k, w, c)
				at := unit.Celsius(c)

				back := func(how string, got unit.Percent, err error) {
					t.Helper()
					if err != nil || math.Abs(float64(got)-w) > 1e-9 {
						t.Fatalf("%v %g %% at %g °C by %s: %v, %v", k, w, c, how, got, err)
					}
				}
				got, err := StrengthFromDensity(k, unit.GramsPerML(rho), at)
				back("density", got, err)
				got, err = StrengthFromMolarity(k, 10*w*rho/k.MolarMass(), at)
				back("molarity", got, err)
				gravity := rho / reference
				// Lighter than water at the reference is off the scale; at the
				// strongest row the detour rounds across the edge.
				if gravity < 1.0001 || w == 0 || w == top[0] {
					continue
				}
				for _, modulus := range []float64{144, 144.3, 145} {
					got, err = StrengthFromBaume(k, modulus-modulus/gravity, modulus, at)
					back("Baumé", got, err)
				}
				got, err = StrengthFromTwaddell(k, 200*(gravity-1), at)
				back("Twaddell", got, err)
			}
		}
	}
}

// What an inverse returns must be accepted again, at both ends too.
func TestEndsComeBackInside(t *testing.T) {
	for k, top := range map[Kind]float64{NaOH: 52, KOH: 51.9} {
		for c := 10.0; c <= 80; c += 0.7 {
			for _, w := range []float64{0, top} {
				rho := density(t, k, w, c)
				byDensity, err := StrengthFromDensity(k, unit.GramsPerML(rho), unit.Celsius(c))
				if err != nil || float64(byDensity) != w {
					t.Fatalf("%v %g %% at %g °C: %v, %v", k, w, c, byDensity, err)
				}
				g, _ := solution(k, unit.Celsius(c))
				highest := g.column(c).gramsPerL(len(g.w)-1) / k.MolarMass()
				byMoles, err := StrengthFromMolarity(k, highest, unit.Celsius(c))
				if err != nil || float64(byMoles) > top {
					t.Fatalf("%v at %g °C: %v, %v", k, c, byMoles, err)
				}
			}
		}
	}
}

// Simmons and Appleton, The Handbook of Soap Manufacture (1908): 38 °Bé is
// specific gravity 1.357, in their caustic table 32.7 wt% NaOH. Their modulus
// follows from the pair; their table is rounder than ours and 0.3 % richer.
func TestBaumeOfTheOldTable(t *testing.T) {
	modulus := 38 * 1.357 / (1.357 - 1)
	if math.Abs(modulus-144.44) > 0.01 {
		t.Fatalf("modulus %g", modulus)
	}
	got, err := StrengthFromBaume(NaOH, 38, modulus, 15)
	if err != nil || math.Abs(float64(got)-32.7) > 0.4 {
		t.Errorf("%v, %v, want 32.7 ± 0.4", got, err)
	}
	// The same liquid on the Twaddell scale: 71.4 °Tw.
	twaddell, err := StrengthFromTwaddell(NaOH, 71.4, 15)
	if err != nil || math.Abs(float64(twaddell-got)) > 1e-9 {
		t.Errorf("Twaddell %v, %v; Baumé %v", twaddell, err, got)
	}
}

// The modulus matters, which is why it has no default.
func TestModulusMovesTheAnswer(t *testing.T) {
	us, err1 := StrengthFromBaume(NaOH, 38, 145, 15)
	old, err2 := StrengthFromBaume(NaOH, 38, 144, 15)
	if err1 != nil || err2 != nil || old-us < 0.2 || old-us > 0.4 {
		t.Errorf("145: %v %v, 144: %v %v", us, err1, old, err2)
	}
}

// Sipos et al., J. Chem. Eng. Data (2000): saturated at 25 °C are 19.1 mol/L
// NaOH, 50.2 wt%, and 14.1 mol/L KOH, 51.7 wt%.
func TestMolarityOfSaturatedLye(t *testing.T) {
	for _, c := range []struct {
		k             Kind
		molPerL, want float64
	}{{NaOH, 19.1, 50.2}, {KOH, 14.1, 51.7}} {
		got, err := StrengthFromMolarity(c.k, c.molPerL, 25)
		if err != nil || math.Abs(float64(got)-c.want) > 0.2 {
			t.Errorf("%v: %v, %v, want %g", c.k, got, err, c.want)
		}
	}
}
