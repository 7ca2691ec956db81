package engine

// Dose is one additive of the recipe: exactly one of Additive and Custom, and
// exactly one of the four amounts.
type Dose struct {
	ID              string
	Additive        string // owned by a plugin
	Custom          *CustomAdditive
	Mass            Quantity
	OfFatsPct       Optional
	OfAskedWaterPct Optional
	Spoons          *Spoons
	PortionID       string // empty: the whole batch
	Basis           DoseBasis
	Stage           Stage
	Carrier         *Carrier
	Treatment       AlkaliTreatment
	WaterSource     WaterSource
	Parameters      map[string]float64
}

// Spoons is a dose by level US teaspoons, in all or per a mass of fats.
type Spoons struct {
	TeaspoonsUS float64
	PerFats     Quantity
}

// CustomAdditive is an additive with the caller's own figures, per gram. What
// is absent is zero: inert.
type CustomAdditive struct {
	Name               string
	WaterGPerG         float64
	AlkaliMolPerG      *Measured
	FatGPerG           map[string]float64
	BoundWaterGPerG    float64
	DensityGPerML      Optional // absent: 1
	GPerTeaspoonUS     Optional
	AlkaliFormsNoWater bool
}

// Carrier is what a dose is wetted, dissolved or premixed with: exactly one
// of Water, Fat and Custom.
type Carrier struct {
	Water    bool
	Fat      string
	Custom   *CustomAdditive
	GPerG    float64
	Extra    bool
	Premixed bool
}

// DoseBasis says which fats a dose in percent or by spoon refers to.
type DoseBasis int

// The bases of a dose.
const (
	BasisNotSaid DoseBasis = iota
	BasisPortionFats
	BasisBatchFats
)

// Stage is the moment of use, in order.
type Stage int

// The moments of use.
const (
	StageNotSaid Stage = iota
	StageWaterBeforeLye
	StageAlkali
	StageCooledLye
	StageFats
	StageTrace
	StageSurface
)

// AlkaliTreatment says what is done about the alkali that a dose takes.
type AlkaliTreatment int

// The treatments.
const (
	TreatmentNotSaid AlkaliTreatment = iota
	TreatmentAdd
	TreatmentAbsorb
)

// WaterSource says where the water of a dose counts.
type WaterSource int

// The water sources.
const (
	WaterSourceNotSaid WaterSource = iota
	WaterFromRecipe
	WaterOnTop
)
