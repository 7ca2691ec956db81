package engine_test

import (
	"context"
	"fmt"
	"testing"

	"lixivium.example/engine"
)

// The reckoning of a reconciliation holds like that of a plan: every line is
// what its expression gives, also where fat is held back for portions and for
// the surface; every figure of the answer is on a line of its name.
func TestReconcileWorksheet(t *testing.T) {
	recipes := sheetRecipes()
	topped := recipes["portions with carriers"]
	topped.Doses = append(topped.Doses, engine.Dose{
		ID: "gold", Custom: &engine.CustomAdditive{Name: "Gold"}, Mass: engine.InGrams(1), Stage: engine.StageSurface,
		Carrier: &engine.Carrier{Fat: "olive", GPerG: 4},
	})
	shop := []engine.Balance{{Step: engine.InGrams(0.1)}}
	for name, r := range recipes {
		for _, o := range []engine.Options{{IncludeWorksheet: true}, {IncludeWorksheet: true, Balances: shop}} {
			for _, over := range []string{r.Fats[0].ID, "naoh", "koh", ""} {
				t.Run(fmt.Sprintf("%s/%d/%s", name, len(o.Balances), over), func(t *testing.T) { reconcileSheet(t, r, o, over) })
			}
		}
	}
}

// reconcileSheet checks one reckoning, with one line over or under the plan.
func reconcileSheet(t *testing.T, r *engine.Recipe, o engine.Options, over string) {
	plan, err := engine.New(nil).Formulate(context.Background(), r, o)
	if err != nil {
		t.Fatal(err)
	}
	var actual []engine.ActualWeight
	for _, l := range plan.WeighOut {
		switch l.LineID {
		case over:
			actual = append(actual, engine.ActualWeight{LineID: over, Mass: engine.InGrams(float64(l.WeighG) * 1.04)})
		case r.Fats[1%len(r.Fats)].ID:
			actual = append(actual, engine.ActualWeight{LineID: l.LineID, Mass: engine.InGrams(float64(l.WeighG) * 0.9)})
		}
	}
	if len(actual) == 0 {
		return // the recipe has one fat and none of this alkali
	}
	rc, err := engine.New(nil).Reconcile(context.Background(), r, o, actual)
	if err != nil {
		t.Fatal(err)
	}
	checkSheet(t, rc.Worksheet)
	lines := map[string]float64{}
	for _, l := range rc.Worksheet {
		lines[l.ID] = l.Value
	}
	for id, want := range map[string]float64{
		"superfat.superfat_pct": float64(rc.Superfat.Pct), "superfat.low95_pct": float64(rc.Superfat.LowPct),
		"planned_superfat.high95_pct": float64(plan.Superfat.HighPct), "factor": rc.Factor, "corrected_superfat_pct": float64(rc.CorrectedPct),
	} {
		if v, ok := lines[id]; !ok || v != want {
			t.Errorf("%s: %v in the reckoning, %v in the answer", id, v, want)
		}
	}
	for _, x := range rc.Corrections {
		for field, want := range map[string]float64{"planned_g": float64(x.PlannedG), "actual_g": float64(x.ActualG), "target_g": float64(x.TargetG), "add_g": float64(x.AddG)} {
			if v, ok := lines["corrections."+x.LineID+"."+field]; !ok || v != want {
				t.Errorf("%s of %s: %v in the reckoning, %v in the answer", field, x.LineID, v, want)
			}
		}
	}
}
