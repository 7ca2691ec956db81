// Package acids holds the rules of acids that are put into soap on purpose:
// citric acid by its form, lactic acid by its assay, vinegar by its label,
// ascorbic acid. Each gram takes alkali, which the engine adds or lets rise the
// superfat; the salt that forms is what the maker is after.
//
// This is the one plugin that wants the right to move alkali. Its figures come
// from molar masses (IUPAC 2021 abridged atomic weights) and a declared strength;
// the half-widths say how far a label may be off. Water that forms in the
// neutralization is the engine's own sum.
package acids

import (
	"context"

	"lixivium.example/plugins/sdk"
)

const name = "acids"

// Plugin is the acids plugin.
func Plugin() *sdk.Plugin {
	p := &sdk.Plugin{
		Name: name, Version: "1.0.0",
		Wants:  []sdk.Grant{sdk.GrantAlkali, sdk.GrantWater, sdk.GrantTrace, sdk.GrantFirmness, sdk.GrantFindings},
		Adjust: func(_ context.Context, q sdk.Question) sdk.Answer { return q.Each(adjust) },
		Review: func(_ context.Context, b sdk.Batch) []sdk.Finding { return review(&b) },
	}
	for i := range kinds {
		k := &kinds[i]
		a := sdk.Additive{
			ID: k.id, Name: k.name, LowOfFatsPct: k.low, HighOfFatsPct: k.high,
			GPerTeaspoonUS: k.gPerTeaspoon, UsualStage: sdk.StageWaterBeforeLye,
		}
		if k.parameter.Name != "" {
			a.Parameters = []sdk.Parameter{k.parameter}
		}
		p.Owns = append(p.Owns, a)
	}
	return p
}
