package engine_test

import (
	"context"
	"testing"

	"lixivium.example/engine"
)

// The reckoning of a reconciliation holds like that of a plan: every line is
// what its expression gives, also where fat is held back for portions and for
// the surface, and its last line is the implied superfat.
func TestReconcileWorksheet(t *testing.T) {
	recipes := sheetRecipes()
	topped := recipes["portions with carriers"]
	topped.Doses = append(topped.Doses, engine.Dose{
		ID: "gold", Custom: &engine.CustomAdditive{Name: "Gold"}, Mass: engine.InGrams(1), Stage: engine.StageSurface,
		Carrier: &engine.Carrier{Fat: "olive", GPerG: 4},
	})
	for name, r := range recipes {
		t.Run(name, func(t *testing.T) {
			o := engine.Options{IncludeWorksheet: true}
			plan, err := engine.New(nil).Formulate(context.Background(), r, o)
			if err != nil {
				t.Fatal(err)
			}
			fat := r.Fats[0].ID
			var planned float64
			for _, l := range plan.WeighOut {
				if l.LineID == fat {
					planned = float64(l.WeighG)
				}
			}
			rc, err := engine.New(nil).Reconcile(context.Background(), r, o, []engine.ActualWeight{{LineID: fat, Mass: engine.InGrams(planned * 1.04)}})
			if err != nil {
				t.Fatal(err)
			}
			checkSheet(t, rc.Worksheet)
			last := rc.Worksheet[len(rc.Worksheet)-1]
			if last.ID != "superfat.superfat_pct" || last.Value != float64(rc.Superfat.Pct) {
				t.Errorf("the last line is %s = %v, the superfat %v", last.ID, last.Value, rc.Superfat.Pct)
			}
		})
	}
}
