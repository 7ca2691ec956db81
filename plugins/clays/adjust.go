package clays

import "lixivium.example/plugins/sdk"

// mostUsual is how many usual doses still speed the batter and firm the loaf.
const mostUsual = 3

// dry is how much sooner again the batter thickens when the clay takes its water
// from the batter itself: common practice that it does, an estimate how much.
var dry = sdk.Band{Low: 0.8, Typical: 0.9, High: 1}

// adjust answers one dose.
func adjust(d sdk.Dose) (sdk.Adjustment, *sdk.Rejection) {
	k := byID[d.Additive]
	a := sdk.Adjustment{
		BoundWaterGPerG: k.bound, RequestedWaterGPerG: k.requested, DensityGPerML: density,
		TraceTime: k.sooner.AtDose(d.OfPortionFatsPct, k.usual, mostUsual),
		Firmness:  k.firmer.AtDose(d.OfPortionFatsPct, k.usual, mostUsual),
		Steps:     k.steps(d), Basis: k.basis, Source: k.source,
	}
	if takesFromBatter(d) {
		more := dry.AtDose(d.OfPortionFatsPct, k.usual, 1)
		a.TraceTime.Low = max(0.05, a.TraceTime.Low*more.Low)
		a.TraceTime.Typical = max(0.05, a.TraceTime.Typical*more.Typical)
		a.TraceTime.High = max(0.05, a.TraceTime.High*more.High)
	}
	return a, nil
}

// takesFromBatter tells whether the clay is put into the batter unwetted.
func takesFromBatter(d sdk.Dose) bool { return d.Carrier == "" && d.Stage == sdk.StageTrace }

// steps say how the clay is wetted.
func (k *kind) steps(d sdk.Dose) []sdk.Step {
	var out []sdk.Step
	if k.sandy {
		out = append(out, sdk.Step{Stage: d.Stage, Code: "sieve", Text: "Sieve it first: coarse grains scratch."})
	}
	wet := sdk.Step{Stage: d.Stage, Code: "wet-first"}
	switch {
	case d.Stage == sdk.StageSurface:
		wet.Code, wet.Text = "dust", "Dust it on thinly; a visible drift parts at the cut. Lay the loaf on its side to cut."
	case d.Carrier == "water" && k.id == "bentonite":
		wet.WaitMinutes = new(30.0)
		wet.Text = "Sprinkle it on its water without stirring and let it swell for half an hour, then stir."
	case d.Carrier == "water":
		wet.WaitMinutes = new(30.0)
		wet.Text = "Stir it into its water and let it soak for half an hour. That water is counted."
	case d.Carrier != "":
		wet.Text = "Stir it into its carrier until no lump is left."
	case d.Stage == sdk.StageFats:
		wet.Text = "Blend it into the melted fats before the lye."
	default:
		wet.WaitMinutes = new(30.0)
		wet.Text = "Wet it with one to three times its weight of the recipe's water or oil and let it soak for half an hour: dry clay thickens the batter and streaks."
	}
	return append(out, wet)
}
