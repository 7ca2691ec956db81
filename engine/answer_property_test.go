package engine_test

import (
	"context"
	"math"
	"testing"

	"pgregory.net/rapid"

	"lixivium.example/engine"
)

// TestRecipeIsLeftAlone: answering changes nothing of the question.
func TestRecipeIsLeftAlone(t *testing.T) {
	check(t, 300, func(t *rapid.T) {
		r := anyRecipe.Draw(t, "recipe")
		before := describe(r)
		settle(t, r, anyBalances.Draw(t, "balances"))
		if after := describe(r); after != before {
			t.Fatalf("the recipe was\n%s\nand became\n%s", before, after)
		}
	})
}

// extremes are numbers that break careless arithmetic, ordinary ones between.
var extremes = rapid.SampledFrom([]float64{
	0, 5e-324, 1e-300, 1e-9, 1e-6, 1e-3, 0.05, 0.5, 1, 1.5, 2, 5, 33, 50, 52, 60, 95, 98, 100, 145, 192, 400, 1000, 1e6, 1e7, 1e12, 1e300, math.MaxFloat64,
	-5e-324, -1, -100, -1e300,
})

// TestFiniteInFiniteOut: whatever finite numbers a recipe holds, it is refused or
// answered with finite numbers, worksheet included.
func TestFiniteInFiniteOut(t *testing.T) {
	answered := 0
	e := engine.New(nil)
	check(t, 5000, func(t *rapid.T) {
		r := anyRecipe.Draw(t, "recipe")
		balances := anyBalances.Draw(t, "balances")
		for range kind(t, 4) {
			disturb(t, r, extremes.Draw(t, "extreme"))
		}
		f, err := e.Formulate(context.Background(), r, engine.Options{Balances: balances, IncludeWorksheet: true})
		switch {
		case err != nil && err.Error() == "":
			t.Fatalf("%s\nrefused without a word", describe(r))
		case err != nil:
			return
		}
		answered++
		if at := notFinite(f); at != "" {
			t.Fatalf("%s\n%s is not finite", describe(r), at)
		}
	})
	if answered < 500 {
		t.Errorf("only %d disturbed recipes were answered", answered)
	}
}

// disturb sets one number of a recipe to v.
func disturb(t *rapid.T, r *engine.Recipe, v float64) {
	q, o := engine.InGrams(v), engine.Some(v)
	l := &r.Fats[kind(t, len(r.Fats))]
	switch kind(t, 9) {
	case 0:
		if l.Mass.Given() {
			l.Mass = q
		} else {
			r.TotalFats = q
		}
	case 1:
		l.Fat, l.Premix, l.CertificateSV = "", nil, nil
		l.Custom = &engine.CustomFat{Name: "own", SV: engine.Measured{Value: v, HalfWidth: engine.Some(math.Abs(v) / 3)}}
	case 2:
		if g := r.Alkali.Given; g != nil {
			g.NaOH = q
		} else {
			r.Alkali.SuperfatPct = o
		}
	case 3:
		r.Alkali.NaOH = &engine.AlkaliStock{Solution: &engine.SolutionStrength{MassPct: o}}
	case 4:
		r.Alkali.NaOH = &engine.AlkaliStock{Made: &engine.MadeStock{Solid: q, Water: engine.InGrams(100)}, HalfWidthPct: o}
	case 5:
		r.Water = &engine.Water{Measure: &engine.WaterMeasure{OfFatsPct: o}}
	case 6:
		r.Water = waterGrams(v)
	default:
		if len(r.Doses) > 0 {
			disturbDose(t, &r.Doses[kind(t, len(r.Doses))], v)
		}
	}
}

// disturbDose sets one number of a dose to v.
func disturbDose(t *rapid.T, d *engine.Dose, v float64) {
	switch kind(t, 5) {
	case 0:
		d.Mass, d.OfFatsPct, d.OfAskedWaterPct, d.Spoons = engine.InGrams(v), engine.Optional{}, engine.Optional{}, nil
	case 1:
		d.Custom.AlkaliMolPerG = &engine.Measured{Value: v, HalfWidth: engine.Some(math.Abs(v))}
	case 2:
		d.Custom.BoundWaterGPerG = v
	case 3:
		d.Custom.DensityGPerML = engine.Some(v)
	case 4:
		if d.Carrier != nil {
			d.Carrier.GPerG = v
		}
	}
}
