// Package sugars holds the rules of sugar, sorbitol, honey and syrups: the water
// they bring, the heat they make, how warm to start, browning, overheating, and
// the gas of reducing sugars in lye.
//
// How much alkali honey or agave takes is not known. They answer an upper bound,
// which widens the superfat upward and never becomes alkali to weigh.
package sugars

import (
	"context"

	"lixivium.example/plugins/sdk"
)

const name = "sugars"

// Plugin is the sugars plugin.
func Plugin() *sdk.Plugin {
	p := &sdk.Plugin{
		Name: name, Version: "1.0.0",
		Wants:  []sdk.Grant{sdk.GrantWater, sdk.GrantTrace, sdk.GrantHeat, sdk.GrantFirmness, sdk.GrantFindings},
		Adjust: func(_ context.Context, q sdk.Question) sdk.Answer { return q.Each(adjust) },
		Review: func(_ context.Context, b sdk.Batch) []sdk.Finding { return review(&b) },
	}
	for i := range kinds {
		k := &kinds[i]
		p.Owns = append(p.Owns, sdk.Additive{
			ID: k.id, Name: k.name, Parameters: []sdk.Parameter{k.holds},
			LowOfFatsPct: k.low, HighOfFatsPct: k.high, GPerTeaspoonUS: k.gPerTeaspoon, UsualStage: k.stage,
		})
	}
	return p
}
