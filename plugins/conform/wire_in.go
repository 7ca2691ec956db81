package conform

import (
	"lixivium.example/plugins/sdk"
	additivev1 "lixivium.example/proto/lixivium/additive/v1"
)

func manifest(m *additivev1.DescribeResponse) *sdk.Plugin {
	p := &sdk.Plugin{Name: m.GetName(), Version: m.GetVersion(), RulesDigest: m.GetRulesDigest(), WatchesFats: m.GetWatchesFats()}
	for _, g := range m.GetGrantsWanted() {
		p.Wants = append(p.Wants, sdk.Grant(g))
	}
	for _, a := range m.GetOwns() {
		info := sdk.Additive{
			ID: a.GetId(), Name: a.GetName(), LowOfFatsPct: a.GetLowOfFatsPct(), HighOfFatsPct: a.GetHighOfFatsPct(),
			GPerTeaspoonUS: a.GetGPerTeaspoonUs(), UsualStage: sdk.Stage(a.GetUsualStage()),
			WaterOnTop: a.GetWaterOnTop(), AlkaliFormsNoWater: a.GetAlkaliFormsNoWater(),
		}
		for _, q := range a.GetParameters() {
			info.Parameters = append(info.Parameters, sdk.Parameter{
				Name: q.GetName(), Unit: q.GetUnit(), Min: q.GetMin(), Max: q.GetMax(), Default: q.GetDefaultValue(),
			})
		}
		p.Owns = append(p.Owns, info)
	}
	return p
}

func answer(m *additivev1.AdjustResponse) sdk.Answer {
	var out sdk.Answer
	for _, a := range m.GetAdjustments() {
		out.Adjustments = append(out.Adjustments, adjustment(a))
	}
	for _, r := range m.GetRejections() {
		out.Rejections = append(out.Rejections, sdk.Rejection{DoseID: r.GetDoseId(), Field: r.GetField(), Reason: r.GetReason(), Text: r.GetText()})
	}
	for _, f := range m.GetFatFactors() {
		out.FatFactors = append(out.FatFactors, sdk.FatFactor{
			Fat: f.GetFat(), TraceTime: band(f.GetTraceTimeFactor()), Firmness: band(f.GetFirmnessFactor()),
			Basis: sdk.Basis(f.GetBasis()), Source: f.GetSource(),
		})
	}
	return out
}

func adjustment(m *additivev1.Adjustment) sdk.Adjustment {
	a := sdk.Adjustment{
		DoseID: m.GetDoseId(), WaterGPerG: m.GetWaterGPerG(),
		AlkaliMolPerG: m.GetAlkaliMolPerG(), AlkaliHalfMolPerG: m.GetAlkaliHalfWidthMolPerG(), AlkaliHighMolPerG: m.GetAlkaliHighMolPerG(),
		BoundWaterGPerG: m.GetBoundWaterGPerG(), RequestedWaterGPerG: m.GetRequestedWaterGPerG(),
		DensityGPerML: m.GetDensityGPerMl(), HeatJPerG: m.GetHeatJPerG(),
		TraceTime: band(m.GetTraceTimeFactor()), Firmness: band(m.GetFirmnessFactor()),
		Basis: sdk.Basis(m.GetBasis()), Source: m.GetSource(),
	}
	for _, f := range m.GetFats() {
		a.Fats = append(a.Fats, sdk.FatBrought{Fat: f.GetFat(), GPerG: f.GetGPerG()})
	}
	for _, s := range m.GetSteps() {
		a.Steps = append(a.Steps, sdk.Step{
			Stage: sdk.Stage(s.GetStage()), Code: s.GetCode(), Text: s.GetText(), MaxC: s.MaxC, WaitMinutes: s.WaitMinutes,
		})
	}
	return a
}

// band of an absent message is no effect.
func band(m *additivev1.Band) sdk.Band {
	return sdk.Band{Low: m.GetLow(), Typical: m.GetTypical(), High: m.GetHigh()}
}

func found(m *additivev1.ReviewResponse) []sdk.Finding {
	var out []sdk.Finding
	for _, f := range m.GetFindings() {
		x := sdk.Finding{
			Code: f.GetCode(), Severity: sdk.Severity(f.GetSeverity()), Subjects: f.GetSubjectIds(), Text: f.GetText(),
			Numbers: f.GetNumbers(), Basis: sdk.Basis(f.GetBasis()), Source: f.GetSource(),
		}
		for _, s := range f.GetRemedies() {
			x.Remedies = append(x.Remedies, suggestion(s))
		}
		out = append(out, x)
	}
	return out
}

func suggestion(m *additivev1.Suggestion) sdk.Suggestion {
	s := sdk.Suggestion{Text: m.GetText()}
	switch c := m.GetChange().(type) {
	case *additivev1.Suggestion_SetLyeConcentrationPct:
		s.SetLyeConcentrationPct = &c.SetLyeConcentrationPct
	case *additivev1.Suggestion_AddWaterG:
		s.AddWaterG = &c.AddWaterG
	case *additivev1.Suggestion_SetDoseOfFatsPct:
		s.SetDoseOfFatsPct = &c.SetDoseOfFatsPct
	case *additivev1.Suggestion_GelIntent:
		s.Gel = sdk.GelIntent(c.GelIntent)
	}
	return s
}
