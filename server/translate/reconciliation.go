package translate

import (
	lixiviumv1 "lixivium.example/proto/lixivium/v1"

	"lixivium.example/engine"
)

// Reconciliation writes the comparison of weighed masses with the plan.
func Reconciliation(r *engine.Reconciliation) *lixiviumv1.ReconcileWeightsResponse {
	return &lixiviumv1.ReconcileWeightsResponse{
		Superfat:        superfat(&r.Superfat),
		PlannedSuperfat: superfat(&r.PlannedSuperfat),
		Factor:          r.Factor,
		Corrections: each(r.Corrections, func(m *lixiviumv1.WeightCorrection, c *engine.Correction) {
			m.LineId = c.LineID
			m.Material = c.Material
			m.PlannedG = float64(c.PlannedG)
			m.ActualG = float64(c.ActualG)
			m.TargetG = float64(c.TargetG)
			m.AddG = float64(c.AddG)
		}),
		Findings:             each(r.Findings, fillFinding),
		Plan:                 Formulation(r.Plan),
		Worksheet:            each(r.Worksheet, fillWorksheetLine),
		GoOn:                 r.GoOn,
		CorrectedSuperfatPct: float64(r.CorrectedPct),
	}
}
