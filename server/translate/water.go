package translate

import (
	lixiviumv1 "lixivium.example/proto/lixivium/v1"

	"lixivium.example/engine"
)

func water(m *lixiviumv1.Water) *engine.Water {
	if m == nil {
		return nil
	}
	w := &engine.Water{GrantRequests: m.GetGrantRequests()}
	switch a := m.GetAsk().(type) {
	case *lixiviumv1.Water_Measure:
		w.Measure = waterMeasure(a.Measure)
	case *lixiviumv1.Water_Discount:
		w.Discount = &engine.WaterDiscount{
			OffPct:    a.Discount.GetOffPct(),
			Reference: waterMeasure(a.Discount.GetReference()),
		}
	}
	return w
}

func waterMeasure(m *lixiviumv1.WaterMeasure) *engine.WaterMeasure {
	if m == nil {
		return nil
	}
	w := &engine.WaterMeasure{}
	switch v := m.GetMeasure().(type) {
	case *lixiviumv1.WaterMeasure_Mass:
		w.Mass = quantity(v.Mass)
	case *lixiviumv1.WaterMeasure_LyeConcentrationPct:
		w.LyeConcentrationPct = engine.Some(v.LyeConcentrationPct)
	case *lixiviumv1.WaterMeasure_WaterPerAlkaliRatio:
		w.WaterPerAlkali = engine.Some(v.WaterPerAlkaliRatio)
	case *lixiviumv1.WaterMeasure_WaterOfFatsPct:
		w.OfFatsPct = engine.Some(v.WaterOfFatsPct)
	}
	return w
}

func waterMessage(w *engine.Water) *lixiviumv1.Water {
	if w == nil {
		return nil
	}
	m := &lixiviumv1.Water{GrantRequests: w.GrantRequests}
	switch {
	case w.Measure != nil:
		m.Ask = &lixiviumv1.Water_Measure{Measure: waterMeasureMessage(w.Measure)}
	case w.Discount != nil:
		m.Ask = &lixiviumv1.Water_Discount{Discount: &lixiviumv1.WaterDiscount{
			OffPct:    w.Discount.OffPct,
			Reference: waterMeasureMessage(w.Discount.Reference),
		}}
	}
	return m
}

func waterMeasureMessage(w *engine.WaterMeasure) *lixiviumv1.WaterMeasure {
	if w == nil {
		return nil
	}
	m := &lixiviumv1.WaterMeasure{}
	if w.Mass.Given() {
		m.Measure = &lixiviumv1.WaterMeasure_Mass{Mass: quantityMessage(w.Mass)}
	}
	if v, set := w.LyeConcentrationPct.Get(); set {
		m.Measure = &lixiviumv1.WaterMeasure_LyeConcentrationPct{LyeConcentrationPct: v}
	}
	if v, set := w.WaterPerAlkali.Get(); set {
		m.Measure = &lixiviumv1.WaterMeasure_WaterPerAlkaliRatio{WaterPerAlkaliRatio: v}
	}
	if v, set := w.OfFatsPct.Get(); set {
		m.Measure = &lixiviumv1.WaterMeasure_WaterOfFatsPct{WaterOfFatsPct: v}
	}
	return m
}

// waterAnswer writes the water balance of the batch.
func waterAnswer(w *engine.WaterAnswer) *lixiviumv1.WaterAnswer {
	return &lixiviumv1.WaterAnswer{
		AskedG:              float64(w.AskedG),
		PlainG:              float64(w.PlainG),
		FromStockG:          float64(w.FromStockG),
		InAlkaliG:           float64(w.InAlkaliG),
		BroughtG:            float64(w.BroughtG),
		FormedG:             float64(w.FormedG),
		RequestedG:          float64(w.RequestedG),
		GrantedG:            float64(w.GrantedG),
		OnTopG:              float64(w.OnTopG),
		TotalG:              float64(w.TotalG),
		BoundG:              float64(w.BoundG),
		FreeG:               float64(w.FreeG),
		JugStrengthPct:      float64(w.JugStrengthPct),
		JugPurePct:          float64(w.JugPurePct),
		BatchStrengthPct:    float64(w.BatchStrengthPct),
		LyeConcentrationPct: float64(w.LyeConcentrationPct),
		WaterPerAlkaliRatio: w.PerAlkaliRatio,
		WaterOfFatsPct:      float64(w.OfFatsPct),
		Shares:              each(w.Shares, fillWaterShare),
	}
}

func fillWaterShare(m *lixiviumv1.WaterShare, s *engine.WaterShare) {
	m.LineId = s.LineID
	m.BroughtG = float64(s.BroughtG)
	m.FormedG = float64(s.FormedG)
	m.BoundG = float64(s.BoundG)
	m.RequestedG = float64(s.RequestedG)
	m.FromRecipe = s.FromRecipe
}
