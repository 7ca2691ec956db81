package mold

import (
	"math"
	"strconv"
)

// Kind is the kind of a problem.
type Kind int

// The kinds.
const (
	OutOfRange    Kind = iota + 1 // a measure outside Low to High
	LinerTooThick                 // nothing is left inside of the liner
	NoLiner                       // a liner in a shape that it cannot be reckoned for
	AboveBrim                     // a fill height of 0 or less, or above High
	NoHeight                      // a fill height in a shape whose height is not known
	TwoLevels                     // a fill height and a percent
)

// Problem is one thing wrong with a mold.
type Problem struct {
	Kind  Kind
	Field string // below the mold, named as in the contract: "box.height_mm"
	// Value as given, and what it may be, in Unit.
	Value, Low, High float64
	Unit             string
}

// Error says what is wrong and what to do.
func (p *Problem) Error() string {
	switch p.Kind {
	case LinerTooThick:
		return "A liner of " + p.number(p.Value) + " on every side leaves no room in the mold. Look at the unit: millimeters."
	case NoLiner:
		return "A liner is reckoned for a box or a cylinder only. Measure the lined mold itself, or fill it with water."
	case AboveBrim:
		return p.number(p.Value) + " is no height to fill to: above 0 and up to the brim, " + p.number(p.High) + " (the liner taken off)."
	case NoHeight:
		return "The height of this mold is not known, so there is no height to fill to. Use fill_pct."
	case TwoLevels:
		return "fill_height_mm and fill_pct are both stated. Keep one."
	}
	if math.IsNaN(p.Value) || math.IsInf(p.Value, 0) {
		return "This is not a finite number. Write a plain number."
	}
	measure := "Measure the inside, in the unit of the field."
	if p.Unit == "mm" {
		measure = "Measure the inside in millimeters: 25 cm are 250, 10 inches 254."
	}
	return p.number(p.Value) + " is outside " + p.number(p.Low) + " to " + p.number(p.High) + ". " + measure
}

func (p *Problem) number(v float64) string {
	s := strconv.FormatFloat(v, 'f', -1, 64)
	if a := math.Abs(v); a != 0 && (a < 1e-4 || a >= 1e9) {
		s = strconv.FormatFloat(v, 'g', 4, 64)
	}
	if p.Unit == "" {
		return s
	}
	return s + " " + p.Unit
}
