package engine

import (
	"lixivium.example/engine/unit"
)

// QuantityUnit is the unit of a Quantity. The zero value means that no
// quantity was given.
type QuantityUnit int

// The units a Quantity may carry, named as in the contract.
const (
	NoUnit QuantityUnit = iota
	Gram
	Kilogram
	Ounce
	Pound
	Milliliter
	Liter
	FluidOunceUS
	CupUS
	TeaspoonUS
)

// unitRow holds the contract's name of a unit and its factor to grams or
// milliliters.
type unitRow struct {
	name   string
	factor float64
	volume bool
}

var unitRows = [...]unitRow{
	NoUnit:       {"", 0, false},
	Gram:         {"g", 1, false},
	Kilogram:     {"kg", unit.GramsPerKg, false},
	Ounce:        {"oz", unit.GramsPerOz, false},
	Pound:        {"lb", unit.GramsPerLb, false},
	Milliliter:   {"ml", 1, true},
	Liter:        {"l", unit.MLPerL, true},
	FluidOunceUS: {"fl_oz_us", unit.MLPerFlOzUS, true},
	CupUS:        {"cup_us", unit.MLPerCupUS, true},
	TeaspoonUS:   {"tsp_us", unit.MLPerTspUS, true},
}

// row is what is known of a unit; of an unknown one, nothing.
func (u QuantityUnit) row() unitRow {
	if u < 0 || int(u) >= len(unitRows) {
		return unitRow{name: "unknown"}
	}
	return unitRows[u]
}

// String gives the contract's name of the unit.
func (u QuantityUnit) String() string { return u.row().name }

// Quantity is an amount of a material in a stated unit. The zero Quantity
// means that none was given.
type Quantity struct {
	Value float64
	Unit  QuantityUnit
}

// InGrams is a quantity of v grams.
func InGrams(v float64) Quantity { return Quantity{Value: v, Unit: Gram} }

// Given tells whether the quantity was stated at all.
func (q Quantity) Given() bool { return q.Unit != NoUnit }

// IsVolume tells whether the quantity is a volume.
func (q Quantity) IsVolume() bool { return q.Unit.row().volume }

// Grams gives the mass of a quantity stated by mass.
func (q Quantity) Grams() unit.Grams { return unit.Grams(q.Value * q.Unit.row().factor) }

// Milliliters gives the volume of a quantity stated by volume.
func (q Quantity) Milliliters() unit.Milliliters {
	return unit.Milliliters(q.Value * q.Unit.row().factor)
}

// Optional is a number that may be absent. Absent is not zero.
type Optional struct {
	value float64
	set   bool
}

// Some is a stated number.
func Some(v float64) Optional { return Optional{value: v, set: true} }

// Get gives the number and whether it was stated.
func (o Optional) Get() (float64, bool) { return o.value, o.set }

// Set tells whether the number was stated.
func (o Optional) Set() bool { return o.set }

// Or gives the number, or the default when it is absent.
func (o Optional) Or(otherwise float64) float64 {
	if o.set {
		return o.value
	}
	return otherwise
}

// Measured is a value and the half-width of the interval that holds the true
// value. An absent half-width takes the default of the field it stands in.
type Measured struct {
	Value     float64
	HalfWidth Optional
}

// Balance is a weighing scale: its smallest step and, where it has one, the
// largest net mass it carries.
type Balance struct {
	Name     string
	Step     Quantity
	Capacity Quantity
}
