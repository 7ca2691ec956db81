package pigments

import (
	"fmt"

	"lixivium.example/plugins/sdk"
)

// mostUsual is how many usual doses still speed the batter.
const mostUsual = 3

// hidesTrailPct is the white load from which the trail on the batter cannot be
// seen well any more: an estimate, two thirds of the usual dose.
const hidesTrailPct = 0.5

// adjust answers one dose.
func adjust(d sdk.Dose) (sdk.Adjustment, *sdk.Rejection) {
	k := byID[d.Additive]
	if k.switches {
		if _, r := d.Switch(waterGrade); r != nil {
			return sdk.Adjustment{}, r
		}
	}
	a := sdk.Adjustment{
		BoundWaterGPerG: k.bound, DensityGPerML: k.density, Steps: k.steps(d), Basis: k.basis, Source: k.source,
	}
	if k.sooner != (sdk.Band{}) {
		a.TraceTime = k.sooner.AtDose(d.OfPortionFatsPct, k.usual, mostUsual)
	}
	if k.id == "zinc-oxide" {
		// It forms some zinc soap with free fatty acid: an estimate.
		a.Firmness = sdk.Band{Low: 1, Typical: 1.03, High: 1.1}.AtDose(d.OfPortionFatsPct, k.usual, mostUsual)
	}
	return a, nil
}

// steps say how the color is wetted, how long it rests, and what to look out
// for at trace and at the cut.
func (k *kind) steps(d sdk.Dose) []sdk.Step {
	out := []sdk.Step{k.wetting(d)}
	if k.white && d.OfPortionFatsPct >= hidesTrailPct {
		out = append(out, sdk.Step{
			Stage: sdk.StageTrace, Code: "judge-by-texture",
			Text: "A white load hides the trail. Judge trace by how the batter runs off the spatula, not by its lines.",
		})
	}
	switch {
	case d.Stage == sdk.StageSurface:
		out = append(out, sdk.Step{
			Stage: sdk.StageSurface, Code: "cut-on-side",
			Text: "Dust it thinly through a sieve. Lay the loaf on its side to cut, or the wire drags the powder across the face.",
		})
	case k.id == "charcoal":
		out = append(out, sdk.Step{
			Stage: sdk.StageSurface, Code: "wipe-wire",
			Text: "Wipe the wire after every cut and cut from the light side toward the dark one.",
		})
	case k.id == "mica":
		out = append(out, sdk.Step{
			Stage: d.Stage, Code: "read-label",
			Text: "Read what the mica is colored with: oxides stay, carmine, iron blue and dyes turn.",
		})
	}
	return out
}

// wetting is how the color gets into the batter without specks.
func (k *kind) wetting(d sdk.Dose) sdk.Step {
	s := sdk.Step{Stage: d.Stage, Code: "disperse"}
	if k.restMinutes > 0 {
		s.WaitMinutes = new(k.restMinutes)
	}
	minutes := fmt.Sprintf("blend for two minutes, leave it for %.0f, and pass it through a fine sieve", k.restMinutes)
	switch {
	case k.dye:
		s.Text = "Dissolve it in warm water to a solution of half to two percent and add that by the drop."
	case d.Stage == sdk.StageSurface:
		s.Code, s.WaitMinutes = "dry", nil
		s.Text = "It goes on dry, as fine as it comes."
	case d.Carrier == "" && k.dryIsFine:
		s.Text = "Rub it into a spoon or two of the batter or of light oil before it goes in."
	case d.Carrier == "":
		s.Text = fmt.Sprintf("Wet it with about four times its weight of %s, %s.", k.wetIn(d), minutes)
	case d.Carrier == "water":
		s.Text = "Stir it into its water, " + minutes + ". That water is counted in this portion."
	case d.Carrier == "other":
		s.Text = "Stir it into its carrier, " + minutes + "."
	default:
		s.Text = "Stir it into its oil, " + minutes + "."
	}
	return s
}

// wetIn names the liquid that suits the color. A teaspoon of powder to a
// tablespoon of liquid is common practice, about one to four by weight.
func (k *kind) wetIn(d sdk.Dose) string {
	if k.switches && d.Parameters[waterGrade] == 1 {
		return "water held back from the recipe"
	}
	if k.byWater {
		return "light oil or water from the recipe"
	}
	return "light oil from the recipe"
}
