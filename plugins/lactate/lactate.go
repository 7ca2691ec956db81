// Package lactate holds the rules of sodium lactate: the water that its
// solution brings, how much firmer and sooner out of the mold the loaf is, and
// where it begins to crumble.
//
// Lactate that an acid forms in the batter is the acids plugin's to answer;
// this one counts it when it looks at the settled batch.
package lactate

import (
	"context"

	"lixivium.example/plugins/sdk"
)

const (
	name     = "lactate"
	additive = "sodium-lactate"
)

// The trade doses the 60 % solution: 1 teaspoon per pound of fats is 1.4 %.
// Rates of 1, 1 to 2, 1 to 3 and 2 to 4 % stand in trade tutorials that were
// read; crumbling is told of above 3 %.
const (
	soldPct    = 60.0 // strength of the solution as sold
	usualPct   = 1.5  // of the fats, as that solution
	fullPct    = 1.4  // one teaspoon per pound: the full rate
	ceilingPct = 3.0
	// mostUsual is how many usual doses still make the loaf firmer.
	mostUsual = 2
)

// Densities. That of the solution, 1.32 g/mL, is from memory; the dissolved
// salt's follows from it, volumes taken as additive.
const (
	waterDensity = 0.998
	saltDensity  = 1.682
)

const source = "rates, stages and temperatures from trade tutorials; density of the 60 % solution from memory"

// Factors at the usual dose. Firmness is an estimate after reports that a
// silicone mold lets go after one day where three to four are usual; whether
// lactate moves trace at all is disputed, hence a band up to 1.
var (
	firmer = sdk.Band{Low: 1.2, Typical: 1.5, High: 2}
	sooner = sdk.Band{Low: 0.8, Typical: 0.9, High: 1}
)

// Plugin is the lactate plugin.
func Plugin() *sdk.Plugin {
	return &sdk.Plugin{
		Name: name, Version: "1.0.0",
		Wants: []sdk.Grant{sdk.GrantWater, sdk.GrantTrace, sdk.GrantFirmness, sdk.GrantFindings},
		Owns: []sdk.Additive{{
			ID: additive, Name: "Sodium lactate",
			Parameters: []sdk.Parameter{{
				Name: "strength_pct", Unit: "percent sodium lactate: 60 for the usual solution, 98 for powder", Min: 20, Max: 100, Default: soldPct,
			}},
			LowOfFatsPct: 1, HighOfFatsPct: ceilingPct, GPerTeaspoonUS: 6.5,
			UsualStage: sdk.StageCooledLye, WaterOnTop: true,
		}},
		Adjust: func(_ context.Context, q sdk.Question) sdk.Answer { return q.Each(adjust) },
		Review: func(_ context.Context, b sdk.Batch) []sdk.Finding { return review(&b) },
	}
}

// salt is the share of a dose that is sodium lactate.
func salt(d sdk.Dose) float64 { return d.Parameters["strength_pct"] / 100 }

// adjust answers one dose.
func adjust(d sdk.Dose) (sdk.Adjustment, *sdk.Rejection) {
	if d.Stage == sdk.StageFats || d.Stage == sdk.StageSurface {
		return sdk.Adjustment{}, &sdk.Rejection{
			Field: "stage", Reason: "STAGE",
			Text: "Sodium lactate does not dissolve in fats and does nothing on top. Stir it into the cooled lye, or into a portion at trace.",
		}
	}
	s := salt(d)
	asSold := d.OfPortionFatsPct * s / (soldPct / 100)
	return sdk.Adjustment{
		WaterGPerG:    1 - s,
		DensityGPerML: 1 / (s/saltDensity + (1-s)/waterDensity),
		TraceTime:     sooner.AtDose(asSold, usualPct, mostUsual),
		Firmness:      firmer.AtDose(asSold, usualPct, mostUsual),
		Steps:         steps(d, s),
		Basis:         sdk.CommonPractice, Source: source,
	}, nil
}

// steps say when it goes in and how soon the loaf comes out.
func steps(d sdk.Dose, s float64) []sdk.Step {
	out := make([]sdk.Step, 0, 3)
	if s > 0.9 {
		out = append(out, sdk.Step{
			Stage: d.Stage, Code: "dissolve",
			Text: "Dissolve the powder in a little of the recipe's water first; dry grains cake in strong lye.",
		})
	}
	switch d.Stage {
	case sdk.StageTrace:
		out = append(out, sdk.Step{Stage: d.Stage, Code: "stir-in", Text: "Stir the lactate into the portion before its color."})
	default:
		// Up to 54 °C is common practice; some shops wait for 49.
		out = append(out, sdk.Step{
			Stage: sdk.StageCooledLye, Code: "into-cooled-lye", MaxC: new(54.0),
			Text: "Let the lye cool to 54 °C or less, then stir the lactate in until it is clear.",
		})
	}
	return append(out, sdk.Step{
		Stage: sdk.StageSurface, Code: "unmold",
		Text: "Expect to unmold after 18 to 24 hours, also from silicone, where 3 to 4 days are usual. Cut within a day of that: the loaf goes on hardening.",
	})
}
