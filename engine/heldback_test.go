package engine_test

import (
	"testing"

	"lixivium.example/engine"
)

// TestAllHeldBackLeavesNothing: a fat that a dose takes whole leaves no line of a
// rounding error, and is no line that rounds to nothing on a balance.
func TestAllHeldBackLeavesNothing(t *testing.T) {
	for total := 100.0; total < 3000; total += 7.3 {
		r := bar()
		r.TotalFats = engine.InGrams(total)
		r.Fats = []engine.FatLine{
			{ID: "olive", Fat: "olive-oil", SharePct: engine.Some(61)},
			{ID: "coconut", Fat: "coconut-oil", SharePct: engine.Some(38)},
			{ID: "castor", Fat: "castor-oil", SharePct: engine.Some(1)},
		}
		r.Doses = []engine.Dose{{
			ID: "color", Custom: &engine.CustomAdditive{Name: "Color"}, OfFatsPct: engine.Some(0.3), Stage: engine.StageTrace,
			Carrier: &engine.Carrier{Fat: "castor", GPerG: 1 / 0.3},
		}}
		for _, balances := range [][]engine.Balance{nil, scales(0.01)} {
			f, err := formulated(r, balances)
			if err != nil {
				t.Fatalf("%g g of fats on %d balances: %v", total, len(balances), err)
			}
			if g := grams(f, "castor"); g != 0 && len(balances) == 0 {
				t.Errorf("%g g of fats: %g g of castor oil are left to weigh", total, g)
			}
		}
	}
}
