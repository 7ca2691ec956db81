package sdk

import (
	additivev1 "lixivium.example/proto/lixivium/additive/v1"
)

func question(m *additivev1.AdjustRequest) Question {
	return Question{Doses: doses(m.GetDoses()), Conditions: conditions(m.GetConditions()), FatPct: m.GetWatchedFatPct()}
}

func doses(list []*additivev1.DoseView) []Dose {
	out := make([]Dose, len(list))
	for i, m := range list {
		out[i] = Dose{
			ID: m.GetId(), Additive: m.GetAdditive(), PortionID: m.GetPortionId(),
			OfFatsPct: m.GetOfFatsPct(), OfPortionFatsPct: m.GetOfPortionFatsPct(), Stage: Stage(m.GetStage()),
			Carrier: m.GetCarrier(), CarrierGPerG: m.GetCarrierGPerGDose(), Parameters: m.GetParameters(),
		}
	}
	return out
}

func conditions(m *additivev1.Conditions) Conditions {
	if m == nil {
		return Conditions{}
	}
	return Conditions{
		FatsC: m.FatsC, LyeC: m.LyeC, RoomC: m.RoomC,
		Gel: GelIntent(m.GetGelIntent()), KOHOfMolesPct: m.GetKohOfMolesPct(),
	}
}

func batch(m *additivev1.Batch) Batch {
	b := Batch{
		FatsG: m.GetFatsG(), FatG: m.GetFatG(), FattyAcidPct: m.GetFattyAcidPct(),
		NaOHG: m.GetNaohG(), KOHG: m.GetKohG(), SuperfatPct: m.GetSuperfatPct(),
		TotalWaterG: m.GetTotalWaterG(), FreeWaterG: m.GetFreeWaterG(), JugStrengthPct: m.GetJugStrengthPct(),
		TraceTimeFactor: m.GetTraceTimeFactor(), AdditiveHeatJ: m.GetAdditiveHeatJ(),
		Doses: doses(m.GetDoses()), Conditions: conditions(m.GetConditions()),
		Portions: make([]PortionView, len(m.GetPortions())),
	}
	for i, p := range m.GetPortions() {
		b.Portions[i] = PortionView{
			ID: p.GetId(), BatterG: p.GetBatterG(), FreeWaterG: p.GetFreeWaterG(), BatchStrengthPct: p.GetBatchStrengthPct(),
		}
	}
	return b
}
