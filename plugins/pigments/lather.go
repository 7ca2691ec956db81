package pigments

import (
	"fmt"

	"lixivium.example/plugins/sdk"
)

// stains: a color that shows in the lather. The kind that passes its ceiling by
// most is told.
func stains(b *sdk.Batch, p sdk.PortionView) *sdk.Finding {
	var worst *kind
	var most, load float64
	var doses []string
	for i := range kinds {
		k := &kinds[i]
		if k.stainsAbove == 0 {
			continue
		}
		pct, ids := b.Load(p.ID, of(k))
		if over := pct / k.stainsAbove; over > 1 && over > most {
			worst, most, load, doses = k, over, pct, ids
		}
	}
	if worst == nil {
		return nil
	}
	return &sdk.Finding{
		Code: name + "/stains-lather", Severity: sdk.Note, Subjects: doses,
		Text:     fmt.Sprintf("%s at %.2f %% of the fats colors the lather, and cloths; up to %.2f %% it hardly does.", worst.name, load, worst.stainsAbove),
		Numbers:  map[string]float64{"of_portion_fats_pct": load, "ceiling_pct": worst.stainsAbove},
		Remedies: lowered(b, doses, worst.stainsAbove, load),
		Basis:    sdk.CommonPractice, Source: worst.source,
	}
}

// chalky: so much white that the bar feels dry and its face powders.
func chalky(b *sdk.Batch, p sdk.PortionView) *sdk.Finding {
	const ceiling = 2.0
	load, doses := b.Load(p.ID, whites)
	if load <= ceiling {
		return nil
	}
	return &sdk.Finding{
		Code: name + "/chalky", Severity: sdk.Note, Subjects: doses,
		Text:     fmt.Sprintf("White at %.1f %% of the fats feels chalky; above %.0f %% it hides no better.", load, ceiling),
		Numbers:  map[string]float64{"of_portion_fats_pct": load, "ceiling_pct": ceiling},
		Remedies: lowered(b, doses, ceiling, load),
		Basis:    sdk.CommonPractice, Source: "trade tutorials: up to two teaspoons per pound",
	}
}

// of counts the doses of one kind.
func of(k *kind) func(sdk.Dose) float64 {
	return func(d sdk.Dose) float64 {
		if d.Additive == k.id && d.Stage != sdk.StageSurface {
			return 1
		}
		return 0
	}
}

// lowered suggests a smaller dose where one dose makes up the load.
func lowered(b *sdk.Batch, doses []string, ceiling, load float64) []sdk.Suggestion {
	d, ok := b.Dose(doses[0])
	if !ok || len(doses) != 1 {
		return nil
	}
	return []sdk.Suggestion{{
		Text:             fmt.Sprintf("Dose %.2g %% of the fats it goes into.", ceiling),
		SetDoseOfFatsPct: new(d.ShrunkTo(ceiling, load)),
	}}
}
