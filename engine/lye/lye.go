// Package lye holds what is known about solutions of sodium and potassium
// hydroxide in water: density and the strength read back from it, how much
// stays dissolved, how hot a fresh solution gets and where it boils.
//
// Every strength is percent by mass of pure alkali in the whole solution, every
// temperature is in °C, every density in g/mL. All figures come from the tables
// in data/, each row with its source and status; Tables hands them out for a
// digest. Between rows everything is linear. Only + - * / are used, products
// are never fused into sums, so the same question gives the same bits on every
// machine.
//
// Outside its tables the package refuses: densities and strengths with a
// *RangeError, estimates of heat and freezing with ok = false. It never moves a
// bad input to the nearest good one. Zero is not a valid Kind, so a forgotten
// one is refused too.
//
// It leaves to others: purity of the solid, sugar or salt in the jug, the size
// of the jug, and what a finding should say.
package lye

import (
	"math"
	"strconv"

	"lixivium.example/engine/unit"
)

// Kind is one of the two alkalis of the trade. The zero value is neither.
type Kind int

const (
	// NaOH is sodium hydroxide, caustic soda.
	NaOH Kind = iota + 1
	// KOH is potassium hydroxide, caustic potash.
	KOH
)

// MolarMass gives g/mol (CIAAW 2021 atomic weights), NaN for no valid Kind.
func (k Kind) MolarMass() float64 {
	switch k {
	case NaOH:
		return unit.MolarMassNaOH
	case KOH:
		return unit.MolarMassKOH
	}
	return math.NaN()
}

// String gives the chemical formula.
func (k Kind) String() string {
	switch k {
	case NaOH:
		return "NaOH"
	case KOH:
		return "KOH"
	}
	return "Kind(" + strconv.Itoa(int(k)) + ")"
}
