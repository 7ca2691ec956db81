package lye

import (
	"math"
	"strconv"

	"lixivium.example/engine/unit"
)

// RangeError says that an input lies outside what the tables cover, or is not a
// number at all. Low and High are the ends of the accepted range, both
// accepted, in Unit.
type RangeError struct {
	Quantity  string  // what was out of range, "NaOH strength"
	Value     float64 // as given
	Low, High float64
	Unit      string // "%", "°C", "g/mL", "mol/L", "°Bé", "°Tw"; empty for a pure number
	Next      string // what to do about it
}

// Error gives one sentence and the next step.
func (e *RangeError) Error() string {
	value := number(e.Value) + e.suffix()
	if math.IsNaN(e.Value) || math.IsInf(e.Value, 0) {
		value = "not a finite number"
	}
	return e.Quantity + " is " + value + "; it must lie between " + number(e.Low) +
		" and " + number(e.High) + e.suffix() + ": " + e.Next
}

func (e *RangeError) suffix() string {
	if e.Unit == "" {
		return ""
	}
	return " " + e.Unit
}

func number(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }

// inside is written so that NaN is outside.
func inside(v, low, high float64) bool { return v >= low && v <= high }

// solution finds the density table of a kind and proves the temperature.
func solution(k Kind, t unit.Celsius) (*grid, error) {
	var g *grid
	switch k {
	case NaOH:
		g = known.naohDensity
	case KOH:
		g = known.kohDensity
	default:
		return nil, &RangeError{
			Quantity: "kind of alkali", Value: float64(k), Low: float64(NaOH), High: float64(KOH),
			Next: "say whether it is NaOH (1) or KOH (2)",
		}
	}
	if low, high := g.t[0], g.t[len(g.t)-1]; !inside(float64(t), low, high) {
		return nil, &RangeError{
			Quantity: "temperature of the " + k.String() + " solution", Value: float64(t),
			Low: low, High: high, Unit: "°C",
			Next: "bring the solution into this range and measure again; room temperature is best",
		}
	}
	return g, nil
}
