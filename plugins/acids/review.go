package acids

import (
	"fmt"

	"lixivium.example/plugins/sdk"
)

// review looks at the settled batch.
func review(b *sdk.Batch) []sdk.Finding {
	out := b.PerPortion(blooms, crumbles)
	for _, d := range b.Doses {
		k, ok := byID[d.Additive]
		if !ok {
			continue
		}
		out = append(out, formed(b, d, k))
		for _, rule := range []func(sdk.Dose, *kind) *sdk.Finding{spatters, tooMuch, grains} {
			if f := rule(d, k); f != nil {
				out = append(out, *f)
			}
		}
	}
	return out
}

// formed tells what salt the acid becomes: each proton gives way to a sodium or
// a potassium, by the moles of the batch's alkali.
func formed(b *sdk.Batch, d sdk.Dose, k *kind) sdk.Finding {
	potassium := b.Conditions.KOHOfMolesPct / 100
	metal := float64(potassium*potassiumG) + float64((1-potassium)*sodiumG)
	acid := b.DoseG(d) * k.pure(d)
	salt := acid * (k.molarG + k.protons*(metal-protonG)) / k.molarG
	pct := 100 * salt / b.FatsG
	return sdk.Finding{
		Code: name + "/salt-formed", Severity: sdk.Note, Subjects: []string{d.ID},
		Text:    fmt.Sprintf("%s becomes %.1f g of %s (%.2f %% of the fats).", k.name, salt, k.saltWords, pct),
		Numbers: map[string]float64{k.salt + "_g": salt, k.salt + "_of_fats_pct": pct},
		Basis:   sdk.Derived, Source: "molar masses, reckoned without water of crystallization",
	}
}

// spatters: acid that meets lye instead of water.
func spatters(d sdk.Dose, k *kind) *sdk.Finding {
	if d.Stage != sdk.StageCooledLye {
		return nil
	}
	return &sdk.Finding{
		Code: name + "/spatters", Severity: sdk.Caution, Subjects: []string{d.ID},
		Text:     fmt.Sprintf("%s poured into lye boils where it lands and throws caustic out of the jug.", k.name),
		Remedies: []sdk.Suggestion{{Text: "Dissolve it in the water before the lye, then add the alkali slowly."}},
		Basis:    sdk.CommonPractice, Source: "forums: fizz and heat; trade tutorials: acid before the lye",
	}
}

// tooMuch: above the usual high end, except for citric and lactic acid, whose
// salts have ceilings of their own.
func tooMuch(d sdk.Dose, k *kind) *sdk.Finding {
	pct := d.OfPortionFatsPct * k.pure(d) / k.usualPure()
	if pct <= k.high || k.id == "citric-acid" || k.id == "lactic-acid" {
		return nil
	}
	text := fmt.Sprintf("Vinegar at %.0f %% of the fats is more than all the water of a usual batch.", pct)
	if k.id == "ascorbic-acid" {
		text = fmt.Sprintf("Ascorbic acid at %.2g %% of the fats browns the bar.", pct)
	}
	return &sdk.Finding{
		Code: name + "/too-much", Severity: sdk.Note, Subjects: []string{d.ID}, Text: text,
		Numbers: map[string]float64{"as_usual_product_pct": pct, "ceiling_pct": k.high},
		Remedies: []sdk.Suggestion{{
			Text: fmt.Sprintf("Dose %.2g %% of the fats.", d.OfPortionFatsPct*k.high/pct), SetDoseOfFatsPct: new(d.ShrunkTo(k.high, pct)),
		}},
		Basis: sdk.CommonPractice, Source: k.source,
	}
}

// grains: crystals that are to dissolve in fat.
func grains(d sdk.Dose, k *kind) *sdk.Finding {
	if d.Stage != sdk.StageFats || k.id != "citric-acid" && k.id != "ascorbic-acid" {
		return nil
	}
	return &sdk.Finding{
		Code: name + "/grains", Severity: sdk.Note, Subjects: []string{d.ID},
		Text:     fmt.Sprintf("%s does not dissolve in fats: it stays as grains, and the alkali finds it late.", k.name),
		Remedies: []sdk.Suggestion{{Text: "Dissolve it in the water before the lye."}},
		Basis:    sdk.CommonPractice, Source: "solubility: common knowledge, no source",
	}
}
