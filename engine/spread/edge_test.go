package spread

import (
	"errors"
	"math"
	"testing"
)

func TestNothingUnsureIsAStep(t *testing.T) {
	for _, sources := range [][]Source{nil, {{Name: "none"}}, {{Twice: true}, {}}} {
		m := &Model{Alkali: 0.95, Fat: 1, Sources: sources}
		best := m.Best()
		if m.Below(best) != 0 || m.Below(math.Nextafter(best, 1)) != 1 || m.Below(best-1e-9) != 0 {
			t.Errorf("not a step: %v %v", m.Below(best), m.Below(best+1e-9))
		}
		low, high := m.Interval(0.95)
		if low != best || high != best || m.Uncertainty() != 0 {
			t.Errorf("interval %v to %v, want %v", low, high, best)
		}
		if name, share := m.Dominant(); name != "" || share != 0 {
			t.Errorf("dominant %q %v", name, share)
		}
	}
}

// One rectangle, a Twice and two alike have distributions with short formulas.
func TestKnownDistributions(t *testing.T) {
	alkali := func(twice bool, n int) *Model {
		m := &Model{Alkali: 1, Fat: 1}
		for range n {
			m.Sources = append(m.Sources, Source{Alkali: 0.02, Twice: twice})
		}
		return m
	}
	for _, c := range []struct {
		name    string
		m       *Model
		x, want float64
	}{
		{"rectangle", alkali(false, 1), -0.01, 0.25},
		{"rectangle", alkali(false, 1), 0.015, 0.875},
		{"triangle by tare and reading", alkali(true, 1), -0.02, 0.125},
		{"triangle by two lines", alkali(false, 2), 0.02, 0.875},
		{"three", alkali(false, 3), -0.04, 1.0 / 48},       // (t/w)³/6 with t = 0.02, w = 0.04
		{"four", alkali(false, 4), -0.06, 1.0 / 384},       // (t/w)⁴/24
		{"four by two weighings", alkali(true, 2), 0, 0.5}, // symmetry
	} {
		if got := c.m.Below(c.x); math.Abs(got-c.want) > 1e-13 {
			t.Errorf("%s: P(s < %v) = %v, want %v", c.name, c.x, got, c.want)
		}
	}
	if got := alkali(false, 1).Quantile(0.025); math.Abs(got+0.019) > 1e-7 {
		t.Errorf("quantile of a rectangle %v, want -0.019", got)
	}
	// A fat's rectangle alone: s < x when B < A/(1 - x).
	m := &Model{Alkali: 0.95, Fat: 1, Sources: []Source{{Fat: 0.1}}}
	if got, want := m.Below(0), (0.95-0.9)/0.2; math.Abs(got-want) > 1e-13 {
		t.Errorf("fat alone: %v, want %v", got, want)
	}
}

// Very narrow rectangles beside wide ones change next to nothing.
func TestNarrowRectangles(t *testing.T) {
	wide := []Source{{Alkali: 0.02}, {Fat: 0.03}}
	plain := &Model{Alkali: 0.97, Fat: 1, Sources: wide}
	for _, w := range []float64{1e-3, 1e-5, 1e-8, 1e-12, 1e-100, 5e-324} {
		m := &Model{Alkali: 0.97, Fat: 1, Sources: append([]Source{{Alkali: w}, {Fat: w, Twice: true}, {Fat: w}}, wide...)}
		for _, x := range []float64{-0.015, 0, 0.03, 0.07} {
			// Two errors of second order: w over the wide ones' half-width.
			if d := m.Below(x) - plain.Below(x); math.Abs(d) > 3*w*w/1e-3+1e-9 {
				t.Errorf("width %g at %v changes the probability by %g", w, x, d)
			}
		}
	}
}

func TestRefusedModels(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	for _, c := range []struct {
		m    Model
		want error
	}{
		{Model{}, ErrNoFat},
		{Model{Alkali: 1}, ErrNoFat},
		{Model{Alkali: 1, Fat: -1}, ErrNoFat},
		{Model{Alkali: 1, Fat: 5e-324}, ErrNoFat},
		{Model{Alkali: nan, Fat: 1}, ErrNotFinite},
		{Model{Alkali: 1, Fat: inf}, ErrNotFinite},
		{Model{Alkali: 1, Fat: 1, Sources: []Source{{Fat: nan}}}, ErrNotFinite},
		{Model{Alkali: 1, Fat: 1, Sources: []Source{{Alkali: -inf}}}, ErrNotFinite},
		{Model{Alkali: math.MaxFloat64, Fat: 1e-50}, ErrNotFinite},
		{Model{Alkali: 1, Fat: 1, Sources: []Source{{Fat: 0.5, Twice: true}}}, ErrFatUnsure},
		{Model{Alkali: 1, Fat: 1, Sources: []Source{{Fat: -2}}}, ErrFatUnsure},
		{Model{Alkali: 1, Fat: 1, Sources: []Source{{Fat: math.MaxFloat64}, {Fat: -math.MaxFloat64}}}, ErrFatUnsure},
	} {
		if err := c.m.Check(); !errors.Is(err, c.want) {
			t.Errorf("%+v: %v, want %v", c.m, err, c.want)
		}
		low, high := c.m.Interval(0.95)
		worst, worstHigh := c.m.Worst()
		name, share := c.m.Dominant()
		if c.m.Below(-1) != 1 || c.m.Best() != 0 || c.m.Quantile(0.5) != 0 || c.m.Uncertainty() != 0 ||
			low != 0 || high != 0 || worst != 0 || worstHigh != 0 || name != "" || share != 0 ||
			len(c.m.Contributions(nil)) != 0 || c.m.Odds(0.95) != (Odds{Excess: 1, OverCaustic: 1}) {
			t.Errorf("%+v: a refused model answers as if it had a superfat", c.m)
		}
	}
}

func TestFiniteForExtremeModels(t *testing.T) {
	figures := []float64{0, 5e-324, 1e-200, 1e-17, 0.3, 0.98, 1, 1e6, 1e300, math.MaxFloat64}
	sound := 0
	for _, alkali := range figures {
		for _, fat := range figures {
			for _, a := range figures {
				for _, b := range figures {
					m := &Model{Alkali: alkali, Fat: fat, Sources: []Source{{Alkali: a}, {Fat: b}, {Alkali: -a, Fat: b * 1e-3, Twice: true}}}
					if m.Check() == nil {
						sound++
					}
					o := m.Odds(0.95)
					for _, x := range []float64{
						o.Best, o.Uncertainty, o.Low, o.High, o.WorstLow, o.WorstHigh, o.Excess, o.OverCaustic,
						m.Quantile(1e-300), m.Quantile(0.5), m.Quantile(1 - 1e-16), m.Quantile(-1), m.Quantile(2),
						m.Below(-math.MaxFloat64), m.Below(math.MaxFloat64), m.Below(1),
					} {
						if bad(x) {
							t.Fatalf("%+v: %+v, %v", m, o, x)
						}
					}
					if o.Low > o.High+2*stepEnough || o.Low < o.WorstLow || o.High > o.WorstHigh {
						t.Fatalf("%+v: %+v", m, o)
					}
				}
			}
		}
	}
	if sound < 100 {
		t.Errorf("only %d of the models were sound", sound)
	}
}

func TestEndsOfQuantile(t *testing.T) {
	m := fourteen().model()
	low, high := m.Worst()
	if m.Quantile(0) != low || m.Quantile(-1) != low || m.Quantile(1) != high || m.Quantile(2) != high {
		t.Error("probabilities 0 and 1 do not give the worst ends")
	}
	if got := m.Quantile(1e-12); got < low || got > low+0.01 {
		t.Errorf("quantile 1e-12 is %v, worst end %v", got, low)
	}
	if m.Below(math.NaN()) != 1 {
		t.Error("Below(NaN) looks harmless")
	}
}

func TestNormal(t *testing.T) {
	for z := -edge; z <= edge; z += 0.01 {
		cdf, density := normal(z)
		want := 0.5 * math.Erfc(-z/math.Sqrt2)
		if math.Abs(cdf-want) > min(1e-15, 1e-8*want) {
			t.Fatalf("z = %v: %v, want %v", z, cdf, want)
		}
		if d := math.Exp(-z*z/2) / math.Sqrt(2*math.Pi); math.Abs(density-d) > 1e-15 {
			t.Fatalf("z = %v: density %v, want %v", z, density, d)
		}
	}
}
