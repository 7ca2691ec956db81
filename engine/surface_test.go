package engine_test

import (
	"context"
	"testing"

	"lixivium.example/engine"
)

// What is strewn on the poured batter takes no part in it: neither its acid nor
// its fat may change the alkali of the batter or make its superfat look higher,
// and fat held back for it is missing in the batter.
func TestSurfaceTakesNoPartInTheBatter(t *testing.T) {
	fats := &engine.CustomAdditive{Name: "Butter curls", FatGPerG: map[string]float64{"shea-butter": 1}}
	const need = (700*192.5 + 300*256.5) / 56105.6
	for name, x := range map[string]struct {
		dose engine.Dose
		need float64 // of the fats in the batter, mol
	}{
		"acid added":         {engine.Dose{Custom: citric(), OfFatsPct: engine.Some(2), Treatment: engine.TreatmentAdd}, need},
		"acid absorbed":      {engine.Dose{Custom: citric(), OfFatsPct: engine.Some(2)}, need},
		"fat added":          {engine.Dose{Custom: fats, OfFatsPct: engine.Some(5), Treatment: engine.TreatmentAdd}, need},
		"fat absorbed":       {engine.Dose{Custom: fats, OfFatsPct: engine.Some(5)}, need},
		"fat held back":      {engine.Dose{Custom: inert, OfFatsPct: engine.Some(5), Carrier: &engine.Carrier{Fat: "olive", GPerG: 2}}, need - 100*192.5/56105.6},
		"oil beyond, extra":  {engine.Dose{Custom: inert, OfFatsPct: engine.Some(5), Carrier: &engine.Carrier{Fat: "olive-oil", GPerG: 2, Extra: true}}, need},
		"acid in the wetter": {engine.Dose{Custom: inert, OfFatsPct: engine.Some(2), Carrier: &engine.Carrier{Custom: citric(), GPerG: 1}}, need},
	} {
		for _, portion := range []string{"", "p"} {
			t.Run(name+" "+portion, func(t *testing.T) {
				r := bar()
				r.Portions = []engine.Portion{{ID: "p", BaseSharePct: 100}}
				d := x.dose
				d.ID, d.Stage, d.PortionID = "top", engine.StageSurface, portion
				r.Doses = []engine.Dose{d}
				f, err := engine.New(nil).Formulate(context.Background(), r, engine.Options{})
				if d.Treatment == engine.TreatmentAdd {
					if err == nil {
						t.Errorf("alkali was added for what lies on the surface: %g g", f.Alkali.NaOHG)
					}
					return
				}
				if err != nil {
					t.Fatal(err)
				}
				if got, want := float64(f.Alkali.TotalMol), 0.95*x.need; !near(got, want, 1e-9) {
					t.Errorf("%g mol of alkali, the batter takes %g", got, want)
				}
				if got := float64(f.Superfat.Pct); !near(got, 5, 1e-9) {
					t.Errorf("answered a superfat of %g %%, the batter has 5", got)
				}
			})
		}
	}
}
