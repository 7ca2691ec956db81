package inprocess

import (
	"maps"
	"slices"

	"lixivium.example/engine"
	"lixivium.example/plugins/sdk"
)

var stages = map[engine.Stage]sdk.Stage{
	engine.StageWaterBeforeLye: sdk.StageWaterBeforeLye,
	engine.StageCooledLye:      sdk.StageCooledLye,
	engine.StageFats:           sdk.StageFats,
	engine.StageTrace:          sdk.StageTrace,
	engine.StageSurface:        sdk.StageSurface,
}

var intents = map[engine.GelIntent]sdk.GelIntent{
	engine.GelNotSaid: sdk.GelNotSaid, engine.GelAvoid: sdk.GelAvoid, engine.GelLeave: sdk.GelLeave, engine.GelForce: sdk.GelForce,
}

// question is what plugin i is asked, and the ids of its doses.
func (s *Set) question(i int, q *engine.AdjustQuestion) (sdk.Question, []string) {
	out := sdk.Question{Conditions: conditions(q.Conditions), FatPct: map[string]float64{}}
	var ids []string
	for j := range q.Doses {
		if o, ok := s.owner[q.Doses[j].Additive]; ok && o == i {
			out.Doses = append(out.Doses, dose(&q.Doses[j]))
			ids = append(ids, q.Doses[j].ID)
		}
	}
	for fat, pct := range q.FatPct {
		if slices.Contains(s.plugins[i].WatchesFats, fat) {
			out.FatPct[fat] = pct
		}
	}
	return out, ids
}

// dose is a dose as a plugin sees it. The parameters are its own copy: no
// plugin can reach into what another is shown.
func dose(d *engine.DoseView) sdk.Dose {
	return sdk.Dose{
		ID: d.ID, Additive: d.Additive, PortionID: d.PortionID, OfFatsPct: d.OfFatsPct, OfPortionFatsPct: d.OfPortionFatsPct,
		Stage: stages[d.Stage], Carrier: d.CarrierKind, CarrierGPerG: d.CarrierGPerG, Parameters: maps.Clone(d.Parameters),
	}
}

func conditions(c engine.Conditions) sdk.Conditions {
	return sdk.Conditions{
		FatsC: optional(c.FatsC), LyeC: optional(c.LyeC), RoomC: optional(c.RoomC),
		Gel: intents[c.Gel], KOHOfMolesPct: c.KOHOfMolesPct,
	}
}

func optional(o engine.Optional) *float64 {
	if v, ok := o.Get(); ok {
		return &v
	}
	return nil
}

// batch is the settled batch as a plugin sees it.
func batch(b *engine.ReviewBatch) sdk.Batch {
	f := b.Formulation
	out := sdk.Batch{
		FatsG: float64(f.Totals.FatsG), FatG: make(map[string]float64, len(f.Fats)),
		FattyAcidPct: make(map[string]float64, len(f.Profile.Acids)),
		NaOHG:        float64(f.Alkali.NaOHPureG), KOHG: float64(f.Alkali.KOHPureG), SuperfatPct: float64(f.Superfat.Pct),
		TotalWaterG: float64(f.Water.TotalG), FreeWaterG: float64(f.Water.FreeG), JugStrengthPct: float64(f.Water.JugPurePct),
		TraceTimeFactor: f.Behavior.TraceTimeFactor, AdditiveHeatJ: f.Behavior.AdditiveHeatJ,
		Doses: make([]sdk.Dose, len(b.Doses)), Portions: make([]sdk.PortionView, len(f.Portions)),
		Conditions: conditions(b.Conditions),
	}
	for i := range f.Fats {
		if id := f.Fats[i].FatID; id != "" {
			out.FatG[id] += float64(f.Fats[i].MassG)
		}
	}
	for i := range f.Profile.Acids {
		out.FattyAcidPct[f.Profile.Acids[i].Acid] = float64(f.Profile.Acids[i].SharePct)
	}
	for i := range b.Doses {
		out.Doses[i] = dose(&b.Doses[i])
	}
	for i := range f.Portions {
		p := &f.Portions[i]
		out.Portions[i] = sdk.PortionView{
			ID: p.PortionID, BatterG: float64(p.BatterG), FreeWaterG: float64(p.FreeWaterG), BatchStrengthPct: float64(p.BatchStrengthPct),
		}
	}
	return out
}
