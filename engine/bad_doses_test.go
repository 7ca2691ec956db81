package engine_test

import (
	"fmt"

	"lixivium.example/engine"
)

// dose adds a dose of 1 % citric acid, spoiled.
func dose(spoil func(*engine.Dose)) func(*request) {
	return func(q *request) {
		d := engine.Dose{ID: "d", Custom: citric(), OfFatsPct: engine.Some(1)}
		d.Custom.GPerTeaspoonUS = engine.Some(4.6)
		spoil(&d)
		q.Portions = []engine.Portion{{ID: "p", BaseSharePct: 40}, {ID: "q", BaseSharePct: 60}}
		q.Doses = []engine.Dose{d}
	}
}

// carried adds 1 % of a powder with a carrier.
func carried(c engine.Carrier) func(*request) {
	return dose(func(d *engine.Dose) { d.Custom, d.Carrier = inert, &c })
}

// owned adds 1 % of pulp, whose rules are at hand.
func owned(spoil func(*engine.Dose)) func(*request) {
	return func(q *request) {
		dose(func(d *engine.Dose) {
			d.Custom, d.Additive = nil, "pulp"
			spoil(d)
		})(q)
		q.rules = pulp()
	}
}

var badDoses = []bad{
	{"201 doses", func(q *request) {
		for i := range 201 {
			q.Doses = append(q.Doses, engine.Dose{ID: fmt.Sprint("d", i), Custom: inert, OfFatsPct: engine.Some(0.1)})
		}
	}, []want{{"recipe.doses", engine.ReasonTooMany, "at most 200"}}},
	{"neither additive nor custom", dose(func(d *engine.Dose) { d.Custom = nil }), []want{{"recipe.doses[0]", engine.ReasonRequired, "additive and custom"}}},
	{"additive and custom", dose(func(d *engine.Dose) { d.Additive = "pulp" }), []want{{"recipe.doses[0]", engine.ReasonConflict, "additive and custom"}}},
	{"no amount", dose(func(d *engine.Dose) { d.OfFatsPct = engine.Optional{} }), []want{{"recipe.doses[0]", engine.ReasonRequired, "mass, of_fats_pct"}}},
	{"two amounts", dose(func(d *engine.Dose) { d.Mass = engine.InGrams(5) }), []want{{"recipe.doses[0]", engine.ReasonConflict, "mass, of_fats_pct"}}},
	{"dose by volume", dose(func(d *engine.Dose) {
		d.OfFatsPct, d.Mass = engine.Optional{}, engine.Quantity{Value: 5, Unit: engine.Milliliter}
	}), []want{{"recipe.doses[0].mass.ml", engine.ReasonUnit, "spoons"}}},
	{"dose of zero percent", dose(func(d *engine.Dose) { d.OfFatsPct = engine.Some(0) }), []want{{"recipe.doses[0].of_fats_pct", engine.ReasonRange, "Leave it out"}}},
	{"dose below zero", dose(func(d *engine.Dose) { d.OfFatsPct = engine.Some(-1) }), []want{{"recipe.doses[0].of_fats_pct", engine.ReasonRange, "percent of the fats"}}},
	{"dose is not a number", dose(func(d *engine.Dose) { d.OfFatsPct = engine.Some(nan) }), []want{{"recipe.doses[0].of_fats_pct", engine.ReasonNotFinite, "plain number"}}},
	{"dose of no asked water", func(q *request) {
		weighed(engine.InGrams(140))(q)
		dose(func(d *engine.Dose) { d.OfFatsPct, d.OfAskedWaterPct = engine.Optional{}, engine.Some(5) })(q)
		q.Water = nil
	}, []want{{"recipe.doses[0].of_asked_water_pct", engine.ReasonConflict, "State the water"}}},
	{"spoons nobody knows", dose(func(d *engine.Dose) {
		d.OfFatsPct, d.Spoons, d.Custom.GPerTeaspoonUS = engine.Optional{}, &engine.Spoons{TeaspoonsUS: 2}, engine.Optional{}
	}), []want{{"recipe.doses[0].spoons", engine.ReasonRequired, "g_per_teaspoon_us"}}},
	{"spoons of zero", dose(func(d *engine.Dose) { d.OfFatsPct, d.Spoons = engine.Optional{}, &engine.Spoons{} }), []want{{"recipe.doses[0].spoons.teaspoons_us", engine.ReasonRange, "level teaspoons"}}},
	{"spoons per cup", dose(func(d *engine.Dose) {
		d.OfFatsPct, d.Spoons = engine.Optional{}, &engine.Spoons{TeaspoonsUS: 1, PerFats: engine.Quantity{Value: 1, Unit: engine.CupUS}}
	}), []want{{"recipe.doses[0].spoons.per_fats.cup_us", engine.ReasonUnit, "by mass"}}},

	{"custom without name", dose(func(d *engine.Dose) { d.Custom.Name = "" }), []want{{"recipe.doses[0].custom.name", engine.ReasonRequired, "Name the additive"}}},
	{"more water than additive", dose(func(d *engine.Dose) { d.Custom.WaterGPerG = 90 }), []want{{"recipe.doses[0].custom.water_g_per_g", engine.ReasonRange, "one gram"}, {"recipe.doses[0].custom", engine.ReasonSum, "1 at most"}}},
	{"water and fat above one", dose(func(d *engine.Dose) {
		d.Custom.WaterGPerG, d.Custom.FatGPerG = 0.6, map[string]float64{"olive-oil": 0.6}
	}), []want{{"recipe.doses[0].custom", engine.ReasonSum, "1 at most"}}},
	{"negative bound water", dose(func(d *engine.Dose) { d.Custom.BoundWaterGPerG = -1 }), []want{{"recipe.doses[0].custom.bound_water_g_per_g", engine.ReasonRange, "binds"}}},
	{"alkali per mole", dose(func(d *engine.Dose) { d.Custom.AlkaliMolPerG.Value = 3 }), []want{{"recipe.doses[0].custom.alkali_mol_per_g.value", engine.ReasonRange, "0.0156"}}},
	{"alkali is brought", dose(func(d *engine.Dose) { d.Custom.AlkaliMolPerG.Value = -0.01 }), []want{{"recipe.doses[0].custom.alkali_mol_per_g.value", engine.ReasonRange, "a lye, not an additive"}}},
	{"density of 0.01", dose(func(d *engine.Dose) { d.Custom.DensityGPerML = engine.Some(0.01) }), []want{{"recipe.doses[0].custom.density_g_per_ml", engine.ReasonRange, "density"}}},
	{"brought fat unknown", dose(func(d *engine.Dose) { d.Custom.FatGPerG = map[string]float64{"zzz": 0.5} }), []want{{"recipe.doses[0].custom.fat_g_per_g.zzz", engine.ReasonUnknown, "catalog"}}},
	{"brought fat of two", dose(func(d *engine.Dose) { d.Custom.FatGPerG = map[string]float64{"olive-oil": 2} }), []want{{"recipe.doses[0].custom.fat_g_per_g.olive-oil", engine.ReasonRange, "one gram"}, {"recipe.doses[0].custom", engine.ReasonSum, "1 at most"}}},
	{"custom with parameters", dose(func(d *engine.Dose) { d.Parameters = map[string]float64{"x": 1} }), []want{{"recipe.doses[0].parameters", engine.ReasonParameter, "into custom"}}},

	{"unknown portion", dose(func(d *engine.Dose) { d.PortionID = "r" }), []want{{"recipe.doses[0].portion_id", engine.ReasonUnknown, "no portion"}}},
	{"portion basis without portion", dose(func(d *engine.Dose) { d.Basis = engine.BasisPortionFats }), []want{{"recipe.doses[0].basis", engine.ReasonConflict, "Leave the basis out"}}},
	{"alkali added for a portion", dose(func(d *engine.Dose) { d.PortionID, d.Treatment = "p", engine.TreatmentAdd }), []want{{"recipe.doses[0].treatment", engine.ReasonAddInPortion, "Dose the whole batch"}}},
	{"alkali added to given alkali", func(q *request) {
		weighed(engine.InGrams(140))(q)
		dose(func(d *engine.Dose) { d.Treatment = engine.TreatmentAdd })(q)
	}, []want{{"recipe.doses[0].treatment", engine.ReasonAddWithGiven, "ask for a superfat"}}},
	{"alkali added without half-width", dose(func(d *engine.Dose) {
		d.Treatment, d.Custom.AlkaliMolPerG.HalfWidth = engine.TreatmentAdd, engine.Optional{}
	}), []want{{"recipe.doses[0].custom.alkali_mol_per_g.half_width", engine.ReasonRequired, "half-width is stated"}}},
	{"stage of the alkali", dose(func(d *engine.Dose) { d.Stage = engine.StageAlkali }), []want{{"recipe.doses[0].stage", engine.ReasonConflict, "Use water_before_lye"}}},
	{"stage is not known", dose(func(d *engine.Dose) { d.Stage = 99 }), []want{{"recipe.doses[0].stage", engine.ReasonConflict, "Use water_before_lye"}}},
	{"portion before the split", dose(func(d *engine.Dose) { d.PortionID, d.Stage = "p", engine.StageFats }), []want{{"recipe.doses[0].stage", engine.ReasonConflict, "Use trace or surface"}}},
	{"id of a fat", dose(func(d *engine.Dose) { d.ID = "olive" }), []want{{"recipe.doses[0].id", engine.ReasonDuplicate, "an id of its own"}}},
	{"id of a portion", dose(func(d *engine.Dose) { d.ID = "p" }), []want{{"recipe.doses[0].id", engine.ReasonDuplicate, "recipe.portions[0]"}}},
	{"id with a slash", dose(func(d *engine.Dose) { d.ID = "d/carrier" }), []want{{"recipe.doses[0].id", engine.ReasonBadID, "lower case letters"}}},

	{"unknown parameter", owned(func(d *engine.Dose) { d.Parameters = map[string]float64{"acidity": 1} }), []want{{"recipe.doses[0].parameters.acidity", engine.ReasonParameter, "no parameter"}}},
	{"parameter out of range", owned(func(d *engine.Dose) { d.Parameters = map[string]float64{"acid_pct": 11} }), []want{{"recipe.doses[0].parameters.acid_pct", engine.ReasonRange, "owner sets the range"}}},
	{"parameter is not a number", owned(func(d *engine.Dose) { d.Parameters = map[string]float64{"acid_pct": nan} }), []want{{"recipe.doses[0].parameters.acid_pct", engine.ReasonNotFinite, "plain number"}}},
}

var badCarriers = []bad{
	{"no carrier named", carried(engine.Carrier{GPerG: 2}), []want{{"recipe.doses[0].carrier", engine.ReasonRequired, "water, fat and custom"}}},
	{"two carriers named", carried(engine.Carrier{GPerG: 2, Water: true, Fat: "olive"}), []want{{"recipe.doses[0].carrier", engine.ReasonConflict, "water, fat and custom"}}},
	{"carrier of nothing", carried(engine.Carrier{Water: true}), []want{{"recipe.doses[0].carrier.g_per_g_dose", engine.ReasonRange, "grams of carrier"}}},
	{"carrier is infinite", carried(engine.Carrier{Water: true, GPerG: inf}), []want{{"recipe.doses[0].carrier.g_per_g_dose", engine.ReasonNotFinite, "plain number"}}},
	{"held back from no line", carried(engine.Carrier{GPerG: 2, Fat: "castor-oil"}), []want{{"recipe.doses[0].carrier.fat", engine.ReasonNotOnRecipe, "extra: true"}}},
	{"held back from several lines", func(q *request) {
		carried(engine.Carrier{GPerG: 2, Fat: "olive-oil"})(q)
		q.Fats = append(q.Fats, engine.FatLine{ID: "olive-2", Fat: "olive-oil", Mass: engine.InGrams(100)})
	}, []want{{"recipe.doses[0].carrier.fat", engine.ReasonAmbiguous, "Name the line"}}},
	{"extra fat unknown", carried(engine.Carrier{GPerG: 2, Fat: "castr oil", Extra: true}), []want{{"recipe.doses[0].carrier.fat", engine.ReasonUnknown, "catalog"}}},
	{"held back for asked water", func(q *request) {
		carried(engine.Carrier{GPerG: 2, Fat: "olive"})(q)
		q.Doses[0].OfFatsPct, q.Doses[0].OfAskedWaterPct = engine.Optional{}, engine.Some(2)
	}, []want{{"recipe.doses[0].of_asked_water_pct", engine.ReasonConflict, "State its mass or percent of fats"}}},
	{"custom carrier without name", carried(engine.Carrier{GPerG: 2, Custom: &engine.CustomAdditive{}}), []want{{"recipe.doses[0].carrier.custom.name", engine.ReasonRequired, "Name the additive"}}},
}
