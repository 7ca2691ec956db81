package inprocess

import (
	"lixivium.example/engine"
	"lixivium.example/engine/unit"
	"lixivium.example/plugins/sdk"
)

var bases = map[sdk.Basis]engine.Basis{
	sdk.PublishedSeen: engine.PublishedSeen, sdk.PublishedFromMemory: engine.PublishedFromMemory, sdk.Derived: engine.Derived,
	sdk.CommonPractice: engine.CommonPractice, sdk.Estimate: engine.Estimate,
}

func evidence(b sdk.Basis, source string) engine.Evidence {
	return engine.Evidence{Basis: bases[b], Source: source}
}

// stageOf is the engine's stage of a plugin's.
func stageOf(s sdk.Stage) engine.Stage {
	for e, name := range stages {
		if name == s {
			return e
		}
	}
	return engine.StageNotSaid
}

// info is what the engine is told of an additive.
func info(p *sdk.Plugin, a *sdk.Additive) engine.AdditiveInfo {
	out := engine.AdditiveInfo{
		ID: a.ID, Name: a.Name, GPerTeaspoonUS: a.GPerTeaspoonUS, LowOfFatsPct: a.LowOfFatsPct, HighOfFatsPct: a.HighOfFatsPct,
		UsualStage: stageOf(a.UsualStage), WaterOnTop: a.WaterOnTop, AlkaliFormsNoWater: a.AlkaliFormsNoWater,
		Plugin: engine.PluginOrigin{Name: p.Name, Version: p.Version, Digest: p.RulesDigest}, Grants: rights(p),
	}
	for _, q := range a.Parameters {
		out.Parameters = append(out.Parameters, engine.ParameterInfo{Name: q.Name, Unit: q.Unit, Min: q.Min, Max: q.Max, Default: q.Default})
	}
	return out
}

// addAnswer adds what a plugin answered, once it was checked.
func addAnswer(out *engine.AdjustAnswer, a *sdk.Answer) {
	for i := range a.Adjustments {
		out.Adjustments = append(out.Adjustments, adjustment(&a.Adjustments[i]))
	}
	for _, r := range a.Rejections {
		out.Rejections = append(out.Rejections, engine.Rejection{DoseID: r.DoseID, Field: r.Field, Reason: r.Reason, Text: r.Text})
	}
	for _, f := range a.FatFactors {
		out.FatFactors = append(out.FatFactors, engine.FatFactor{
			Fat: f.Fat, TraceTime: engine.Band(f.TraceTime), Firmness: engine.Band(f.Firmness), Evidence: evidence(f.Basis, f.Source),
		})
	}
}

func adjustment(a *sdk.Adjustment) engine.Adjustment {
	out := engine.Adjustment{
		DoseID: a.DoseID, WaterGPerG: a.WaterGPerG, AlkaliMolPerG: a.AlkaliMolPerG, AlkaliHalfMolPerG: a.AlkaliHalfMolPerG,
		AlkaliHighMolPerG: a.AlkaliHighMolPerG, BoundWaterGPerG: a.BoundWaterGPerG, RequestedWaterGPerG: a.RequestedWaterGPerG,
		DensityGPerML: unit.GramsPerML(a.DensityGPerML), HeatJPerG: a.HeatJPerG,
		TraceTime: engine.Band(a.TraceTime), Firmness: engine.Band(a.Firmness), Evidence: evidence(a.Basis, a.Source),
	}
	for _, f := range a.Fats {
		out.FatGPerG = append(out.FatGPerG, engine.FatShare{Fat: f.Fat, GPerG: f.GPerG})
	}
	for _, s := range a.Steps {
		out.Steps = append(out.Steps, engine.Step{
			Stage: stageOf(s.Stage), Code: s.Code, Text: s.Text, MaxC: stated(s.MaxC), WaitMinutes: stated(s.WaitMinutes),
		})
	}
	return out
}

func stated(v *float64) engine.Optional {
	if v == nil {
		return engine.Optional{}
	}
	return engine.Some(*v)
}
