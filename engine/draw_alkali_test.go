package engine_test

import (
	"pgregory.net/rapid"

	"lixivium.example/engine"
)

// drawAlkali draws sodium hydroxide, potassium hydroxide or both, in any form,
// and a superfat.
func drawAlkali(t *rapid.T) engine.Alkali {
	a := engine.Alkali{SuperfatPct: engine.Some(number(t, 0.5, 20)), NaOH: drawStock(t), KOH: drawStock(t)}
	switch kind(t, 4) {
	case 0:
		a.KOHOfMolesPct = engine.Some(number(t, 5, 100))
	case 1:
		a.KOHOfGramsPct = engine.Some(number(t, 5, 100))
	}
	return a
}

// drawStock draws the form of one alkali.
func drawStock(t *rapid.T) *engine.AlkaliStock {
	s := &engine.AlkaliStock{}
	switch kind(t, 8) {
	case 0, 1:
		return nil
	case 2:
		s.Solution = &engine.SolutionStrength{MassPct: engine.Some(number(t, 30, 50))}
	case 3:
		s.Solution = &engine.SolutionStrength{
			DegreesBaume: engine.Some(number(t, 36, 45)), BaumeModulus: engine.Some(145), TemperatureC: engine.Some(number(t, 15, 30)),
		}
	case 4:
		s.Made = &engine.MadeStock{Solid: engine.InGrams(number(t, 400, 500)), Water: engine.InGrams(number(t, 500, 600))}
		if coin.Draw(t, "stated") {
			s.Made.PurityPct = engine.Some(number(t, 85, 100))
		}
		if chance(t, 30) {
			s.AlsoHolds = []engine.StockContent{{Name: "sugar", Mass: engine.InGrams(number(t, 5, 40))}}
		}
	default:
		s.PurityPct = engine.Some(number(t, 85, 100))
	}
	if coin.Draw(t, "half width") {
		s.HalfWidthPct = engine.Some(number(t, 0.1, 3))
	}
	return s
}

// drawWater draws the asked water in any form, about what recipes have.
func drawWater(t *rapid.T, fatsG float64) *engine.Water {
	m := &engine.WaterMeasure{}
	switch kind(t, 4) {
	case 0:
		m.Mass = engine.InGrams(fatsG * number(t, 0.3, 0.6))
	case 1:
		m.LyeConcentrationPct = engine.Some(number(t, 20, 34))
	case 2:
		m.WaterPerAlkali = engine.Some(number(t, 1.9, 4))
	case 3:
		m.OfFatsPct = engine.Some(number(t, 30, 60))
	}
	if chance(t, 25) {
		return &engine.Water{Discount: &engine.WaterDiscount{OffPct: number(t, 2, 20), Reference: m}}
	}
	return &engine.Water{Measure: m}
}

// giveAlkali turns a recipe into one to judge: alkali as weighed, near what it
// needs, and nothing that needs an asked superfat.
func giveAlkali(t *rapid.T, r *engine.Recipe) {
	a := &r.Alkali
	a.SuperfatPct, a.KOHOfMolesPct, a.KOHOfGramsPct = engine.Optional{}, engine.Optional{}, engine.Optional{}
	need := 0.0
	for i := range r.Fats {
		need += lineGrams(r, i) * needPerGram(&r.Fats[i])
	}
	need *= number(t, 0.7, 1.1)
	koh := []float64{0, 0, 0, 1, number(t, 0.05, 0.95)}[kind(t, 5)]
	a.Given = &engine.GivenAlkali{}
	if koh < 1 {
		a.Given.NaOH = engine.InGrams(need * (1 - koh) * 40)
	}
	if koh > 0 {
		a.Given.KOH = engine.InGrams(need * koh * 62)
	}
	for i := range r.Doses {
		if r.Doses[i].Treatment == engine.TreatmentAdd {
			r.Doses[i].Treatment = engine.TreatmentAbsorb
		}
	}
}
