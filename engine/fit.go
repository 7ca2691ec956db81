package engine

import (
	"lixivium.example/engine/mold"
	"lixivium.example/engine/unit"
)

// Fit is the size a batch is brought to: exactly one of Molds, Batter, Fats,
// Bars and Stock. Losses are stated masses and do not grow with the batch.
type Fit struct {
	PotLoss, TransferLoss Quantity
	Molds                 *Molds
	Batter                Quantity // poured; losses come on top
	Fats                  Quantity // recipe fats
	Bars                  *Bars
	Stock                 *Stock
}

// Molds are 1 to 100 kinds of molds to fill.
type Molds struct {
	Molds               []Mold
	TextureAllowancePct float64 // of the filled volume, 0 to 50
}

// Mold is one kind of mold: exactly one of the shapes, Water and
// BatterLastTime; at most one of FillHeightMM and FillPct.
type Mold struct {
	Name           string
	Count          int // 1 to 1,000
	Box            *mold.Box
	TaperedBox     *mold.TaperedBox
	Cylinder       *mold.Cylinder
	Cavities       *mold.Cavities
	Water          Quantity // that fills it to the brim
	BatterLastTime Quantity // mass that filled it to the wanted level
	LinerMM        float64  // on every side and the bottom, 0 to 20; box and cylinder
	FillHeightMM   Optional // from the bottom, above the liner
	FillPct        Optional // of the volume, 1 to 100; absent: 100
	Material       MoldMaterial
}

// MoldMaterial is what a mold is made of.
type MoldMaterial int

// The materials.
const (
	MoldMaterialNotSaid MoldMaterial = iota
	Silicone
	Wood
	Plastic
	StainlessSteel
	Card
	Glass
	Aluminum
	Zinc
	Tin
)

// Bars are bars to make.
type Bars struct {
	Count       int // 1 to 100,000
	Mass        Quantity
	Cured       bool     // Mass is wanted after the cure
	CureLossPct Optional // of the fresh bar, 0 to 40; absent: estimated from the water
	Trimmings   Quantity // what becomes no bar
}

// Stock is what is on the shelf. Lines left out are plentiful.
type Stock struct{ OnHand []OnHand }

// OnHand is a mass of one thing on the shelf, by line or dose id, or "naoh",
// "koh" or "water". What a line gives to carriers counts with the line.
type OnHand struct {
	LineID string
	Mass   Quantity
}

// Scaled is a recipe brought to a size.
type Scaled struct {
	// Recipe holds every mass in grams. Formulate answers it, with the same
	// balances, with exactly the same figures. It shares what did not change with
	// the recipe that was scaled.
	Recipe      *Recipe
	Balances    []Balance
	Formulation *Formulation
	// Factor times every unrounded mass of the recipe is the new one.
	Factor float64
	// WantedBatterG is the batter to pour with the losses, before rounding, g.
	// What goes onto the surface is not counted. 0 when water is withheld.
	WantedBatterG unit.Grams
	Molds         []MoldFill
	Stock         []StockLeft // in the order in which things run out
	Bar           *BarAnswer  // nil unless bars were asked for
	Findings      []Finding   // about the change of size
}

// MoldFill is how one kind of mold is filled.
type MoldFill struct {
	Name     string
	Count    int
	FilledML unit.Milliliters // of one, to the wanted level
	BatterG  unit.Grams       // for one, texture allowance counted
	BrimML   unit.Milliliters // of one; 0 where it is not known
}

// StockLeft is what is left of one thing on the shelf.
type StockLeft struct {
	LineID                string
	OnHandG, UsedG, LeftG unit.Grams
	Scarcest              bool // sets the size
}

// BarAnswer is a bar of a scaled batch.
type BarAnswer struct {
	FreshG, CuredG unit.Grams
	CureLossPct    unit.Percent
	Evidence       Evidence
}
