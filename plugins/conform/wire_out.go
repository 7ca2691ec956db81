package conform

import (
	"lixivium.example/plugins/sdk"
	additivev1 "lixivium.example/proto/lixivium/additive/v1"
)

func questionMessage(q *sdk.Question) *additivev1.AdjustRequest {
	return &additivev1.AdjustRequest{Doses: doseMessages(q.Doses), Conditions: conditionsMessage(q.Conditions), WatchedFatPct: q.FatPct}
}

func doseMessages(list []sdk.Dose) []*additivev1.DoseView {
	out := make([]*additivev1.DoseView, len(list))
	for i, d := range list {
		out[i] = &additivev1.DoseView{
			Id: d.ID, Additive: d.Additive, PortionId: d.PortionID, OfFatsPct: d.OfFatsPct, OfPortionFatsPct: d.OfPortionFatsPct,
			Stage: string(d.Stage), Carrier: d.Carrier, CarrierGPerGDose: d.CarrierGPerG, Parameters: d.Parameters,
		}
	}
	return out
}

func conditionsMessage(c sdk.Conditions) *additivev1.Conditions {
	return &additivev1.Conditions{FatsC: c.FatsC, LyeC: c.LyeC, RoomC: c.RoomC, GelIntent: string(c.Gel), KohOfMolesPct: c.KOHOfMolesPct}
}

func batchMessage(b *sdk.Batch) *additivev1.Batch {
	m := &additivev1.Batch{
		FatsG: b.FatsG, FatG: b.FatG, NaohG: b.NaOHG, KohG: b.KOHG, SuperfatPct: b.SuperfatPct,
		TotalWaterG: b.TotalWaterG, FreeWaterG: b.FreeWaterG, JugStrengthPct: b.JugStrengthPct,
		TraceTimeFactor: b.TraceTimeFactor, AdditiveHeatJ: b.AdditiveHeatJ, FattyAcidPct: b.FattyAcidPct,
		Doses: doseMessages(b.Doses), Conditions: conditionsMessage(b.Conditions),
	}
	for _, p := range b.Portions {
		m.Portions = append(m.Portions, &additivev1.PortionView{
			Id: p.ID, BatterG: p.BatterG, FreeWaterG: p.FreeWaterG, BatchStrengthPct: p.BatchStrengthPct,
		})
	}
	return m
}
