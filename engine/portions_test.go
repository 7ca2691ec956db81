package engine_test

import (
	"slices"
	"testing"

	"lixivium.example/engine"
)

// halves is the bar in two halves, b with 3 % of an additive of unsure acid.
func halves(acid engine.Measured) *engine.Recipe {
	r := bar()
	r.Alkali.SuperfatPct = engine.Some(3)
	r.Portions = []engine.Portion{{ID: "a", BaseSharePct: 50}, {ID: "b", BaseSharePct: 50}}
	r.Doses = []engine.Dose{{ID: "d", PortionID: "b", OfFatsPct: engine.Some(3), Custom: &engine.CustomAdditive{Name: "Unsure", AlkaliMolPerG: &acid}}}
	return r
}

// The portion with the lowest superfat is shown first, but a portion that may be
// lye-heavy is never passed over, wherever its best estimate lies.
func TestUnsurePortionIsSaid(t *testing.T) {
	f := formulate(t, halves(engine.Measured{Value: 0.001, HalfWidth: engine.Some(0.01)}))
	b := f.Portions[1].Superfat
	if f.Superfat.PortionID != "a" || b.Verdict < engine.Caution {
		t.Fatalf("first %+v, b %+v", f.Superfat, b)
	}
	if !slices.ContainsFunc(f.Findings, func(x engine.Finding) bool {
		return x.Severity == b.Verdict && slices.Contains(x.Subjects, "b")
	}) {
		t.Errorf("portion b is lye-heavy with %.0f %%, and nobody says so: %+v", b.ExcessPct, f.Findings)
	}
}

// What is unsure in one portion is unsure there alone, also when its best
// estimate is nothing.
func TestDoubtStaysInItsPortion(t *testing.T) {
	plain := bar()
	plain.Alkali.SuperfatPct = engine.Some(3)
	want := formulate(t, plain).Superfat.UncertaintyPct
	for _, value := range []float64{0, 0.001} {
		f := formulate(t, halves(engine.Measured{Value: value, HalfWidth: engine.Some(0.01)}))
		a, b := f.Portions[0].Superfat, f.Portions[1].Superfat
		if !near(float64(a.UncertaintyPct), float64(want), 1e-9) {
			t.Errorf("acid %g: a has %g points, without the dose %g", value, a.UncertaintyPct, want)
		}
		// 3 % of 0.01 mol/g in b alone: 0.15 mol over half of 3.77 mol, over √3.
		if b.UncertaintyPct < 4.5 {
			t.Errorf("acid %g: b has only %g points", value, b.UncertaintyPct)
		}
	}
}

// A stock used as it stands needs no more water: none is weighed, and no balance
// is asked to show nothing.
func TestStockAsItStands(t *testing.T) {
	for strength := 30.0; strength <= 50; strength++ {
		for fats := 700.0; fats < 770; fats += 7 {
			r := bar()
			r.Fats[0].Mass = engine.InGrams(fats)
			r.Alkali.NaOH = &engine.AlkaliStock{Solution: &engine.SolutionStrength{MassPct: engine.Some(strength)}}
			r.Water = concentration(strength)
			for _, balances := range [][]engine.Balance{nil, scales(1)} {
				f, err := formulated(r, balances)
				if err != nil {
					t.Fatalf("%g %% stock, %g g of olive oil: %v", strength, fats, err)
				}
				// On a balance the stock goes down by up to a step, and water stays asked
				// for less stock: a step of it at most.
				if g := grams(f, "water"); balances == nil && g > 0 || g > 1 {
					t.Fatalf("%g %% stock, %g g of olive oil: %g g of water to weigh", strength, fats, g)
				}
			}
		}
	}
}
