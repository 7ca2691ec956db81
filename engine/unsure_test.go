package engine_test

import (
	"context"
	"testing"

	"lixivium.example/engine"
)

// A batch whose need is as unsure as it is large has no superfat to speak of. It
// is refused, or answered with bounds that hold its best estimate, and with no
// remedy that does not help.
func TestBatchTooUnsureToJudge(t *testing.T) {
	only := func(fatID string) func() *engine.Recipe {
		return edited(bar, func(r *engine.Recipe) {
			r.Fats = []engine.FatLine{{ID: "x", Fat: fatID, Mass: engine.InGrams(500)}}
		})
	}
	for name, x := range map[string]trigger{
		"jojoba alone":   {recipe: only("jojoba-oil")},
		"lanolin alone":  {recipe: only("lanolin")},
		"pine tar alone": {recipe: only("pine-tar")},
		"mostly pine tar": {recipe: edited(only("pine-tar"), func(r *engine.Recipe) {
			r.Fats = append(r.Fats, engine.FatLine{ID: "olive", Fat: "olive-oil", Mass: engine.InGrams(20)})
		})},
		"two lines of one step each": {recipe: edited(judging(14), func(r *engine.Recipe) {
			r.Fats[0].Mass, r.Fats[1].Mass, r.Water = engine.InGrams(50), engine.InGrams(50), waterGrams(50)
		}), balances: scales(50)},
		"a million times the alkali": {recipe: edited(judging(1e6), func(r *engine.Recipe) {
			r.Fats[0].Mass, r.Fats[1].Mass = engine.InGrams(0.5), engine.InGrams(0.5)
		})},
	} {
		t.Run(name, func(t *testing.T) {
			r := x.recipe()
			f, err := engine.New(nil).Formulate(context.Background(), r, engine.Options{Balances: x.balances})
			if err != nil {
				return
			}
			if s := f.Superfat; !(s.WorstPct <= s.LowPct && s.LowPct <= s.Pct && s.Pct <= s.HighPct) {
				t.Errorf("worst %g, low %g, best %g, high %g %%", s.WorstPct, s.LowPct, s.Pct, s.HighPct)
			}
			for _, y := range f.Findings {
				for i := range y.Remedies {
					n := applied(r, &y.Remedies[i])
					if n == nil {
						continue
					}
					g := formulate(t, n, x.balances...)
					if found(g, y.Code) != nil {
						t.Errorf("%q leaves %s", y.Remedies[i].Text, y.Code)
					}
				}
			}
		})
	}
}
