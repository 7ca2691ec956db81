package engine_test

import (
	"context"
	"errors"
	"strings"
	"testing"

	"lixivium.example/engine"
)

// TestImpossible: what cannot be made is refused with its reason, the grams it
// is about and the way out, and is answered once that way is taken.
func TestImpossible(t *testing.T) {
	milk := engine.Dose{ID: "milk", Custom: &engine.CustomAdditive{Name: "Milk", WaterGPerG: 0.87}, Mass: engine.InGrams(400)}
	for name, x := range map[string]struct {
		recipe   func() *engine.Recipe
		balances []engine.Balance
		reason   string
		figure   string
		value    float64
		advice   string
		cured    func(*engine.Recipe)
	}{
		// 145.6 g of 98.5 % NaOH dissolve in no less than 283.9 g of lye.
		"too little water": {
			recipe: edited(bar, func(r *engine.Recipe) { r.Water = waterGrams(100) }),
			reason: engine.ImpossibleLyeTooStrong, figure: "short_g", value: 145.5558*0.985/0.505 - 245.5558, advice: "Ask for more water",
			cured: func(r *engine.Recipe) { r.Water = waterGrams(140) },
		},
		"water taken up by a late liquid": {
			recipe: edited(bar, func(r *engine.Recipe) { r.Water, r.Doses = waterGrams(400), []engine.Dose{milk} }),
			reason: engine.ImpossibleLyeTooStrong, figure: "short_g", value: 145.5558*0.985/0.505 - 145.5558 - 52, advice: "less of it for other liquids",
			cured: func(r *engine.Recipe) { r.Doses[0].Stage = engine.StageWaterBeforeLye },
		},
		"more liquid than water": {
			recipe: edited(bar, func(r *engine.Recipe) { r.Water, r.Doses = waterGrams(300), []engine.Dose{milk} }),
			reason: engine.ImpossibleWater, figure: "short_g", value: 48, advice: "count on top",
			cured: func(r *engine.Recipe) { r.Doses[0].WaterSource = engine.WaterOnTop },
		},
		"stock weaker than the asked lye": {
			recipe: edited(bar, func(r *engine.Recipe) {
				r.Alkali.NaOH = &engine.AlkaliStock{Solution: &engine.SolutionStrength{MassPct: engine.Some(30)}}
			}),
			// 143.37 g of pure alkali bring 334.5 g of water, 33 % lye asks for 291.1 g.
			reason: engine.ImpossibleWater, figure: "short_g", value: 143.3725*(7./3) - 143.3725*67/33, advice: "Ask for at least",
			cured: func(r *engine.Recipe) { r.Water = concentration(30) },
		},
		"more held back than there is": {
			recipe: edited(bar, func(r *engine.Recipe) {
				r.Doses = []engine.Dose{{ID: "d", Custom: inert, Mass: engine.InGrams(160), Carrier: &engine.Carrier{Fat: "coconut", GPerG: 2}}}
			}),
			reason: engine.ImpossibleHeldBack, figure: "held_back_g", value: 320, advice: "extra: true",
			cured: func(r *engine.Recipe) { r.Doses[0].Carrier.Fat, r.Doses[0].Carrier.Extra = "coconut-oil", true },
		},
		"held back by two doses": {
			recipe: edited(bar, func(r *engine.Recipe) {
				for _, id := range []string{"d", "e"} {
					r.Doses = append(r.Doses, engine.Dose{ID: id, Custom: inert, Mass: engine.InGrams(80), Carrier: &engine.Carrier{Fat: "coconut", GPerG: 2}})
				}
			}),
			reason: engine.ImpossibleHeldBack, figure: "on_recipe_g", value: 300, advice: "Use less carrier",
			cured: func(r *engine.Recipe) { r.Doses = r.Doses[:1] },
		},
		"alkali below a step": {
			recipe: edited(bar, func(r *engine.Recipe) {
				r.Fats[0].Mass, r.Fats[1].Mass = engine.InGrams(7), engine.InGrams(3)
			}), balances: scales(5),
			reason: engine.ImpossibleRounding, figure: "naoh", value: 10*211.7/56105.6*39.997/0.985*0.95 + 5*211.7/56105.6*39.997/0.985*0.95, advice: "finer balance",
			cured: func(r *engine.Recipe) { r.Fats[0].Mass = engine.InGrams(700) },
		},
		"color below half a step": {
			recipe:   dosed(engine.Dose{ID: "rose", Custom: inert, OfFatsPct: engine.Some(0.04)}),
			balances: scales(1),
			reason:   engine.ImpossibleRounding, figure: "rose", value: 0.4, advice: "stock solution",
			cured: func(r *engine.Recipe) { r.Doses[0].OfFatsPct = engine.Some(0.4) },
		},
	} {
		t.Run(name, func(t *testing.T) {
			r := x.recipe()
			e, o := engine.New(nil), engine.Options{Balances: x.balances}
			_, err := e.Formulate(context.Background(), r, o)
			var got *engine.Impossible
			if !errors.As(err, &got) {
				t.Fatalf("got %T %v", err, err)
			}
			if got.Reason != x.reason || !strings.Contains(got.Text, x.advice) || got.Error() != got.Text {
				t.Errorf("%s: %s", got.Reason, got.Text)
			}
			value, ok := 0.0, false
			for _, n := range got.Numbers {
				if n.Name == x.figure {
					value, ok = n.Value, true
				}
			}
			if !ok || !near(value, x.value, 0.01) {
				t.Errorf("%s = %g, want %g of %+v", x.figure, value, x.value, got.Numbers)
			}
			x.cured(r)
			if _, err := e.Formulate(context.Background(), r, o); err != nil {
				t.Errorf("still refused: %v", err)
			}
		})
	}
}

// Equal weights of soda and water, and a bought 50 % lye, are not refused for
// half a percent.
func TestFiftyPercentIsPossible(t *testing.T) {
	r := bar()
	r.Alkali.NaOH = purity(100)
	r.Water = concentration(50)
	if f := formulate(t, r); !near(float64(f.Water.JugPurePct), 50, 1e-9) {
		t.Errorf("jug of %g %%", f.Water.JugPurePct)
	}
	r = bar()
	r.Alkali.NaOH = &engine.AlkaliStock{Solution: &engine.SolutionStrength{MassPct: engine.Some(50)}}
	r.Water = concentration(50)
	if f := formulate(t, r); !near(float64(f.Water.PlainG), 0, 1e-9) || f.Alkali.LyeEndC != 0 {
		t.Errorf("a poured stock: water %+v, heat %g °C", f.Water, f.Alkali.LyeEndC)
	}
}
