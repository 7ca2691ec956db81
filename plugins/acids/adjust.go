package acids

import "lixivium.example/plugins/sdk"

// mostUsual is how many usual doses still firm the loaf.
const mostUsual = 2

// adjust answers one dose.
func adjust(d sdk.Dose) (sdk.Adjustment, *sdk.Rejection) {
	k := byID[d.Additive]
	if d.Stage == sdk.StageSurface {
		return sdk.Adjustment{}, &sdk.Rejection{
			Field: "stage", Reason: "STAGE", Text: "An acid on the surface neither meets the alkali that is reckoned for it nor does any good. Put it into the water before the lye.",
		}
	}
	if k.parameter.Name == monohydrate {
		if _, r := d.Switch(monohydrate); r != nil {
			return sdk.Adjustment{}, r
		}
	}
	p := k.pure(d)
	alkali := k.protons / k.molarG * p
	a := sdk.Adjustment{
		WaterGPerG: 1 - p, AlkaliMolPerG: alkali, AlkaliHalfMolPerG: alkali * k.offPct / 100,
		DensityGPerML: 1 / (p/k.density + (1-p)/waterDensity),
		Steps:         k.steps(d), Basis: k.basis, Source: k.source,
	}
	if k.id == "ascorbic-acid" {
		a.AlkaliHighMolPerG = 2 * alkali
	}
	// Factors follow the acid in the dose, not the water that came with it.
	dose := d.OfPortionFatsPct * p / k.usualPure()
	if k.sooner != (sdk.Band{}) {
		a.TraceTime = k.sooner.AtDose(dose, k.usual, mostUsual)
	}
	if k.firmer != (sdk.Band{}) {
		a.Firmness = k.firmer.AtDose(dose, k.usual, mostUsual)
	}
	return a, nil
}

// usualPure is the acid in one gram of the product at its default.
func (k *kind) usualPure() float64 {
	return k.pure(sdk.Dose{Parameters: map[string]float64{k.parameter.Name: k.parameter.Default}})
}

// steps say when it goes in, and how the lye is added after it.
func (k *kind) steps(d sdk.Dose) []sdk.Step {
	switch d.Stage {
	case sdk.StageWaterBeforeLye:
		return []sdk.Step{
			{Stage: d.Stage, Code: "dissolve-before-lye", Text: "Stir it into the cold water until clear, before the alkali."},
			{
				Stage: sdk.StageCooledLye, Code: "add-lye-slowly",
				Text: "Add the alkali in small parts, stirring: the acid makes heat of its own, and a spoonful at once spits.",
			},
		}
	case sdk.StageFats:
		return []sdk.Step{{Stage: d.Stage, Code: "disperse-in-fats", Text: "Blend it very finely: crystals do not dissolve in fat and stay as grains."}}
	case sdk.StageTrace:
		return []sdk.Step{{Stage: d.Stage, Code: "dissolve-first", Text: "Dissolve it in a little water held back from the recipe and stir it in at once: it sets fatty acid free where it lands, which thickens the batter."}}
	}
	return []sdk.Step{{
		Stage: d.Stage, Code: "drop-by-drop",
		Text: "Dissolve it in cold water and add it drop by drop to cold lye, behind goggles: it boils where it lands.",
	}}
}
