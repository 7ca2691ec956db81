package sugars

import (
	"fmt"
	"slices"

	"lixivium.example/plugins/sdk"
)

func ifKind(is func(*kind) bool) func(sdk.Dose) float64 {
	return func(d sdk.Dose) float64 {
		if k, ok := byID[d.Additive]; ok && is(k) {
			return 1
		}
		return 0
	}
}

// sticky: honey and syrups above a tablespoon per pound and a little.
func sticky(b *sdk.Batch, p sdk.PortionView) *sdk.Finding {
	const ceiling = 5.0
	pct, doses := b.Load(p.ID, ifKind(func(k *kind) bool { return k.inWater }))
	if pct <= ceiling {
		return nil
	}
	return &sdk.Finding{
		Code: name + "/sticky", Severity: sdk.Caution, Subjects: doses,
		Text:     fmt.Sprintf("Honey and syrup at %.1f %% of the fats leave the bar soft and sticky, with brown drops that weep.", pct),
		Numbers:  map[string]float64{"of_portion_fats_pct": pct, "ceiling_pct": ceiling},
		Remedies: []sdk.Suggestion{{Text: "Keep to a tablespoon per pound of fats, 4.6 %."}},
		Basis:    sdk.CommonPractice, Source: "trade tutorials: a tablespoon per pound at most; more in special recipes only",
	}
}

// browns: a tan sugar in a portion that is meant to be white. That honey tans a
// bar by itself is what one expects of it.
func browns(b *sdk.Batch, p sdk.PortionView) *sdk.Finding {
	const least = 0.5 // the usual low end: a teaspoon per three pounds
	pct, doses := b.Load(p.ID, ifKind(func(k *kind) bool { return k.brown }))
	_, white := b.Load(p.ID, func(d sdk.Dose) float64 {
		if d.Additive == "titanium-dioxide" || d.Additive == "zinc-oxide" {
			return 1
		}
		return 0
	})
	if pct < least || len(white) == 0 {
		return nil
	}
	return &sdk.Finding{
		Code: name + "/browns-white", Severity: sdk.Note, Subjects: slices.Concat(doses, white),
		Text:     "The sugars of honey and syrup turn brown in lye: this white comes out cream to tan.",
		Numbers:  map[string]float64{"of_portion_fats_pct": pct},
		Remedies: []sdk.Suggestion{{Text: "Put the honey into a portion of its own, or use sugar or sorbitol."}},
		Basis:    sdk.CommonPractice, Source: "trade tutorials",
	}
}

// gas: reducing sugars in lye, before there is batter to thin it.
func gas(b *sdk.Batch) []sdk.Finding {
	var out []sdk.Finding
	for _, d := range b.Doses {
		k, ok := byID[d.Additive]
		if !ok || !k.reducing || d.Stage != sdk.StageWaterBeforeLye && d.Stage != sdk.StageCooledLye {
			continue
		}
		out = append(out, sdk.Finding{
			Code: name + "/carbon-monoxide", Severity: sdk.Caution, Subjects: []string{d.ID},
			Text: fmt.Sprintf("%s in lye: reducing sugars and strong alkali give off carbon monoxide, which has no smell. The lye also heats up again and may foam.", k.name),
			Remedies: []sdk.Suggestion{
				{Text: "Thin it and put it into the batter at trace instead."},
				{Text: "Otherwise outdoors or under a hood, slowly, in a jug with room to spare."},
			},
			Basis: sdk.PublishedSeen, Source: "producer's data page on caustic soda: fructose and other reducing sugars form carbon monoxide with it",
		})
	}
	return out
}
