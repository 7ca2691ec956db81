package sugars

import (
	"fmt"

	"lixivium.example/plugins/sdk"
)

// review looks at the settled batch.
func review(b *sdk.Batch) []sdk.Finding {
	return append(b.PerPortion(overheats, sticky, browns), gas(b)...)
}

// share counts a dose as part of the most its sugar may be, without the water,
// so that two sugars in one portion add up.
func share(d sdk.Dose) float64 {
	k, ok := byID[d.Additive]
	if !ok {
		return 0
	}
	usual := k.holds.Default / 100
	if k.inWater {
		usual = 1 - usual
	}
	return (1 - k.water(d)) / usual / k.high
}

// muchHeat is the part of the most usual load from which a warm start and a
// forced gel come into it: half, an estimate.
const muchHeat = 0.5

// warmC is how far above the advised start fats or lye may be before a moderate
// load of sugar is likely to crack the loaf, K: an estimate.
const warmC = 10.0

// overheats: sugar, warmth and insulation together.
func overheats(b *sdk.Batch, p sdk.PortionView) *sdk.Finding {
	load, doses := b.Load(p.ID, share)
	if load == 0 {
		return nil
	}
	limit, start := startLimit(b, doses), warmest(b.Conditions)
	f := &sdk.Finding{
		Code: name + "/overheats", Severity: sdk.Caution, Subjects: doses,
		Numbers: map[string]float64{"of_usual_ceiling": load, "start_at_most_c": limit},
		Remedies: []sdk.Suggestion{
			{Text: fmt.Sprintf("Combine fats and lye at %.0f °C or less, cast without cover, on blocks, and keep a fan ready.", limit)},
			{Text: "Keep it from gel.", Gel: sdk.GelAvoid},
		},
		Basis: sdk.CommonPractice, Source: "trade tutorials; how sugar, warmth and gel add up is an estimate",
	}
	if start > 0 {
		f.Numbers["start_c"] = start
	}
	d, single := b.Dose(doses[0])
	single = single && len(doses) == 1
	switch {
	case load > 1:
		f.Text = fmt.Sprintf("Sugars come to %.1f times the most that is usual: the loaf may heat until it cracks or rises out of the mold.", load)
		if single {
			f.Remedies = append(f.Remedies, sdk.Suggestion{
				Text: fmt.Sprintf("Dose %.2g %% of the fats it goes into.", d.OfPortionFatsPct/load), SetDoseOfFatsPct: new(d.ShrunkTo(1, load)),
			})
		}
	case load >= muchHeat && b.Conditions.Gel == sdk.GelForce:
		f.Text = "Sugar makes heat of its own. With a forced gel on top the core may overheat and crack."
	case load >= muchHeat && start > limit+warmC:
		f.Text = fmt.Sprintf("Starting at %.0f °C with this much sugar, the core may overheat and crack.", start)
	default:
		return nil
	}
	return f
}

// startLimit is the lowest start that one of the doses asks for, °C.
func startLimit(b *sdk.Batch, doses []string) float64 {
	limit := 35.0
	for _, id := range doses {
		if d, ok := b.Dose(id); ok {
			limit = min(limit, byID[d.Additive].startC)
		}
	}
	return limit
}

// warmest is the warmer of fats and lye where stated, °C; 0: neither is.
func warmest(c sdk.Conditions) float64 {
	t := 0.0
	for _, v := range []*float64{c.FatsC, c.LyeC} {
		if v != nil {
			t = max(t, *v)
		}
	}
	return t
}
