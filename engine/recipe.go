package engine

// Recipe is a design for one batch. See the contract's message of the same
// name for ranges; Formulate refuses what lies outside, all of it at once.
type Recipe struct {
	Name        string
	Fats        []FatLine
	TotalFats   Quantity // with shares only
	Alkali      Alkali
	Water       *Water // nil: not stated; allowed with given alkali only
	Doses       []Dose
	Portions    []Portion // none: one batch
	Process     Process
	Vessels     Vessels
	CleaningBar bool
}

// FatLine is one fat of the recipe. Exactly one of Fat, Custom and Premix and
// exactly one of Mass and SharePct must be set.
type FatLine struct {
	ID            string
	Fat           string // id, name or synonym
	Custom        *CustomFat
	Premix        *Premix
	Mass          Quantity
	SharePct      Optional  // of the recipe fats
	CertificateSV *Measured // mg KOH/g of this lot; half-width absent: 1
	InfusedWith   string    // for the record; changes no figure
}

// Premix is a mixture of fats made beforehand, its lines by share.
type Premix struct {
	Name string
	Fats []FatLine
}

// CustomFat is a fat the catalog does not hold.
type CustomFat struct {
	Name          string
	SV            Measured // mg KOH/g; half-width absent or under 3: 3
	DensityGPerML Optional // at 25 °C
	FreeAcid      bool
	FattyAcidsPct map[string]float64
}

// Portion is a part of the batter with doses of its own.
type Portion struct {
	ID           string
	Name         string
	BaseSharePct float64
	ColorSRGBHex string
}

// GelIntent says what is wanted of the gel phase.
type GelIntent int

// What may be wanted of the gel phase.
const (
	GelNotSaid GelIntent = iota
	GelAvoid
	GelLeave
	GelForce
)

// Process holds temperatures in °C and handling. None of it changes a mass.
type Process struct {
	FatsC, LyeC, RoomC, WaterC, LyeStorageC Optional
	Gel                                     GelIntent
	HandStirred                             bool
}

// Vessels holds the volumes of the vessels, when they are to be checked.
type Vessels struct {
	Pot, Jug      Quantity
	FoamingLiquid bool
}

// Alkali says which alkali and what fixes its amount: exactly one of
// SuperfatPct and Given. At most one of the KOH shares, and none with Given.
type Alkali struct {
	KOHOfMolesPct Optional
	KOHOfGramsPct Optional
	NaOH, KOH     *AlkaliStock // nil: solid of unstated purity
	SuperfatPct   Optional
	Given         *GivenAlkali
}

// AlkaliStock is the form in which an alkali is at hand. At most one of
// PurityPct, Solution and Made.
type AlkaliStock struct {
	PurityPct    Optional
	Solution     *SolutionStrength
	Made         *MadeStock
	HalfWidthPct Optional
	AlsoHolds    []StockContent
}

// SolutionStrength is the strength of a solution in exactly one of its forms,
// each meaning pure hydroxide.
type SolutionStrength struct {
	MassPct, DensityGPerML, MolPerL, DegreesBaume, DegreesTwaddell Optional
	TemperatureC                                                   Optional
	BaumeModulus                                                   Optional
}

// MadeStock is a solution as the shop mixed it.
type MadeStock struct {
	Solid     Quantity
	PurityPct Optional
	Water     Quantity
}

// StockContent is something besides alkali and water in a stock: exactly one
// of Mass (with MadeStock only) and OfStockPct.
type StockContent struct {
	Name       string
	Mass       Quantity
	OfStockPct Optional
}

// GivenAlkali is alkali as weighed, of the stock where there is one.
type GivenAlkali struct {
	NaOH, KOH Quantity
}

// Water is the asked water: exactly one of Measure and Discount.
type Water struct {
	Measure       *WaterMeasure
	Discount      *WaterDiscount
	GrantRequests bool
}

// WaterMeasure is an amount of water in exactly one of the trade's measures.
type WaterMeasure struct {
	Mass                Quantity
	LyeConcentrationPct Optional // alkali as weighed / (alkali + water)
	WaterPerAlkali      Optional // g per g of alkali as weighed
	OfFatsPct           Optional
}

// WaterDiscount is a percent off a named reference.
type WaterDiscount struct {
	OffPct    float64
	Reference *WaterMeasure
}
