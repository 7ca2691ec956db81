package translate

import (
	"maps"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"

	"lixivium.example/engine"
)

// recipeMessage writes a recipe as its message.
func recipeMessage(r *engine.Recipe) *lixiviumv1.Recipe {
	m := &lixiviumv1.Recipe{
		Name:        r.Name,
		TotalFats:   quantityMessage(r.TotalFats),
		Alkali:      alkaliMessage(&r.Alkali),
		Water:       waterMessage(r.Water),
		Process:     processMessage(&r.Process),
		CleaningBar: r.CleaningBar,
		Vessels: &lixiviumv1.Vessels{
			Pot:           quantityMessage(r.Vessels.Pot),
			Jug:           quantityMessage(r.Vessels.Jug),
			FoamingLiquid: r.Vessels.FoamingLiquid,
		},
	}
	for i := range r.Fats {
		m.Fats = append(m.Fats, fatLineMessage(&r.Fats[i]))
	}
	for i := range r.Doses {
		m.Doses = append(m.Doses, doseMessage(&r.Doses[i]))
	}
	for _, p := range r.Portions {
		m.Portions = append(m.Portions, &lixiviumv1.Portion{
			Id: p.ID, Name: p.Name, ShareOfBasePct: p.BaseSharePct, ColorSrgbHex: p.ColorSRGBHex,
		})
	}
	return m
}

func fatLineMessage(l *engine.FatLine) *lixiviumv1.FatLine {
	m := &lixiviumv1.FatLine{
		Id:                     l.ID,
		CertificateSvMgKohPerG: measuredMessage(l.CertificateSV),
		InfusedWith:            l.InfusedWith,
	}
	switch {
	case l.Custom != nil:
		m.Kind = &lixiviumv1.FatLine_Custom{Custom: &lixiviumv1.CustomFat{
			Name:          l.Custom.Name,
			SvMgKohPerG:   measuredMessage(&l.Custom.SV),
			DensityGPerMl: optionalMessage(l.Custom.DensityGPerML),
			FreeAcid:      l.Custom.FreeAcid,
			FattyAcidPct:  maps.Clone(l.Custom.FattyAcidsPct),
		}}
	case l.Premix != nil:
		premix := &lixiviumv1.Premix{Name: l.Premix.Name}
		for i := range l.Premix.Fats {
			premix.Fats = append(premix.Fats, fatLineMessage(&l.Premix.Fats[i]))
		}
		m.Kind = &lixiviumv1.FatLine_Premix{Premix: premix}
	case l.Fat != "":
		m.Kind = &lixiviumv1.FatLine_Fat{Fat: l.Fat}
	}
	if l.Mass.Given() {
		m.Amount = &lixiviumv1.FatLine_Mass{Mass: quantityMessage(l.Mass)}
	}
	if v, set := l.SharePct.Get(); set {
		m.Amount = &lixiviumv1.FatLine_ShareOfFatsPct{ShareOfFatsPct: v}
	}
	return m
}

func alkaliMessage(a *engine.Alkali) *lixiviumv1.Alkali {
	m := &lixiviumv1.Alkali{Naoh: stockMessage(a.NaOH), Koh: stockMessage(a.KOH)}
	if v, set := a.KOHOfMolesPct.Get(); set {
		m.KohShare = &lixiviumv1.Alkali_KohOfMolesPct{KohOfMolesPct: v}
	}
	if v, set := a.KOHOfGramsPct.Get(); set {
		m.KohShare = &lixiviumv1.Alkali_KohOfGramsPct{KohOfGramsPct: v}
	}
	if v, set := a.SuperfatPct.Get(); set {
		m.Amount = &lixiviumv1.Alkali_SuperfatPct{SuperfatPct: v}
	}
	if a.Given != nil {
		m.Amount = &lixiviumv1.Alkali_Given{Given: &lixiviumv1.GivenAlkali{
			Naoh: quantityMessage(a.Given.NaOH), Koh: quantityMessage(a.Given.KOH),
		}}
	}
	return m
}

func stockMessage(s *engine.AlkaliStock) *lixiviumv1.AlkaliStock {
	if s == nil {
		return nil
	}
	m := &lixiviumv1.AlkaliStock{HalfWidthPct: optionalMessage(s.HalfWidthPct)}
	if v, set := s.PurityPct.Get(); set {
		m.Form = &lixiviumv1.AlkaliStock_PurityPct{PurityPct: v}
	}
	if s.Solution != nil {
		m.Form = &lixiviumv1.AlkaliStock_Solution{Solution: solutionMessage(s.Solution)}
	}
	if s.Made != nil {
		m.Form = &lixiviumv1.AlkaliStock_Made{Made: &lixiviumv1.MadeStock{
			Solid:     quantityMessage(s.Made.Solid),
			PurityPct: optionalMessage(s.Made.PurityPct),
			Water:     quantityMessage(s.Made.Water),
		}}
	}
	for _, c := range s.AlsoHolds {
		content := &lixiviumv1.StockContent{Name: c.Name}
		if c.Mass.Given() {
			content.Amount = &lixiviumv1.StockContent_Mass{Mass: quantityMessage(c.Mass)}
		}
		if v, set := c.OfStockPct.Get(); set {
			content.Amount = &lixiviumv1.StockContent_OfStockPct{OfStockPct: v}
		}
		m.AlsoHolds = append(m.AlsoHolds, content)
	}
	return m
}

func solutionMessage(s *engine.SolutionStrength) *lixiviumv1.SolutionStrength {
	m := &lixiviumv1.SolutionStrength{
		TemperatureC: optionalMessage(s.TemperatureC),
		BaumeModulus: optionalMessage(s.BaumeModulus),
	}
	if v, set := s.MassPct.Get(); set {
		m.Strength = &lixiviumv1.SolutionStrength_MassPct{MassPct: v}
	}
	if v, set := s.DensityGPerML.Get(); set {
		m.Strength = &lixiviumv1.SolutionStrength_DensityGPerMl{DensityGPerMl: v}
	}
	if v, set := s.MolPerL.Get(); set {
		m.Strength = &lixiviumv1.SolutionStrength_MolPerL{MolPerL: v}
	}
	if v, set := s.DegreesBaume.Get(); set {
		m.Strength = &lixiviumv1.SolutionStrength_DegreesBaume{DegreesBaume: v}
	}
	if v, set := s.DegreesTwaddell.Get(); set {
		m.Strength = &lixiviumv1.SolutionStrength_DegreesTwaddell{DegreesTwaddell: v}
	}
	return m
}
