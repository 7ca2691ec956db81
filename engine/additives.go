package engine

import (
	"context"

	"lixivium.example/engine/unit"
)

// Additives is where additive rules come from. The plugin host implements it;
// tests and embedders may implement it with plain functions. A nil Additives
// owns nothing.
//
// Answers must be pure: the same question, the same answer. An owner that
// cannot answer is a Failure in the answer, so that one owner's trouble does
// not hide another's answer; an error means that nothing could be asked.
type Additives interface {
	// Owner describes the additive, and whether anybody owns it.
	Owner(additive string) (AdditiveInfo, bool)
	// Adjust answers one Adjustment, Rejection or Failure for each dose of the
	// question. The question holds no gram of the batch, so that an answer holds
	// at every size.
	Adjust(ctx context.Context, q *AdjustQuestion) (*AdjustAnswer, error)
	// Review looks at the settled batch. It cannot move a gram or a factor.
	Review(ctx context.Context, b *ReviewBatch) (*ReviewAnswer, error)
}

// FatWatcher is an Additives of which some owners watch recipe fats: they are
// asked about a recipe that holds one, doses or not.
type FatWatcher interface {
	// WatchedFats are the catalog ids of those fats.
	WatchedFats() []string
}

// Lister is an Additives that can name all it owns, so that a misspelled name
// is answered with those it resembles.
type Lister interface {
	// Owned are the ids of the additives owned, in alphabetical order.
	Owned() []string
}

// Grant is a right that an owner has been given.
type Grant string

// The grants. What an owner may move decides what can still be answered when
// it is missing.
const (
	GrantAlkali   Grant = "alkali"
	GrantFats     Grant = "fats"
	GrantWater    Grant = "water"
	GrantTrace    Grant = "trace"
	GrantHeat     Grant = "heat"
	GrantFirmness Grant = "firmness"
	GrantFindings Grant = "findings"
)

// AdditiveInfo is what an owner says of an additive.
type AdditiveInfo struct {
	ID, Name           string
	Parameters         []ParameterInfo
	GPerTeaspoonUS     float64 // 0: not known
	LowOfFatsPct       float64 // usual dose
	HighOfFatsPct      float64
	UsualStage         Stage
	WaterOnTop         bool
	AlkaliFormsNoWater bool
	Plugin             PluginOrigin
	Grants             []Grant
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
	Parameters                  map[string]float64 // defaults filled in
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

// AdjustAnswer is what all owners answered together.
type AdjustAnswer struct {
	Adjustments []Adjustment
	Rejections  []Rejection
	FatFactors  []FatFactor
	Failures    []Failure
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
	Steps               []Step
	Evidence            Evidence
}

// FatShare is a fat that a dose brings, in grams per gram of dose.
type FatShare struct {
	Fat   string
	GPerG float64
}

// Band is a factor with its low and high end. The zero Band means no effect.
type Band struct{ Low, Typical, High float64 }

// Step is how and when an additive is handled.
type Step struct {
	Stage       Stage
	Code, Text  string
	MaxC        Optional
	WaitMinutes Optional
}

// Rejection says that a dose cannot be answered as it is; it becomes a
// violation at the caller's path.
type Rejection struct {
	DoseID, Field, Reason, Text string
}

// FatFactor is a factor that a watched fat brings.
type FatFactor struct {
	Fat                 string
	TraceTime, Firmness Band
	Evidence            Evidence
}

// Failure is an owner that did not answer: missing, crashed, late, or in breach
// of its contract.
type Failure struct {
	Plugin  string
	Grants  []Grant
	DoseIDs []string
	Reason  string // stable code, such as "PLUGIN_CRASHED"
	Text    string // for the operator; never shown to callers
}

// ReviewBatch is the settled batch as owners see it.
type ReviewBatch struct {
	Formulation *Formulation
	Doses       []DoseView
	Conditions  Conditions
}

// ReviewAnswer is what all owners found.
type ReviewAnswer struct {
	Findings []Finding
	Failures []Failure
}
