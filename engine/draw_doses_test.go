package engine_test

import (
	"pgregory.net/rapid"

	"lixivium.example/engine"
)

// drawDose draws an additive with figures of its own for a recipe that has its
// fats and portions.
func drawDose(m maker, r *engine.Recipe, id string, fatsG float64) engine.Dose {
	d := engine.Dose{ID: id, Custom: drawAdditive(m)}
	if len(r.Portions) > 0 && coin.Draw(m.T, "portion") {
		d.PortionID = r.Portions[m.kind(len(r.Portions))].ID
		d.Basis = rapid.SampledFrom([]engine.DoseBasis{engine.BasisNotSaid, engine.BasisPortionFats, engine.BasisBatchFats}).Draw(m.T, "basis")
		d.Stage = rapid.SampledFrom([]engine.Stage{engine.StageNotSaid, engine.StageTrace, engine.StageSurface}).Draw(m.T, "stage")
	} else {
		d.Stage = rapid.SampledFrom([]engine.Stage{
			engine.StageNotSaid, engine.StageWaterBeforeLye, engine.StageCooledLye, engine.StageFats, engine.StageTrace, engine.StageSurface,
		}).Draw(m.T, "stage")
		d.Treatment = rapid.SampledFrom([]engine.AlkaliTreatment{engine.TreatmentNotSaid, engine.TreatmentAdd, engine.TreatmentAbsorb}).Draw(m.T, "treatment")
	}
	d.WaterSource = rapid.SampledFrom([]engine.WaterSource{engine.WaterSourceNotSaid, engine.WaterFromRecipe, engine.WaterOnTop}).Draw(m.T, "source")
	switch m.kind(4) {
	case 0:
		d.Mass = m.mass(fatsG*m.number(0.001, 0.02), 0.1)
	case 1:
		d.OfFatsPct = engine.Some(m.number(0.1, 3))
	case 2:
		d.OfAskedWaterPct = engine.Some(m.number(0.5, 6))
	case 3:
		d.Spoons = &engine.Spoons{TeaspoonsUS: m.number(0.2, 2), PerFats: engine.InGrams(500)}
	}
	if coin.Draw(m.T, "carried") {
		d.Carrier = drawCarrier(m, r, d.OfAskedWaterPct.Set())
	}
	if d.Stage == engine.StageSurface {
		d.Treatment = engine.TreatmentNotSaid // there is no alkali to add
	}
	return d
}

// drawAdditive draws what one gram of an additive does.
func drawAdditive(m maker) *engine.CustomAdditive {
	a := &engine.CustomAdditive{Name: "own additive", GPerTeaspoonUS: engine.Some(m.number(1, 6))}
	switch m.kind(5) {
	case 0:
		a.AlkaliMolPerG = &engine.Measured{Value: m.number(0.001, 0.02), HalfWidth: engine.Some(m.number(0, 0.0005))}
		a.AlkaliFormsNoWater = coin.Draw(m.T, "dry")
	case 1:
		a.FatGPerG = map[string]float64{tableID.Draw(m.T, "brought"): m.number(0.05, 0.5), "shea-butter": m.number(0, 0.4)}
	case 2:
		a.WaterGPerG = m.number(0.1, 1)
	case 3:
		a.BoundWaterGPerG = m.number(0.1, 2)
	}
	if coin.Draw(m.T, "density") {
		a.DensityGPerML = engine.Some(m.number(0.5, 4))
	}
	return a
}

// drawCarrier draws what wets a dose: water, fat held back, fat extra, premixed,
// or a liquid of the caller's own.
func drawCarrier(m maker, r *engine.Recipe, ofWater bool) *engine.Carrier {
	c := &engine.Carrier{GPerG: m.number(0.1, 2), Premixed: m.chance(25), Extra: m.chance(25)}
	switch k := m.kind(6); {
	case k == 0:
		c.Water = true
	case k == 1:
		c.Custom = drawAdditive(m)
	case k >= 3 && !ofWater:
		c.Fat, c.Extra, c.Premixed = r.Fats[m.kind(len(r.Fats))].ID, false, false
	default:
		c.Fat, c.Extra = tableID.Draw(m.T, "carrier"), true
	}
	return c
}

// drawBalances draws none, one or two.
func drawBalances(t *rapid.T) []engine.Balance {
	all := []engine.Balance{
		{Name: "bench", Step: engine.InGrams(1), Capacity: engine.Quantity{Value: 5, Unit: engine.Kilogram}},
		{Name: "small", Step: engine.InGrams(0.1), Capacity: engine.InGrams(500)},
		{Name: "fine", Step: engine.InGrams(0.01), Capacity: engine.InGrams(200)},
		{Name: "kitchen", Step: engine.InGrams(2)},
		{Name: "ounces", Step: engine.Quantity{Value: 0.05, Unit: engine.Ounce}, Capacity: engine.Quantity{Value: 11, Unit: engine.Pound}},
	}
	var out []engine.Balance
	for range kind(t, 3) {
		out = append(out, all[kind(t, len(all))])
	}
	return out
}
