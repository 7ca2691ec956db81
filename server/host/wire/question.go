package wire

import (
	"maps"

	"lixivium.example/engine"
	additivev1 "lixivium.example/proto/lixivium/additive/v1"
)

// Question makes the message that asks one owner: the doses at the given
// places of q, and the fats that it watches. It shares no memory with q, so
// that a call may outlast the caller who asked.
func Question(q *engine.AdjustQuestion, doses []int, watched []string) *additivev1.AdjustRequest {
	m := &additivev1.AdjustRequest{Conditions: conditions(&q.Conditions), Doses: make([]*additivev1.DoseView, len(doses))}
	for i, at := range doses {
		m.Doses[i] = dose(&q.Doses[at])
	}
	for _, fat := range watched {
		if pct, ok := q.FatPct[fat]; ok {
			if m.WatchedFatPct == nil {
				m.WatchedFatPct = make(map[string]float64, len(watched))
			}
			m.WatchedFatPct[fat] = pct
		}
	}
	return m
}

func dose(d *engine.DoseView) *additivev1.DoseView {
	return &additivev1.DoseView{
		Id: d.ID, Additive: d.Additive, PortionId: d.PortionID,
		OfFatsPct: d.OfFatsPct, OfPortionFatsPct: d.OfPortionFatsPct, Stage: stages.write(d.Stage),
		Carrier: d.CarrierKind, CarrierGPerGDose: d.CarrierGPerG, Parameters: maps.Clone(d.Parameters),
	}
}

func conditions(c *engine.Conditions) *additivev1.Conditions {
	return &additivev1.Conditions{
		FatsC: optional(c.FatsC), LyeC: optional(c.LyeC), RoomC: optional(c.RoomC),
		GelIntent: gelIntents.write(c.Gel), KohOfMolesPct: c.KOHOfMolesPct,
	}
}

func optional(o engine.Optional) *float64 {
	if v, ok := o.Get(); ok {
		return &v
	}
	return nil
}

func stated(v *float64) engine.Optional {
	if v == nil {
		return engine.Optional{}
	}
	return engine.Some(*v)
}

// Batch makes the message that shows the settled batch. It shares no memory
// with b.
func Batch(b *engine.ReviewBatch) *additivev1.ReviewRequest {
	f := b.Formulation
	m := &additivev1.Batch{
		FatsG: float64(f.Totals.FatsG), NaohG: float64(f.Alkali.NaOHPureG), KohG: float64(f.Alkali.KOHPureG),
		FatG: make(map[string]float64, len(f.Fats)), FattyAcidPct: make(map[string]float64, len(f.Profile.Acids)),
		SuperfatPct: float64(f.Superfat.Pct), TotalWaterG: float64(f.Water.TotalG), FreeWaterG: float64(f.Water.FreeG),
		JugStrengthPct: float64(f.Water.JugPurePct), TraceTimeFactor: f.Behavior.TraceTimeFactor,
		AdditiveHeatJ: f.Behavior.AdditiveHeatJ, Conditions: conditions(&b.Conditions),
		Doses: make([]*additivev1.DoseView, len(b.Doses)), Portions: make([]*additivev1.PortionView, len(f.Portions)),
	}
	for i := range f.Fats {
		if id := f.Fats[i].FatID; id != "" {
			m.FatG[id] += float64(f.Fats[i].MassG)
		}
	}
	for i := range f.Profile.Acids {
		m.FattyAcidPct[f.Profile.Acids[i].Acid] = float64(f.Profile.Acids[i].SharePct)
	}
	for i := range b.Doses {
		m.Doses[i] = dose(&b.Doses[i])
	}
	for i := range f.Portions {
		p := &f.Portions[i]
		m.Portions[i] = &additivev1.PortionView{
			Id: p.PortionID, BatterG: float64(p.BatterG), FreeWaterG: float64(p.FreeWaterG),
			BatchStrengthPct: float64(p.BatchStrengthPct),
		}
	}
	return &additivev1.ReviewRequest{Batch: m}
}
