package translate

import (
	lixiviumv1 "lixivium.example/proto/lixivium/v1"

	"lixivium.example/engine"
)

func (r *reader) alkali(at *path, m *lixiviumv1.Alkali) engine.Alkali {
	a := engine.Alkali{
		NaOH: alkaliStock(m.GetNaoh()),
		KOH:  alkaliStock(m.GetKoh()),
	}
	switch s := m.GetKohShare().(type) {
	case *lixiviumv1.Alkali_KohOfMolesPct:
		a.KOHOfMolesPct = engine.Some(s.KohOfMolesPct)
	case *lixiviumv1.Alkali_KohOfGramsPct:
		a.KOHOfGramsPct = engine.Some(s.KohOfGramsPct)
	}
	switch s := m.GetAmount().(type) {
	case *lixiviumv1.Alkali_SuperfatPct:
		a.SuperfatPct = engine.Some(s.SuperfatPct)
	case *lixiviumv1.Alkali_Given:
		given := at.at("given")
		a.Given = &engine.GivenAlkali{
			NaOH: r.optionalQuantity(given.at("naoh"), s.Given.GetNaoh()),
			KOH:  r.optionalQuantity(given.at("koh"), s.Given.GetKoh()),
		}
	}
	return a
}

func alkaliStock(m *lixiviumv1.AlkaliStock) *engine.AlkaliStock {
	if m == nil {
		return nil
	}
	s := &engine.AlkaliStock{HalfWidthPct: optional(m.HalfWidthPct)}
	switch f := m.GetForm().(type) {
	case *lixiviumv1.AlkaliStock_PurityPct:
		s.PurityPct = engine.Some(f.PurityPct)
	case *lixiviumv1.AlkaliStock_Solution:
		s.Solution = solution(f.Solution)
	case *lixiviumv1.AlkaliStock_Made:
		s.Made = &engine.MadeStock{
			Solid: quantity(f.Made.GetSolid()),
			Water: quantity(f.Made.GetWater()),
		}
		if f.Made != nil {
			s.Made.PurityPct = optional(f.Made.PurityPct)
		}
	}
	for _, c := range m.GetAlsoHolds() {
		content := engine.StockContent{Name: c.GetName()}
		switch a := c.GetAmount().(type) {
		case *lixiviumv1.StockContent_Mass:
			content.Mass = quantity(a.Mass)
		case *lixiviumv1.StockContent_OfStockPct:
			content.OfStockPct = engine.Some(a.OfStockPct)
		}
		s.AlsoHolds = append(s.AlsoHolds, content)
	}
	return s
}

func solution(m *lixiviumv1.SolutionStrength) *engine.SolutionStrength {
	s := &engine.SolutionStrength{}
	switch f := m.GetStrength().(type) {
	case *lixiviumv1.SolutionStrength_MassPct:
		s.MassPct = engine.Some(f.MassPct)
	case *lixiviumv1.SolutionStrength_DensityGPerMl:
		s.DensityGPerML = engine.Some(f.DensityGPerMl)
	case *lixiviumv1.SolutionStrength_MolPerL:
		s.MolPerL = engine.Some(f.MolPerL)
	case *lixiviumv1.SolutionStrength_DegreesBaume:
		s.DegreesBaume = engine.Some(f.DegreesBaume)
	case *lixiviumv1.SolutionStrength_DegreesTwaddell:
		s.DegreesTwaddell = engine.Some(f.DegreesTwaddell)
	}
	if m != nil {
		s.TemperatureC = optional(m.TemperatureC)
		s.BaumeModulus = optional(m.BaumeModulus)
	}
	return s
}
