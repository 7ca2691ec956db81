package sdk

import (
	additivev1 "lixivium.example/proto/lixivium/additive/v1"
)

func manifestMessage(p *Plugin) *additivev1.DescribeResponse {
	m := &additivev1.DescribeResponse{
		Name: p.Name, Version: p.Version, RulesDigest: p.RulesDigest, WatchesFats: p.WatchesFats,
		GrantsWanted: make([]string, len(p.Wants)),
	}
	for i, g := range p.Wants {
		m.GrantsWanted[i] = string(g)
	}
	for _, a := range p.Owns {
		info := &additivev1.AdditiveInfo{
			Id: a.ID, Name: a.Name, LowOfFatsPct: a.LowOfFatsPct, HighOfFatsPct: a.HighOfFatsPct, GPerTeaspoonUs: a.GPerTeaspoonUS,
			UsualStage: string(a.UsualStage), WaterOnTop: a.WaterOnTop, AlkaliFormsNoWater: a.AlkaliFormsNoWater,
		}
		for _, q := range a.Parameters {
			info.Parameters = append(info.Parameters, &additivev1.ParameterInfo{
				Name: q.Name, Unit: q.Unit, Min: q.Min, Max: q.Max, DefaultValue: q.Default,
			})
		}
		m.Owns = append(m.Owns, info)
	}
	return m
}

func answerMessage(a Answer) *additivev1.AdjustResponse {
	m := &additivev1.AdjustResponse{}
	for i := range a.Adjustments {
		m.Adjustments = append(m.Adjustments, adjustmentMessage(&a.Adjustments[i]))
	}
	for _, r := range a.Rejections {
		m.Rejections = append(m.Rejections, &additivev1.Rejection{DoseId: r.DoseID, Field: r.Field, Reason: r.Reason, Text: r.Text})
	}
	for _, f := range a.FatFactors {
		m.FatFactors = append(m.FatFactors, &additivev1.FatFactor{
			Fat: f.Fat, TraceTimeFactor: bandMessage(f.TraceTime), FirmnessFactor: bandMessage(f.Firmness),
			Basis: string(f.Basis), Source: f.Source,
		})
	}
	return m
}

func adjustmentMessage(a *Adjustment) *additivev1.Adjustment {
	m := &additivev1.Adjustment{
		DoseId: a.DoseID, WaterGPerG: a.WaterGPerG,
		AlkaliMolPerG: a.AlkaliMolPerG, AlkaliHalfWidthMolPerG: a.AlkaliHalfMolPerG, AlkaliHighMolPerG: a.AlkaliHighMolPerG,
		BoundWaterGPerG: a.BoundWaterGPerG, RequestedWaterGPerG: a.RequestedWaterGPerG,
		DensityGPerMl: a.DensityGPerML, HeatJPerG: a.HeatJPerG,
		TraceTimeFactor: bandMessage(a.TraceTime), FirmnessFactor: bandMessage(a.Firmness),
		Basis: string(a.Basis), Source: a.Source,
	}
	for _, f := range a.Fats {
		m.Fats = append(m.Fats, &additivev1.FatBrought{Fat: f.Fat, GPerG: f.GPerG})
	}
	for _, s := range a.Steps {
		m.Steps = append(m.Steps, &additivev1.Step{
			Stage: string(s.Stage), Code: s.Code, Text: s.Text, MaxC: s.MaxC, WaitMinutes: s.WaitMinutes,
		})
	}
	return m
}

// bandMessage leaves a factor without effect out.
func bandMessage(b Band) *additivev1.Band {
	if b == (Band{}) {
		return nil
	}
	return &additivev1.Band{Low: b.Low, Typical: b.Typical, High: b.High}
}

func findingsMessage(list []Finding) *additivev1.ReviewResponse {
	m := &additivev1.ReviewResponse{}
	for i := range list {
		f := &list[i]
		x := &additivev1.Finding{
			Code: f.Code, Severity: string(f.Severity), SubjectIds: f.Subjects, Text: f.Text,
			Numbers: f.Numbers, Basis: string(f.Basis), Source: f.Source,
		}
		for j := range f.Remedies {
			x.Remedies = append(x.Remedies, suggestionMessage(&f.Remedies[j]))
		}
		m.Findings = append(m.Findings, x)
	}
	return m
}

// suggestionMessage carries one change; CheckFindings refuses a suggestion with
// more than one.
func suggestionMessage(s *Suggestion) *additivev1.Suggestion {
	m := &additivev1.Suggestion{Text: s.Text}
	switch {
	case s.SetLyeConcentrationPct != nil:
		m.Change = &additivev1.Suggestion_SetLyeConcentrationPct{SetLyeConcentrationPct: *s.SetLyeConcentrationPct}
	case s.AddWaterG != nil:
		m.Change = &additivev1.Suggestion_AddWaterG{AddWaterG: *s.AddWaterG}
	case s.SetDoseOfFatsPct != nil:
		m.Change = &additivev1.Suggestion_SetDoseOfFatsPct{SetDoseOfFatsPct: *s.SetDoseOfFatsPct}
	case s.Gel != GelNotSaid:
		m.Change = &additivev1.Suggestion_GelIntent{GelIntent: string(s.Gel)}
	}
	return m
}
