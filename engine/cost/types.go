package cost

import (
	"lixivium.example/engine"
	"lixivium.example/engine/unit"
)

// PriceBook is what the shop pays, in one currency.
type PriceBook struct {
	// CurrencyCode is the code of ISO 4217, such as "EUR". Shown, never converted.
	CurrencyCode string
	// Packs as bought, at most MaxPacks.
	Packs []Pack
}

// Pack is a pack as bought.
type Pack struct {
	// Material is what it holds: a fat id, an additive id, "naoh" or "koh" (solid),
	// "naoh-solution" or "koh-solution" (by the gram of solution), "water", or the
	// name of a premix or of a custom fat or additive. Upper and lower case are one.
	Material string
	// Size by mass, 0.001 g to 1,000 t, or by volume with a density.
	Size engine.Quantity
	// Price of the pack, above zero, and Freight with duties; empty freight: none.
	Price, Freight string
	// WastePct is the share lost before it reaches a batch, 0 to 90.
	WastePct float64
	// PriceDate is the day of the price, YYYY-MM-DD. Empty: not said.
	PriceDate string
	// DensityGPerML is for a pack by volume, 0.2 to 8. Absent: that of the catalog
	// for a fat that is liquid at 20 °C, and of water.
	DensityGPerML engine.Optional
}

// Terms are what a batch costs beside its materials, and how it is sold. At
// most one of MarginPct, MarkupPct and Price; none: no price is answered.
type Terms struct {
	// SaleableBars is how many bars of the batch can be sold, 1 to 100,000.
	SaleableBars int
	// PackagingPerBar is for one saleable bar. Empty: none.
	PackagingPerBar string
	// LaborMinutes of the batch, all steps, 0 to 100,000.
	LaborMinutes float64
	// LaborPerHour is required where there are minutes; "0" is unpaid work.
	LaborPerHour string
	// OverheadPerBatch. Empty: none.
	OverheadPerBatch string
	// OverheadPct of materials, packaging and labor, 0 to 500.
	OverheadPct float64
	// FeePerBar is the fixed fee of selling one bar. Empty: none.
	FeePerBar string
	// FeePct of the price before tax, 0 to below 100.
	FeePct float64
	// MarginPct of the price before tax, 0 to below 100 less FeePct.
	MarginPct engine.Optional
	// MarkupPct of the cost, 0 to 10,000.
	MarkupPct engine.Optional
	// Price of a bar, above zero, with tax in where PriceIncludesTax.
	Price *string
	// TaxPct is the sales tax, 0 to 100.
	TaxPct           float64
	PriceIncludesTax bool
}

// Costed is a recipe to cost.
type Costed struct {
	Recipe *engine.Recipe
	// Formulation is what the engine answered for the recipe, with its worksheet
	// where one is wanted here. Nil: there is none, because the recipe was refused;
	// then the terms are checked and nothing is costed, for callers that want to
	// hear everything wrong with a request at once.
	Formulation *engine.Formulation
	Terms       Terms
}

// Options are what a call may ask beside the recipes.
type Options struct {
	// AllowPartial: cost what has a price and name what has none.
	AllowPartial bool
	// IncludeWorksheet adds the reckoning, the formulation's before it. It changes
	// no other figure.
	IncludeWorksheet bool
}

// Costing is what a batch and a bar of it cost. All money is text with as many
// decimals as the currency has.
type Costing struct {
	RecipeName, CurrencyCode string
	Lines                    []Line
	PerBatch                 string // sum of the lines
	PerBar                   string // of a saleable bar, rounded up
	// Empty where no pricing was asked, as are the two after them.
	PriceBeforeTax, PriceWithTax string
	FeesPerBar                   string
	MarginPerBar                 string       // price before tax less fees less cost
	MarginPct                    unit.Percent // of the price before tax
	MarkupPct                    unit.Percent // price before tax over cost, less 100; 0 where the bar costs nothing
	// BreakEvenBars pay for the batch. 0: never at this price.
	BreakEvenBars int
	// MissingMaterials have no price.
	MissingMaterials []string
	Sensitivity      []Sensitivity // worst first
	Worksheet        []engine.WorksheetLine
}

// Layer is a layer of the cost.
type Layer string

// The layers, in order.
const (
	Materials Layer = "materials"
	Packaging Layer = "packaging"
	Labor     Layer = "labor"
	Overhead  Layer = "overhead"
)

// Line is one line of the cost.
type Line struct {
	Layer     Layer
	LineID    string // weigh line; empty beside materials
	Text      string
	MassG     unit.Grams // 0 beside materials
	Amount    string
	PerBar    string // four decimals
	PriceDate string
}

// Sensitivity is what it would do if one material cost twice as much, freight
// included.
type Sensitivity struct {
	Material  string
	PerBar    string
	MarginPct unit.Percent // at the price answered; 0 where there is none
}

// Limits of a call.
const (
	MaxRecipes = 500
	MaxPacks   = 2000
	maxBars    = 100000
)

// Methods that a worksheet line of this package may name.
const (
	// MethodCent rounds a sum of money to decimals of its currency: half up, or up
	// where the label says so.
	MethodCent = "cent-rounding"
	// MethodWholeBars rounds up to whole bars.
	MethodWholeBars = "whole-bars"
	// MethodDoubled is the whole costing with one price doubled.
	MethodDoubled = "price-doubled"
)

// Reasons of violations that only this package gives.
const (
	ReasonMoney    = "BAD_MONEY"
	ReasonCurrency = "BAD_CURRENCY"
	ReasonDate     = "BAD_DATE"
	ReasonDensity  = "NO_DENSITY"
	ReasonNoPrice  = "NO_PRICE"
)
