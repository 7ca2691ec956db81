package engine_test

import (
	"lixivium.example/engine"
)

// drawAlkali draws sodium hydroxide, potassium hydroxide or both, in any form,
// and a superfat.
func drawAlkali(m maker) engine.Alkali {
	a := engine.Alkali{SuperfatPct: engine.Some(m.number(0.5, 20)), NaOH: drawStock(m), KOH: drawStock(m)}
	switch m.kind(4) {
	case 0:
		a.KOHOfMolesPct = engine.Some(m.number(5, 100))
	case 1:
		a.KOHOfGramsPct = engine.Some(m.number(5, 100))
	}
	return a
}

// drawStock draws the form of one alkali.
func drawStock(m maker) *engine.AlkaliStock {
	s := &engine.AlkaliStock{}
	switch m.kind(8) {
	case 0, 1:
		return nil
	case 2:
		s.Solution = &engine.SolutionStrength{MassPct: engine.Some(m.number(30, 50))}
	case 3:
		s.Solution = &engine.SolutionStrength{
			DegreesBaume: engine.Some(m.number(36, 45)), BaumeModulus: engine.Some(145), TemperatureC: engine.Some(m.number(15, 30)),
		}
	case 4:
		s.Made = &engine.MadeStock{Solid: engine.InGrams(m.number(400, 500)), Water: engine.InGrams(m.number(500, 600))}
		if coin.Draw(m.T, "stated") {
			s.Made.PurityPct = engine.Some(m.number(85, 100))
		}
		if m.chance(30) {
			s.AlsoHolds = []engine.StockContent{{Name: "sugar", Mass: engine.InGrams(m.number(5, 40))}}
		}
	default:
		s.PurityPct = engine.Some(m.number(85, 100))
	}
	if coin.Draw(m.T, "half width") {
		s.HalfWidthPct = engine.Some(m.number(0.1, 3))
	}
	return s
}

// drawWater draws the asked water in any form, about what recipes have.
func drawWater(m maker, fatsG float64) *engine.Water {
	w := &engine.WaterMeasure{}
	switch m.kind(4) {
	case 0:
		w.Mass = m.mass(fatsG*m.number(0.3, 0.6), 1)
	case 1:
		w.LyeConcentrationPct = engine.Some(m.number(20, 34))
	case 2:
		w.WaterPerAlkali = engine.Some(m.number(1.9, 4))
	case 3:
		w.OfFatsPct = engine.Some(m.number(30, 60))
	}
	if m.chance(25) {
		return &engine.Water{Discount: &engine.WaterDiscount{OffPct: m.number(2, 20), Reference: w}}
	}
	return &engine.Water{Measure: w}
}

// giveAlkali turns a recipe into one to judge: alkali as weighed, near what it
// needs, and nothing that needs an asked superfat.
func giveAlkali(m maker, r *engine.Recipe) {
	a := &r.Alkali
	a.SuperfatPct, a.KOHOfMolesPct, a.KOHOfGramsPct = engine.Optional{}, engine.Optional{}, engine.Optional{}
	need := 0.0
	for i := range r.Fats {
		need += float64(lineGrams(r, i) * needPerGram(&r.Fats[i]))
	}
	need *= m.number(0.7, 1.1)
	koh := []float64{0, 0, 0, 1, m.number(0.05, 0.95)}[m.kind(5)]
	a.Given = &engine.GivenAlkali{}
	if koh < 1 {
		a.Given.NaOH = m.mass(need*(1-koh)*40, 1)
	}
	if koh > 0 {
		a.Given.KOH = m.mass(need*koh*62, 1)
	}
	for i := range r.Doses {
		if r.Doses[i].Treatment == engine.TreatmentAdd {
			r.Doses[i].Treatment = engine.TreatmentAbsorb
		}
	}
}

// mass is v grams: of round figures so many whole digits, such as grams or
// tenths.
func (m maker) mass(v, digit float64) engine.Quantity {
	if m.round {
		v = max(digit, written(v, digit))
	}
	return engine.InGrams(v)
}
