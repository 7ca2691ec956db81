package engine

import "lixivium.example/engine/unit"

// Formulation is a settled batch.
type Formulation struct {
	WeighOut       []WeighLine // in order of use; the sum is the batter
	Alkali         AlkaliAnswer
	Superfat       Superfat // of the portion that has least
	BatchSuperfat  Superfat
	SuperfatIf     []Figure // the batch under another assumption
	Water          WaterAnswer
	Portions       []PortionAnswer
	Fats           []FatAnswer
	Doses          []DoseAnswer
	Profile        Profile
	Totals         Totals
	Behavior       Behavior
	Findings       []Finding
	Safety         []SafetyLine
	Worksheet      []WorksheetLine // only when asked for
	Origin         Origin
	MissingPlugins []string
}

// Vessel is where a line is weighed into.
type Vessel int

// The vessels, in order of use.
const (
	NoVessel Vessel = iota
	LyeJug
	FatPot
	BatterPot
	PortionCup
	MoldVessel
)

// WeighLine is one thing to weigh. A line with OfLineID belongs to that line
// and is already left out of its mass.
type WeighLine struct {
	LineID      string
	Material    string
	Stage       Stage
	Vessel      Vessel
	PortionID   string
	ExactG      unit.Grams
	WeighG      unit.Grams
	Balance     string
	Parts       int
	OfLineID    string
	TeaspoonsUS float64
}

// AlkaliAnswer is the alkali of the batch. NaOHG and KOHG are as weighed when
// solid and pure alkali when a stock.
type AlkaliAnswer struct {
	NaOHG, KOHG           unit.Grams
	NaOHPureG, KOHPureG   unit.Grams
	NaOHStockG, KOHStockG unit.Grams
	TotalMol              unit.Moles
	FatsNeedMol           unit.Moles
	AcidsMol              unit.Moles
	KOHOfMolesPct         unit.Percent
	KOHOfGramsPct         unit.Percent
	NaOHPurityPct         unit.Percent
	KOHPurityPct          unit.Percent
	LyeEndC               unit.Celsius
}

// Superfat is a best estimate and how sure it is. HighPct counts every upper
// bound (waxes, honey) in full.
type Superfat struct {
	PortionID         string
	Pct               unit.Percent
	UncertaintyPct    unit.Percent
	LowPct, HighPct   unit.Percent
	WorstPct          unit.Percent
	ExcessPct         unit.Percent // probability that alkali is left over
	FreeCausticPct    unit.Percent // probability of a superfat below -0.5 %
	DominatedBy       string
	DominatedSharePct unit.Percent
	Verdict           Severity
}

// WaterAnswer is the water of the batch.
type WaterAnswer struct {
	AskedG, PlainG, FromStockG, InAlkaliG   unit.Grams
	BroughtG, FormedG, RequestedG, GrantedG unit.Grams
	OnTopG, TotalG, BoundG, FreeG           unit.Grams
	JugStrengthPct, JugPurePct              unit.Percent
	BatchStrengthPct                        unit.Percent
	LyeConcentrationPct                     unit.Percent
	PerAlkaliRatio                          float64
	OfFatsPct                               unit.Percent
	Shares                                  []WaterShare
}

// WaterShare is one contributor to the water.
type WaterShare struct {
	LineID                                string
	BroughtG, FormedG, BoundG, RequestedG unit.Grams
	FromRecipe                            bool
}

// PortionAnswer is one portion of the batter.
type PortionAnswer struct {
	PortionID        string
	BaseG, BatterG   unit.Grams
	BatterML         unit.Milliliters
	FreeWaterG       unit.Grams
	BatchStrengthPct unit.Percent
	Superfat         Superfat
}

// FatAnswer is a recipe fat as used.
type FatAnswer struct {
	LineID, FatID, Name string
	MassG               unit.Grams
	SharePct            unit.Percent
	SV, SVLow, SVHigh   unit.MgKOHPerG
	SVUpperBoundExtra   unit.MgKOHPerG
	Evidence            Evidence
	NeedMol             unit.Moles
}

// DoseAnswer is a dose as used.
type DoseAnswer struct {
	DoseID, Name    string
	MassG, CarrierG unit.Grams
	AlkaliMol       unit.Moles
	FatsNeedMol     unit.Moles
	AlkaliAdded     bool
	OfFatsPct       unit.Percent
	Steps           []Step
}

// Profile is the fatty acids of a batch.
type Profile struct {
	Acids                []AcidAmount
	Groups               []GroupAmount
	KnownOfFatsPct       unit.Percent
	CalculatedSV         unit.MgKOHPerG
	SVInUse              unit.MgKOHPerG
	CalculatedIV         float64 // g iodine per 100 g
	UnsaponifiableMaxPct unit.Percent
}

// AcidAmount is one fatty acid of a batch.
type AcidAmount struct {
	Acid, Name string
	MassG      unit.Grams
	AmountMol  unit.Moles
	SharePct   unit.Percent
}

// GroupAmount is a group of fatty acids by chain and bond.
type GroupAmount struct {
	Name      string
	MassG     unit.Grams
	AmountMol unit.Moles
	SharePct  unit.Percent
}

// Totals are the masses and volumes of the whole, volumes at 25 °C.
type Totals struct {
	FatsG, BatterG unit.Grams
	BatterML       unit.Milliliters
	Density        unit.GramsPerML
	JugML          unit.Milliliters
}

// Behavior is what additives do to time and firmness.
type Behavior struct {
	TraceTime       []Factor
	Firmness        []Factor
	AdditiveHeatJ   float64
	TraceTimeFactor float64 // product of the typical factors
	Trace           *TraceTimes
}

// TraceTimes are estimated minutes to trace, each with its band, and the factors
// they come from: the engine's own and those of additives. Nil where no batch
// strength is known.
type TraceTimes struct {
	Thin, Medium, Thick Band
	StandingThin        Band
	Factors             []Factor
}

// Factor is a factor with its band.
type Factor struct {
	Name, LineID       string
	Low, Typical, High float64
	Evidence           Evidence
}

// SafetyLine is a caution that belongs on every sheet.
type SafetyLine struct{ Code, Text string }

// Origin names what produced an answer.
type Origin struct {
	EngineVersion string
	DataDigest    string
	Plugins       []PluginOrigin
}

// PluginOrigin names a plugin that took part.
type PluginOrigin struct{ Name, Version, Digest string }

// WorksheetLine is one line of the reckoning: an expression over named inputs
// or the name of a method.
type WorksheetLine struct {
	ID, Label  string
	Value      float64
	Unit       string
	Expression string
	Method     string
	Inputs     []WorksheetInput
	Evidence   Evidence
}

// WorksheetInput is an input of a line: exactly one of the four origins.
type WorksheetInput struct {
	Name        string
	Value       float64
	Unit        string
	LineID      string
	RequestPath string
	DataRow     string
	Adjustment  string
}
