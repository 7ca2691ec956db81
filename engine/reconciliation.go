package engine

import "lixivium.example/engine/unit"

// ActualWeight is what was weighed on one line of the plan.
type ActualWeight struct {
	LineID string
	Mass   Quantity
}

// Reconciliation compares weighed masses with the plan before lye and fats are
// combined. After setting there is no such way back.
type Reconciliation struct {
	Superfat        Superfat // implied by the weighed masses, lowest portion
	PlannedSuperfat Superfat
	Factor          float64 // largest actual/planned of fats, water and net alkali
	Corrections     []Correction
	CorrectedPct    unit.Percent // lowest superfat once corrected
	GoOn            bool
	Findings        []Finding
	Plan            *Formulation
	Worksheet       []WorksheetLine
}

// Correction is one line of the way back to the planned proportions.
type Correction struct {
	LineID, Material                 string
	PlannedG, ActualG, TargetG, AddG unit.Grams
}
