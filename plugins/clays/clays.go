// Package clays holds the rules of clays by type: the water they bind and ask
// for, how much sooner the batter thickens, and where a load cracks the drying
// bar and drags at the cut.
package clays

import (
	"context"

	"lixivium.example/plugins/sdk"
)

const name = "clays"

// Plugin is the clays plugin.
func Plugin() *sdk.Plugin {
	p := &sdk.Plugin{
		Name: name, Version: "1.0.0",
		Wants:  []sdk.Grant{sdk.GrantWater, sdk.GrantTrace, sdk.GrantFirmness, sdk.GrantFindings},
		Adjust: func(_ context.Context, q sdk.Question) sdk.Answer { return q.Each(adjust) },
		Review: func(_ context.Context, b sdk.Batch) []sdk.Finding { return review(&b) },
	}
	for i := range kinds {
		k := &kinds[i]
		p.Owns = append(p.Owns, sdk.Additive{
			ID: k.id, Name: k.name, LowOfFatsPct: k.low, HighOfFatsPct: k.high, GPerTeaspoonUS: k.gPerTeaspoon, UsualStage: k.stage,
		})
	}
	return p
}
