package engine_test

import (
	"context"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"lixivium.example/engine"
)

// A typed remedy is a change of the recipe. Applied, the finding is gone and the
// batch is the one its effect foretold.

// applied is a recipe with a remedy, or nil when it is a human act.
func applied(r *engine.Recipe, m *engine.Remedy) *engine.Recipe {
	n := *r
	switch {
	case m.SuperfatPct.Set():
		n.Alkali.SuperfatPct = m.SuperfatPct
	case m.Water != nil:
		n.Water = m.Water
	default:
		return nil
	}
	return &n
}

// foretold compares an effect with the batch that has it.
func foretold(effect []engine.Figure, f *engine.Formulation) string {
	for _, x := range effect {
		got := map[string]float64{
			"superfat_pct":               float64(f.Superfat.Pct),
			"lye_excess_probability_pct": float64(f.Superfat.ExcessPct),
			"jug_pure_pct":               float64(f.Water.JugPurePct),
		}
		v, ok := got[x.Name]
		if !ok || !near(v, x.Value, 1e-6) {
			return x.Name
		}
	}
	return ""
}

// lean draws recipes with little superfat, for they have remedies.
var lean = rapid.Custom(func(t *rapid.T) *engine.Recipe {
	r := drawAsked(maker{T: t})
	r.Alkali.SuperfatPct = engine.Some(number(t, 0.3, 2))
	return r
})

func TestSuperfatRemediesWork(t *testing.T) {
	worked := 0
	check(t, 4000, func(t *rapid.T) {
		r := lean.Draw(t, "recipe")
		balances := anyBalances.Draw(t, "balances")
		f := settle(t, r, balances)
		if f == nil {
			return
		}
		for _, x := range f.Findings {
			for i := range x.Remedies {
				if !x.Remedies[i].SuperfatPct.Set() {
					continue
				}
				n := applied(r, &x.Remedies[i])
				g := settle(t, n, balances)
				if g == nil {
					t.Fatalf("%s\nthe remedy %q makes the batch impossible", describe(r), x.Remedies[i].Text)
				}
				worked++
				if found(g, x.Code) != nil || g.Superfat.Verdict != engine.Silent {
					t.Fatalf("%s\n%s is still there at %v: %+v", describe(r), x.Code, x.Remedies[i].SuperfatPct, g.Superfat)
				}
				if len(x.Remedies[i].Effect) == 0 {
					t.Fatalf("%s has a remedy without its effect", x.Code)
				}
				if name := foretold(x.Remedies[i].Effect, g); name != "" {
					t.Fatalf("%s\n%s is not what %+v foretold: %+v", describe(r), name, x.Remedies[i].Effect, g.Superfat)
				}
			}
		}
	})
	if worked < 500 {
		t.Errorf("only %d remedies were tried", worked)
	}
}

// Remedies with water: a judged recipe without enough of it, and a request.
func TestWaterRemediesWork(t *testing.T) {
	liquid := func(g float64, stage engine.Stage) func(*engine.Recipe) {
		return func(r *engine.Recipe) {
			r.Water = waterGrams(300)
			r.Doses = []engine.Dose{{ID: "milk", Custom: &engine.CustomAdditive{Name: "Milk", WaterGPerG: 0.87}, Mass: engine.InGrams(g), Stage: stage}}
		}
	}
	for name, x := range map[string]trigger{
		"too little water":                {code: "engine/jug-too-strong", recipe: edited(judging(140), func(r *engine.Recipe) { r.Water = waterGrams(100) })},
		"no water":                        {code: "engine/water-missing", recipe: edited(judging(140), func(r *engine.Recipe) { r.Water = nil })},
		"water taken up by a late liquid": {code: "engine/jug-too-strong", recipe: edited(judging(140), liquid(250, engine.StageTrace))},
		"all water in a late liquid":      {code: "engine/jug-too-strong", recipe: edited(judging(140), liquid(340, engine.StageTrace))},
		"requested":                       {code: "engine/water-requested", recipe: pulped, rules: pulp()},
	} {
		t.Run(name, func(t *testing.T) {
			e, r := engine.New(x.rules), x.recipe()
			f, err := e.Formulate(context.Background(), r, engine.Options{})
			if err != nil {
				t.Fatal(err)
			}
			y := found(f, x.code)
			if y == nil {
				t.Fatalf("%s is not there to be remedied: %+v", x.code, f.Findings)
			}
			i := slices.IndexFunc(y.Remedies, func(m engine.Remedy) bool { return m.Water != nil })
			if i < 0 {
				t.Fatalf("no remedy with water: %+v", y.Remedies)
			}
			g, err := e.Formulate(context.Background(), applied(r, &y.Remedies[i]), engine.Options{})
			if err != nil {
				t.Fatal(err)
			}
			if left := found(g, x.code); left != nil || found(g, "engine/liquids-exceed-water") != nil {
				t.Errorf("%q leaves %+v", y.Remedies[i].Text, g.Findings)
			}
			if name := foretold(y.Remedies[i].Effect, g); name != "" {
				t.Errorf("%s is not what %+v foretold", name, y.Remedies[i].Effect)
			}
		})
	}
}
