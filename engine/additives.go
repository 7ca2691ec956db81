package engine

import (
	"context"

	"lixivium.example/engine/unit"
)

// Additives is where additive rules come from. The plugin host implements it;
// tests and embedders may implement it with plain functions. A nil Additives
// owns nothing.
//
// Answers must be pure: the same question, the same answer.
type Additives interface {
	// Owner describes the additive, and whether anybody owns it.
	Owner(additive string) (AdditiveInfo, bool)
	// Adjust answers one Adjustment for each dose of the question. The question
	// holds no gram of the batch, so that an answer holds at every size.
	Adjust(ctx context.Context, q AdjustQuestion) ([]Adjustment, error)
	// Review looks at the settled batch. It cannot move a gram or a factor.
	Review(ctx context.Context, b ReviewBatch) ([]Finding, error)
}

// AdditiveInfo is what an owner says of an additive.
type AdditiveInfo struct {
	ID, Name           string
	Parameters         []ParameterInfo
	GPerTeaspoonUS     float64 // 0: not known
	UsualStage         Stage
	WaterOnTop         bool
	AlkaliFormsNoWater bool
	Plugin             PluginOrigin
}

// ParameterInfo is a parameter that a dose may set.
type ParameterInfo struct {
	Name, Unit        string
	Min, Max, Default float64
}

// DoseView is a dose as its owner sees it: shares, no grams.
type DoseView struct {
	ID, Additive, PortionID     string
	OfFatsPct, OfPortionFatsPct float64
	Stage                       Stage
	CarrierKind                 string // "", "water", a fat id, "other"
	CarrierGPerG                float64
	Parameters                  map[string]float64
}

// Conditions are temperatures and intent as owners see them.
type Conditions struct {
	FatsC, LyeC, RoomC Optional
	Gel                GelIntent
	KOHOfMolesPct      float64
}

// AdjustQuestion is what owners are asked before alkali and water are known.
type AdjustQuestion struct {
	Doses      []DoseView
	Conditions Conditions
	FatPct     map[string]float64 // recipe fats by id; owners see what they watch
}

// Adjustment is what one gram of a dose does.
type Adjustment struct {
	DoseID              string
	WaterGPerG          float64
	FatGPerG            []FatShare
	AlkaliMolPerG       float64
	AlkaliHalfMolPerG   float64
	AlkaliHighMolPerG   float64 // upper bound; widens the superfat upward only
	BoundWaterGPerG     float64
	RequestedWaterGPerG float64
	DensityGPerML       unit.GramsPerML
	HeatJPerG           float64
	TraceTime, Firmness Band
	Evidence            Evidence
}

// FatShare is a fat that a dose brings, in grams per gram of dose.
type FatShare struct {
	Fat   string
	GPerG float64
}

// Band is a factor with its low and high end. The zero Band means no effect.
type Band struct{ Low, Typical, High float64 }

// ReviewBatch is the settled batch as owners see it.
type ReviewBatch struct {
	Formulation *Formulation
	Doses       []DoseView
	Conditions  Conditions
}
