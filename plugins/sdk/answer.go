package sdk

// Answer is what Adjust answers: one Adjustment or Rejection for each dose, in
// any order.
type Answer struct {
	Adjustments []Adjustment
	Rejections  []Rejection
	FatFactors  []FatFactor
}

// Adjustment is what one gram of the dose as weighed does. Out of the bounds
// named here, or beyond the grants, the whole answer is refused; nothing is
// ever clamped.
type Adjustment struct {
	DoseID string
	// WaterGPerG is water brought, 0 to 1. Water that forms when an acid takes
	// alkali is the engine's own sum and not counted here.
	WaterGPerG float64
	// Fats brought. Their sum with the water is at most 1.
	Fats []FatBrought
	// AlkaliMolPerG is the alkali taken, 0 to 0.035 mol, and
	// AlkaliHalfMolPerG how far it may be off on either side.
	AlkaliMolPerG, AlkaliHalfMolPerG float64
	// AlkaliHighMolPerG is an upper bound of the alkali taken, 0 to 0.035 mol.
	// It widens the superfat upward and is never added as alkali.
	AlkaliHighMolPerG float64
	// BoundWaterGPerG is free water that it binds, 0 to 20.
	BoundWaterGPerG float64
	// RequestedWaterGPerG is water that should be added beyond what was asked,
	// 0 to 20. It is offered to the maker and added only if the recipe grants it.
	RequestedWaterGPerG float64
	// DensityGPerML is 0.2 to 8 and always stated.
	DensityGPerML float64
	// HeatJPerG is heat beyond neutralization, -2,000 to 2,000.
	HeatJPerG float64
	// TraceTime multiplies the time to trace at this dose; below 1 is sooner.
	TraceTime Band
	// Firmness multiplies how firm the loaf is on the first days; above 1 is
	// firmer.
	Firmness Band
	// Steps say how and when it is handled.
	Steps []Step
	// Basis and Source are the evidence of the figures.
	Basis  Basis
	Source string
}

// FatBrought is a fat that a dose brings, in grams per gram of dose.
type FatBrought struct {
	Fat   string // catalog id
	GPerG float64
}

// Band is a factor, 0.05 to 20, with its low and high end. The zero Band means
// no effect.
type Band struct{ Low, Typical, High float64 }

// Step is one step of handling.
type Step struct {
	Stage Stage
	Code  string // stable, lower case with hyphens
	Text  string // for people: one or two sentences
	// MaxC is the highest temperature, °C, and WaitMinutes how long to wait
	// before going on. Nil: none.
	MaxC, WaitMinutes *float64
}

// Rejection says that a dose cannot be answered as it is. It becomes a
// violation at the caller's field.
type Rejection struct {
	DoseID string
	Field  string // of the dose: "parameters.strength_pct", "stage"
	Reason string // upper case with underscores
	Text   string // what is wrong and what to do
}

// FatFactor is a factor that a watched fat brings at its share.
type FatFactor struct {
	Fat                 string
	TraceTime, Firmness Band
	Basis               Basis
	Source              string
}
