package translate

import (
	"slices"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"

	"lixivium.example/engine"
)

// Formulation writes a settled batch as its message.
func Formulation(f *engine.Formulation) *lixiviumv1.Formulation {
	return &lixiviumv1.Formulation{
		WeighOut:       each(f.WeighOut, fillWeighLine),
		Alkali:         alkaliAnswer(&f.Alkali),
		Superfat:       superfat(&f.Superfat),
		BatchSuperfat:  superfat(&f.BatchSuperfat),
		SuperfatIfPct:  each(f.SuperfatIf, fillFigure),
		Water:          waterAnswer(&f.Water),
		Portions:       each(f.Portions, fillPortion),
		Fats:           each(f.Fats, fillFat),
		Doses:          each(f.Doses, fillDose),
		Profile:        profile(&f.Profile),
		Totals:         totals(&f.Totals),
		Behavior:       behavior(&f.Behavior),
		Findings:       each(f.Findings, fillFinding),
		Safety:         each(f.Safety, fillSafety),
		Worksheet:      each(f.Worksheet, fillWorksheetLine),
		Origin:         origin(&f.Origin),
		MissingPlugins: slices.Clone(f.MissingPlugins),
	}
}

func fillWeighLine(m *lixiviumv1.WeighLine, l *engine.WeighLine) {
	m.LineId = l.LineID
	m.Material = l.Material
	m.Stage = lixiviumv1.Stage(l.Stage)
	m.Vessel = lixiviumv1.Vessel(l.Vessel)
	m.PortionId = l.PortionID
	m.ExactG = float64(l.ExactG)
	m.WeighG = float64(l.WeighG)
	m.Balance = l.Balance
	m.Parts = uint32(l.Parts)
	m.OfLineId = l.OfLineID
	m.TeaspoonsUs = l.TeaspoonsUS
}

func alkaliAnswer(a *engine.AlkaliAnswer) *lixiviumv1.AlkaliAnswer {
	return &lixiviumv1.AlkaliAnswer{
		NaohG:         float64(a.NaOHG),
		KohG:          float64(a.KOHG),
		NaohPureG:     float64(a.NaOHPureG),
		KohPureG:      float64(a.KOHPureG),
		NaohStockG:    float64(a.NaOHStockG),
		KohStockG:     float64(a.KOHStockG),
		TotalMol:      float64(a.TotalMol),
		FatsNeedMol:   float64(a.FatsNeedMol),
		AcidsMol:      float64(a.AcidsMol),
		KohOfMolesPct: float64(a.KOHOfMolesPct),
		KohOfGramsPct: float64(a.KOHOfGramsPct),
		NaohPurityPct: float64(a.NaOHPurityPct),
		KohPurityPct:  float64(a.KOHPurityPct),
		LyeEndC:       float64(a.LyeEndC),
	}
}

func superfat(s *engine.Superfat) *lixiviumv1.Superfat {
	return &lixiviumv1.Superfat{
		PortionId:                 s.PortionID,
		SuperfatPct:               float64(s.Pct),
		StandardUncertaintyPct:    float64(s.UncertaintyPct),
		Low95Pct:                  float64(s.LowPct),
		High95Pct:                 float64(s.HighPct),
		WorstPct:                  float64(s.WorstPct),
		LyeExcessProbabilityPct:   float64(s.ExcessPct),
		FreeCausticProbabilityPct: float64(s.FreeCausticPct),
		DominatedBy:               s.DominatedBy,
		Verdict:                   lixiviumv1.Severity(s.Verdict),
		DominatedSharePct:         float64(s.DominatedSharePct),
	}
}

func fillPortion(m *lixiviumv1.PortionAnswer, p *engine.PortionAnswer) {
	m.PortionId = p.PortionID
	m.BaseG = float64(p.BaseG)
	m.BatterG = float64(p.BatterG)
	m.BatterMl = float64(p.BatterML)
	m.FreeWaterG = float64(p.FreeWaterG)
	m.BatchStrengthPct = float64(p.BatchStrengthPct)
	m.Superfat = superfat(&p.Superfat)
}

func fillFat(m *lixiviumv1.FatAnswer, f *engine.FatAnswer) {
	m.LineId = f.LineID
	m.FatId = f.FatID
	m.Name = f.Name
	m.MassG = float64(f.MassG)
	m.ShareOfFatsPct = float64(f.SharePct)
	m.SvMgKohPerG = float64(f.SV)
	m.SvLowMgKohPerG = float64(f.SVLow)
	m.SvHighMgKohPerG = float64(f.SVHigh)
	m.SvUpperBoundExtraMgKohPerG = float64(f.SVUpperBoundExtra)
	m.Evidence = evidence(f.Evidence)
	m.NeedMol = float64(f.NeedMol)
}

func fillDose(m *lixiviumv1.DoseAnswer, d *engine.DoseAnswer) {
	m.DoseId = d.DoseID
	m.Name = d.Name
	m.MassG = float64(d.MassG)
	m.CarrierG = float64(d.CarrierG)
	m.AlkaliMol = float64(d.AlkaliMol)
	m.FatsNeedMol = float64(d.FatsNeedMol)
	m.AlkaliAdded = d.AlkaliAdded
	m.OfFatsPct = float64(d.OfFatsPct)
	m.Steps = each(d.Steps, fillStep)
}

func fillStep(m *lixiviumv1.HandlingStep, s *engine.Step) {
	m.Stage = lixiviumv1.Stage(s.Stage)
	m.Code = s.Code
	m.Text = s.Text
	m.MaxC = optionalMessage(s.MaxC)
	m.WaitMinutes = optionalMessage(s.WaitMinutes)
}

func totals(t *engine.Totals) *lixiviumv1.BatchTotals {
	return &lixiviumv1.BatchTotals{
		FatsG:         float64(t.FatsG),
		BatterG:       float64(t.BatterG),
		BatterMl:      float64(t.BatterML),
		DensityGPerMl: float64(t.Density),
		JugMl:         float64(t.JugML),
	}
}

func behavior(b *engine.Behavior) *lixiviumv1.Behavior {
	return &lixiviumv1.Behavior{
		TraceTime:       each(b.TraceTime, fillFactor),
		Firmness:        each(b.Firmness, fillFactor),
		AdditiveHeatJ:   b.AdditiveHeatJ,
		TraceTimeFactor: b.TraceTimeFactor,
		Trace:           traceTimes(b.Trace),
	}
}

func traceTimes(t *engine.TraceTimes) *lixiviumv1.TraceTimes {
	if t == nil {
		return nil
	}
	return &lixiviumv1.TraceTimes{
		Thin:         minutes(t.Thin),
		Medium:       minutes(t.Medium),
		Thick:        minutes(t.Thick),
		StandingThin: minutes(t.StandingThin),
		Factors:      each(t.Factors, fillFactor),
	}
}

func minutes(b engine.Band) *lixiviumv1.Minutes {
	return &lixiviumv1.Minutes{Low: b.Low, Typical: b.Typical, High: b.High}
}

func fillFactor(m *lixiviumv1.Factor, f *engine.Factor) {
	m.Name = f.Name
	m.LineId = f.LineID
	m.Low = f.Low
	m.Typical = f.Typical
	m.High = f.High
	m.Evidence = evidence(f.Evidence)
}

func fillSafety(m *lixiviumv1.SafetyLine, l *engine.SafetyLine) {
	m.Code = l.Code
	m.Text = l.Text
}

func origin(o *engine.Origin) *lixiviumv1.Origin {
	return &lixiviumv1.Origin{
		EngineVersion: o.EngineVersion,
		DataDigest:    o.DataDigest,
		Plugins: each(o.Plugins, func(m *lixiviumv1.PluginOrigin, p *engine.PluginOrigin) {
			m.Name = p.Name
			m.Version = p.Version
			m.Digest = p.Digest
		}),
	}
}
