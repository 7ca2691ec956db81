package acids

import (
	"fmt"

	"lixivium.example/plugins/sdk"
)

// Ceilings in percent of a portion's fats. Citric acid: a washable bloom of
// citrate from about 2 %, the most found is 3. Lactate: 3 % of the fats as 60 %
// solution, above which sodium lactate crumbles.
const (
	bloomPct     = 2.0
	mostCitric   = 3.0
	mostLactate  = 3.0
	solutionPart = 0.6
)

// pureOf counts the pure acid of one kind.
func pureOf(id string) func(sdk.Dose) float64 {
	return func(d sdk.Dose) float64 {
		if d.Additive != id {
			return 0
		}
		return byID[id].pure(d)
	}
}

// blooms: citrate that comes out on the face of the bar.
func blooms(b *sdk.Batch, p sdk.PortionView) *sdk.Finding {
	pct, doses := b.Load(p.ID, pureOf("citric-acid"))
	if pct <= bloomPct {
		return nil
	}
	f := &sdk.Finding{
		Code: name + "/blooms", Severity: sdk.Note, Subjects: doses,
		Text:    fmt.Sprintf("Citric acid at %.1f %% of the fats may bloom: white crystals of citrate on the bar that wash off.", pct),
		Numbers: map[string]float64{"citric_acid_pct": pct, "ceiling_pct": bloomPct},
		Basis:   sdk.CommonPractice, Source: "forums: up to 3 %, citrate blooms above 2 to 3",
	}
	if pct > mostCitric {
		f.Severity = sdk.Caution
	}
	f.Remedies = to(b, doses, bloomPct, pct)
	return f
}

// crumbles: lactic acid that makes more lactate than the loaf can take. With
// sodium lactate in the batch that plugin speaks of the sum.
func crumbles(b *sdk.Batch, p sdk.PortionView) *sdk.Finding {
	pure, doses := b.Load(p.ID, pureOf("lactic-acid"))
	_, lactate := b.Load(p.ID, func(d sdk.Dose) float64 {
		if d.Additive == "sodium-lactate" {
			return 1
		}
		return 0
	})
	pct := pure * (lacticG + sodiumG - protonG) / lacticG / solutionPart
	if len(lactate) > 0 || pct <= mostLactate {
		return nil
	}
	return &sdk.Finding{
		Code: name + "/crumbles", Severity: sdk.Caution, Subjects: doses,
		Text:     fmt.Sprintf("Lactic acid makes as much lactate as %.1f %% of the usual 60 %% solution; above %.0f %% the loaf turns brittle.", pct, mostLactate),
		Numbers:  map[string]float64{"as_lactate_solution_pct": pct, "ceiling_pct": mostLactate},
		Remedies: to(b, doses, mostLactate, pct),
		Basis:    sdk.CommonPractice, Source: "trade tutorials on sodium lactate; the acid reckoned as lactate",
	}
}

// to suggests a smaller dose where one dose makes up the load.
func to(b *sdk.Batch, doses []string, ceiling, load float64) []sdk.Suggestion {
	d, ok := b.Dose(doses[0])
	if !ok || len(doses) != 1 {
		return nil
	}
	return []sdk.Suggestion{{
		Text:             fmt.Sprintf("Dose %.2g %% of the fats it goes into.", d.OfPortionFatsPct*ceiling/load),
		SetDoseOfFatsPct: new(d.ShrunkTo(ceiling, load)),
	}}
}
