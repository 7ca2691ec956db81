// Package fat is the table of fats, waxes, fatty acids and resins that soap is
// made of, and the resolution of the names people call them by.
//
// It answers with figures and where they come from: saponification value with
// its range and basis, acid value of what hardly reacts in the cold, iodine
// value, density, fatty acids, INCI names. Every figure names a published
// source or says that it was recalled, calculated or estimated.
//
// It decides nothing about a batch: how much alkali a wax is counted with, how
// a range becomes an interval and what a caller's certificate overrides are the
// business of the packages above. Declared fats of a caller never enter the
// table.
//
// All values are read-only and shared: a caller must not write to what a
// function of this package returns.
package fat

import (
	"slices"

	"lixivium.example/engine/unit"
)

// Kind says what sort of material a row is.
type Kind string

// The kinds of the table.
const (
	Oil       Kind = "oil"
	HardFat   Kind = "hard fat"
	Butter    Kind = "butter"
	AnimalFat Kind = "animal fat"
	Wax       Kind = "wax"
	FattyAcid Kind = "fatty acid"
	Blend     Kind = "blend" // unstated mixture, ranges wide on purpose
	Resin     Kind = "resin"
)

// Status says how far a figure can be trusted.
type Status string

// The states of a figure.
const (
	Seen       Status = "seen"        // read in the source named
	FromMemory Status = "from-memory" // recalled from the source named, not read
	Calculated Status = "calculated"  // from molar masses and composition
	Estimate   Status = "estimate"    // ours
)

// Value is a saponification or acid value in mg KOH/g: the ends of its range
// and the figure in use, Min <= Best <= Max.
type Value struct{ Min, Best, Max unit.MgKOHPerG }

// Bounds are iodine value limits in g iodine per 100 g (Wijs); a missing limit
// is nil, not zero.
type Bounds struct{ Min, Max *float64 }

// Density is a density at a temperature with the half-width of its range.
type Density struct {
	GramsPerML unit.GramsPerML
	At         unit.Celsius
	HalfWidth  unit.GramsPerML
	// Basis is "seen", "from-memory", "estimate", "temperature-assumed" (a
	// source without temperature, taken as 20 °C and widened) or "derived"
	// (Choi and Okos 1986 for a liquid oil that has no density of its own).
	Basis string
}

// Fat is one row of the table.
type Fat struct {
	ID   string // lower case with hyphens
	Name string

	// INCI names; empty where none was recalled. Names of the fats are from
	// memory; INCICheck speaks for the soaps: "seen" on a trade association
	// page, "seen-sodium" for the sodium soap only, "known" recalled as a listed
	// name, "constructed" by analogy and to be looked up before it is printed.
	INCI, INCISodiumSoap, INCIPotassiumSoap, INCICheck string

	Kind        Kind
	LiquidAt20C bool // pours at 20 °C, so a volume of it makes sense
	FreeAcid    bool // reacts at once, forms no glycerol (fatty acids, rosin)

	// SV is the saponification value (ISO 3657). SVRangeKnown is false where no
	// range was found; Min and Max then equal Best.
	SV           Value
	SVRangeKnown bool
	SVBasis      string // where the value in use comes from, in words

	// AcidValue is set for materials that react with little more than their
	// free acids in the cold (waxes, pine tar) and nil for all others. Best is
	// the midpoint.
	AcidValue       *Value
	AcidValueStatus Status

	IV                   Bounds
	Density              *Density      // nil when unknown
	UnsaponifiableMaxPct *unit.Percent // nil when unknown
	MeltingC             string        // range in words, °C

	// Composition sums to 100 in the order of Acids; nil when unknown, which
	// is never to be taken for "no fatty acids". It is the midpoints of the
	// ranges normalized to 100 %.
	Composition []Share
	// CalculatedSV and CalculatedIV are what the composition gives, see the
	// functions of these names; 0 when it is unknown.
	CalculatedSV      unit.MgKOHPerG
	CalculatedIV      float64
	CompositionStatus Status // FromMemory if any acid was recalled

	SourceKeys []string // see Source
	SourceText string   // what of the sources was used, then their titles
	Status     Status   // speaks for the saponification value
	FromMemory []string // other fields that were recalled
	Note       string   // what a caller should know, often empty
}

// Wax reports whether the row is a wax.
func (f *Fat) Wax() bool { return f.Kind == Wax }

// CountsAtAcidValue reports whether only the acid value counts as taking alkali
// in the cold and the rest of the saponification value is an upper bound.
func (f *Fat) CountsAtAcidValue() bool { return f.AcidValue != nil }

// All returns the fats ordered by id; the slice is the caller's own.
func All() []*Fat { return slices.Clone(data.fats) }

// ByID returns the fat of exactly this id.
func ByID(id string) (*Fat, bool) {
	f, ok := data.byID[id]
	return f, ok
}
