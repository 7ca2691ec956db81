// Package settle holds the rules by which alkali, water and portions of a batch
// are worked out, in one place.
//
// It sees numbers only: grams, mol per gram, fractions of one. Names, ranges,
// saponification values, rounding and findings belong to package engine. All
// figures come from + - * / in a fixed order, so that they have the same bits
// on every machine; a product that is added to something is converted
// explicitly, which keeps compilers from fusing the two.
package settle

// The two alkalis, as indexes.
const (
	NaOH = iota
	KOH
	Kinds
)

// Whole marks a dose of the whole batch.
const Whole = -1

// Batch is what there is to settle.
type Batch struct {
	// Lines are the recipe fats; their sum is F.
	Lines []Line
	// Doses are the additives and, as entries of their own, their carriers.
	Doses []Dose
	// Shares are the base shares f of the portions, fractions that sum to 1. At
	// least one.
	Shares []float64
	Alkali Alkali
	Water  Water
}

// Line is a line of recipe fat.
type Line struct {
	G    float64 // grams, any part that is held back included
	Need float64 // mol of alkali per gram
	Free float64 // of that, mol of free acid per gram, which forms water
}

// Dose is an additive or a carrier.
type Dose struct {
	G          float64 // grams
	Portion    int     // index into Shares, or Whole
	Acid       float64 // q: mol of alkali its acids take, per gram
	Dry        bool    // the acid forms no water
	Need       float64 // b: mol of alkali the fats it brings need, per gram
	Free       float64 // of that, mol of free acid per gram
	Added      bool    // member of K: its alkali is added; whole-batch doses only
	HeldBack   int     // index of the line it is taken out of, or -1
	Water      float64 // grams brought per gram
	FromRecipe bool    // that water counts from the asked water, else on top
	Bound      float64 // grams of free water bound per gram
	Requested  float64 // grams of water requested beyond the asked, per gram
	Granted    float64 // grams of that water that the batch gets
	BeforeLye  bool    // in the jug before the alkali
	// OnSurface: on the poured surface, not in the batter. Only its mass counts,
	// and fat that is held back for it, which the batter then lacks.
	OnSurface bool
}

// WaterFormingMol is the acid of the dose that forms water, in mol.
func (d *Dose) WaterFormingMol() float64 {
	acid := float64(d.G * d.Free)
	if !d.Dry {
		acid += float64(d.G * d.Acid)
	}
	return acid
}

// Alkali says how alkali is weighed and what fixes its amount.
type Alkali struct {
	// Superfat is the asked superfat s, a fraction; used unless Fixed.
	Superfat float64
	// Share is the fraction of the mol that each kind gives; used unless Fixed.
	Share [Kinds]float64
	// Fixed: Mol is stated (given alkali, or alkali rounded to a balance).
	Fixed bool
	Mol   [Kinds]float64
	// Stock describes the weighed material of each kind.
	Stock [Kinds]Stock
}

// Stock is the material an alkali is weighed as.
type Stock struct {
	GPerMol   float64 // grams per mol that count as alkali: as weighed when solid, pure when a solution
	PureGMol  float64 // grams of pure hydroxide per mol: the molar mass
	MassGMol  float64 // grams on the balance per mol
	WaterGMol float64 // grams of stock water per mol; 0 when solid
	OwnGMol   float64 // grams of water held by a solid, per mol
}

// Ask is a form of asking for water.
type Ask int

// The forms.
const (
	NotAsked Ask = iota
	AskGrams
	AskConcentration // fraction: alkali / (alkali + water)
	AskRatio         // grams per gram of alkali
	AskOfFats        // fraction of F
)

// Water is the asked water.
type Water struct {
	Ask   Ask
	Value float64
	// Keep is 1, or 1 less the fraction that a discount takes off.
	Keep float64
	// PlainFixed: Plain grams are stated (rounded or weighed).
	PlainFixed bool
	Plain      float64
}
