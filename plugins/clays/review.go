package clays

import (
	"fmt"

	"lixivium.example/plugins/sdk"
)

// review looks at the settled batch.
func review(b *sdk.Batch) []sdk.Finding {
	return b.PerPortion(cracks, thickens, parched)
}

// share counts a dose as part of the most its clay may be, so that two clays
// in one portion add up.
func share(d sdk.Dose) float64 {
	k, ok := byID[d.Additive]
	if !ok || d.Stage == sdk.StageSurface {
		return 0
	}
	return 1 / k.high
}

// grams counts a dose as it is.
func grams(d sdk.Dose) float64 {
	if share(d) > 0 {
		return 1
	}
	return 0
}

// cracks: more clay than the bar can hold together while it dries.
func cracks(b *sdk.Batch, p sdk.PortionView) *sdk.Finding {
	load, doses := b.Load(p.ID, share)
	if load <= 1 {
		return nil
	}
	pct, _ := b.Load(p.ID, grams)
	f := &sdk.Finding{
		Code: name + "/cracks", Severity: sdk.Caution, Subjects: doses,
		Text:    fmt.Sprintf("Clay at %.1f %% of the fats is %.1f times the most that is usual: the bar may crack as it dries, and the wire drags and tears at the cut.", pct, load),
		Numbers: map[string]float64{"of_portion_fats_pct": pct, "of_usual_ceiling": load},
		Basis:   sdk.CommonPractice, Source: "trade tutorials; US 8,729,137 on brittle bars of much clay without a binder",
	}
	if d, ok := b.Dose(doses[0]); ok && len(doses) == 1 {
		f.Remedies = append(f.Remedies, sdk.Suggestion{
			Text:             fmt.Sprintf("Dose %.2g %% of the fats it goes into.", byID[d.Additive].high),
			SetDoseOfFatsPct: new(d.ShrunkTo(1, load)),
		})
	}
	f.Remedies = append(f.Remedies, sdk.Suggestion{Text: "Cut early and on the side, and dry the bars slowly."})
	return f
}

// thickens: bentonite above two teaspoons per pound.
func thickens(b *sdk.Batch, p sdk.PortionView) *sdk.Finding {
	const ceiling = 1.6
	pct, doses := b.Load(p.ID, func(d sdk.Dose) float64 {
		if d.Additive == "bentonite" && d.Stage != sdk.StageSurface {
			return 1
		}
		return 0
	})
	if pct <= ceiling {
		return nil
	}
	return &sdk.Finding{
		Code: name + "/thickens", Severity: sdk.Note, Subjects: doses,
		Text:     fmt.Sprintf("Bentonite at %.1f %% of the fats swells and thickens the batter within minutes.", pct),
		Numbers:  map[string]float64{"of_portion_fats_pct": pct, "ceiling_pct": ceiling},
		Remedies: []sdk.Suggestion{{Text: "Make the slurry in oil, not in water, and give it in last."}},
		Basis:    sdk.CommonPractice, Source: "trade tutorials: two teaspoons per pound at most",
	}
}

// parchedPct is the share of a portion's water that clay may hold before lye and
// fats lack it. An estimate: a sixth makes 33 % lye work like 37 %.
const parchedPct = 15.0

// parched: the clay holds much of the water, and nobody added it back.
func parched(b *sdk.Batch, p sdk.PortionView) *sdk.Finding {
	bound, doses := b.Load(p.ID, func(d sdk.Dose) float64 {
		if share(d) > 0 {
			return byID[d.Additive].bound
		}
		return 0
	})
	alkali := b.NaOHG + b.KOHG
	if bound == 0 || alkali <= 0 || p.BatchStrengthPct <= 0 || p.FreeWaterG <= 0 {
		return nil
	}
	own := p.FreeWaterG * p.BatchStrengthPct / (100 - p.BatchStrengthPct) // alkali in this portion
	fats := b.FatsG * own / alkali
	held := fats * bound / 100
	of := 100 * held / (held + p.FreeWaterG)
	if of <= parchedPct {
		return nil
	}
	remedy := sdk.Suggestion{Text: fmt.Sprintf("Wet the clay with %.0f g of water that goes to this portion only.", held)}
	if len(b.Portions) == 1 {
		remedy = sdk.Suggestion{Text: "Give its water back.", AddWaterG: &held}
	}
	return &sdk.Finding{
		Code: name + "/parched", Severity: sdk.Note, Subjects: doses,
		Text:     fmt.Sprintf("The clay holds %.0f %% of this batter's water: it works like one of %.1f %% strength, quick and short.", of, p.BatchStrengthPct),
		Numbers:  map[string]float64{"bound_of_water_pct": of, "bound_g": held, "batch_strength_pct": p.BatchStrengthPct},
		Remedies: []sdk.Suggestion{remedy},
		Basis:    sdk.Estimate, Source: "water held per gram as in the adjustment",
	}
}
