package engine_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"lixivium.example/engine/spread"
)

// spreadReckonings are worked examples of metrology. What the engine knows is a
// ratio with rectangular errors above and below the line, so an example states
// its numerator, its denominator (1 for a sum) and their errors.
var spreadReckonings = map[string]reckoning{
	// The standard uncertainty of the ratio, in the units of the example.
	"combined_uncertainty": func(t testing.TB, in inputs) float64 {
		return modelOf(t, in).Uncertainty() * in.or(t, "scale", 1)
	},
	"relative_uncertainty": func(t testing.TB, in inputs) float64 {
		m := modelOf(t, in)
		return m.Uncertainty() / (1 - m.Best())
	},
	// Half of the interval that holds the value with a probability.
	"half_interval": func(t testing.TB, in inputs) float64 {
		low, high := modelOf(t, in).Interval(in.number(t, "p"))
		return (high - low) / 2 * in.or(t, "scale", 1)
	},
	// That half over the standard uncertainty.
	"coverage_factor": func(t testing.TB, in inputs) float64 {
		m := modelOf(t, in)
		low, high := m.Interval(in.number(t, "p"))
		return (high - low) / 2 / m.Uncertainty()
	},
	// The probability of lying so many standard uncertainties below the best value.
	"tail": func(t testing.TB, in inputs) float64 {
		m := modelOf(t, in)
		return m.Below(m.Best() - in.number(t, "below")*m.Uncertainty())
	},
}

// modelOf reads errors such as "above:rect:0.1,below:tri:0.2": a half-width with
// rectangular or triangular distribution, or a standard uncertainty (std), which
// is taken as the rectangle that has it. All of them stand repeat times.
func modelOf(t testing.TB, in inputs) *spread.Model {
	t.Helper()
	m := &spread.Model{Alkali: in.or(t, "above", 0), Fat: in.or(t, "below_line", 1)}
	for _, e := range strings.Split(in["errors"], ",") {
		part := strings.Split(e, ":")
		if len(part) != 3 {
			t.Fatalf("error %q", e)
		}
		half, err := strconv.ParseFloat(part[2], 64)
		if err != nil {
			t.Fatal(err)
		}
		s := spread.Source{Name: e}
		switch part[1] {
		case "rect":
		case "std":
			half *= math.Sqrt(3)
		case "tri": // two equal rectangles add up to a triangle
			half, s.Twice = half/2, true
		default:
			t.Fatalf("error %q", e)
		}
		switch part[0] {
		case "above":
			s.Alkali = half
		case "below":
			s.Fat = half
		default:
			t.Fatalf("error %q", e)
		}
		for range int(in.or(t, "repeat", 1)) {
			m.Sources = append(m.Sources, s)
		}
	}
	if err := m.Check(); err != nil {
		t.Fatal(err)
	}
	return m
}
