// Package pigments holds the rules of colors that are stirred into the batter:
// how they are wetted, what a white load does to the judging of trace, and what
// goes wrong with them on the settled batch: rivers, stained lather, bleeding,
// change of color in alkali, clumps, smears at the cut.
//
// What a color is wetted with belongs to the recipe, and the engine counts it:
// as water of its portion, as fat held back or extra, or as glycerin. A premixed
// color is a dose with its carrier. Rivers therefore see the water of the very
// portion that the color is in.
package pigments

import (
	"context"

	"lixivium.example/plugins/sdk"
)

const name = "pigments"

// Plugin is the pigments plugin.
func Plugin() *sdk.Plugin {
	p := &sdk.Plugin{
		Name: name, Version: "1.0.0",
		Wants:  []sdk.Grant{sdk.GrantWater, sdk.GrantTrace, sdk.GrantFirmness, sdk.GrantFindings},
		Adjust: func(_ context.Context, q sdk.Question) sdk.Answer { return q.Each(adjust) },
		Review: func(_ context.Context, b sdk.Batch) []sdk.Finding { return review(&b) },
	}
	for i := range kinds {
		p.Owns = append(p.Owns, kinds[i].additive())
	}
	return p
}

// review looks at the settled batch.
func review(b *sdk.Batch) []sdk.Finding {
	out := b.PerPortion(rivers, stains, chalky, bleeds, acid, smears)
	for _, d := range b.Doses {
		k, ok := byID[d.Additive]
		if !ok {
			continue
		}
		for _, rule := range []func(sdk.Dose, *kind) *sdk.Finding{changes, clumps, medium} {
			if f := rule(d, k); f != nil {
				out = append(out, *f)
			}
		}
	}
	return out
}
