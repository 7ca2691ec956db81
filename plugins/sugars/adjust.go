package sugars

import (
	"fmt"

	"lixivium.example/plugins/sdk"
)

const (
	waterDensity = 0.998
	// mostUsual is how many usual doses still add speed and softness.
	mostUsual = 3
)

// adjust answers one dose.
func adjust(d sdk.Dose) (sdk.Adjustment, *sdk.Rejection) {
	k := byID[d.Additive]
	if d.Stage == sdk.StageSurface {
		return sdk.Adjustment{}, &sdk.Rejection{
			Field: "stage", Reason: "STAGE", Text: "Sugar on top draws water and stays sticky. Put it into the water before the lye, or into the batter at trace.",
		}
	}
	w := k.water(d)
	a := sdk.Adjustment{
		WaterGPerG: w, AlkaliHighMolPerG: k.highMol * (1 - w), HeatJPerG: k.heat * (1 - w),
		DensityGPerML: 1 / (w/waterDensity + (1-w)/k.density),
		Firmness:      k.firmer.AtDose(d.OfPortionFatsPct, k.usual, mostUsual),
		Steps:         k.steps(d), Basis: k.basis, Source: k.source,
	}
	if k.sooner != (sdk.Band{}) {
		a.TraceTime = k.sooner.AtDose(d.OfPortionFatsPct, k.usual, mostUsual)
	}
	return a, nil
}

// steps say how it goes in and how warm to start.
func (k *kind) steps(d sdk.Dose) []sdk.Step {
	out := []sdk.Step{{
		Stage: sdk.StageFats, Code: "start-cool", MaxC: &k.startC,
		Text: fmt.Sprintf("Combine fats and lye at %.0f °C or less: sugar makes heat of its own. Insulate little, and look every 20 to 60 minutes for the first six hours.", k.startC),
	}}
	in := sdk.Step{Stage: d.Stage}
	switch d.Stage {
	case sdk.StageWaterBeforeLye:
		in.Code, in.Text = "dissolve-before-lye", "Dissolve it in the cold water until clear, before the alkali. It goes tan if the lye gets very hot: keep the jug in cold water."
	case sdk.StageCooledLye:
		in.Code, in.Text = "into-cooled-lye", "Let the lye cool right down and stir it in slowly: the lye darkens and heats up again."
		in.MaxC = &k.startC
	case sdk.StageFats:
		in.Code, in.Text = "blend-into-fats", "Blend it into the warm fats and give the blender time: it does not dissolve there."
	default:
		in.Code, in.Text = "thin-first", "Thin it with as much water held back from the recipe, or warm oil, and stir it in at thin trace. Unthinned it leaves streaks and weeping spots."
	}
	return append(out, in)
}
