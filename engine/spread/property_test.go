package spread

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// anyModel draws a model whose fat stays above half its best estimate in the
// worst case.
func anyModel(t *rapid.T) *Model {
	m := &Model{Fat: math.Pow(10, rapid.Float64Range(-3, 3).Draw(t, "log fat"))}
	m.Alkali = m.Fat * rapid.Float64Range(0.5, 1.3).Draw(t, "ratio")
	n := rapid.IntRange(0, 12).Draw(t, "n")
	for range n {
		width := m.Fat * math.Pow(10, rapid.Float64Range(-7, -1.7).Draw(t, "log width"))
		s := Source{Twice: rapid.Bool().Draw(t, "twice")}
		switch rapid.IntRange(0, 3).Draw(t, "moves") {
		case 0, 1:
			s.Fat = width
		case 2:
			s.Alkali = width
		default:
			s.Alkali, s.Fat = width, width*rapid.Float64Range(-1, 1).Draw(t, "shared")
		}
		m.Sources = append(m.Sources, s)
	}
	return m
}

func TestBelowRisesFromZeroToOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyModel(t)
		low, high := m.Worst()
		if m.Below(low) != 0 || (low < high && m.Below(high) != 1) {
			t.Fatalf("Below is %v and %v at the worst ends", m.Below(low), m.Below(high))
		}
		last := 0.0
		const steps = 200
		for i := -2; i <= steps+2; i++ {
			p := m.Below(low + (high-low)*float64(i)/steps)
			if !(p >= 0 && p <= 1) {
				t.Fatalf("Below is %v", p)
			}
			if p < last-1e-9 {
				t.Fatalf("Below falls from %v to %v at step %d", last, p, i)
			}
			last = p
		}
	})
}

func TestQuantileInvertsBelow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyModel(t)
		p := rapid.Float64Range(0.0005, 0.9995).Draw(t, "p")
		x := m.Quantile(p)
		low, high := m.Worst()
		if x < low || x > high {
			t.Fatalf("quantile %v outside the worst case %v to %v", x, low, high)
		}
		// The root lies within the tolerance of x, or beyond the cut ends.
		if m.Below(x-2*stepEnough) > p || m.Below(x+2*stepEnough) < p {
			t.Fatalf("Below around Quantile(%v) = %v: %v to %v", p, x, m.Below(x-2*stepEnough), m.Below(x+2*stepEnough))
		}
	})
}

func TestIntervalWithinWorstCase(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyModel(t)
		p := rapid.Float64Range(0, 1).Draw(t, "p")
		low, high := m.Interval(p)
		worstLow, worstHigh := m.Worst()
		if !(worstLow <= low && low <= high+2*stepEnough && high <= worstHigh) {
			t.Fatalf("interval %v to %v, worst case %v to %v", low, high, worstLow, worstHigh)
		}
		o := m.Odds(p)
		if o.Low != low || o.High != high || o.WorstLow != worstLow || o.WorstHigh != worstHigh ||
			o.Best != m.Best() || o.Excess != m.Below(0) || o.OverCaustic != m.Below(FreeCaustic) ||
			math.Abs(o.Uncertainty-m.Uncertainty()) > 1e-12 {
			t.Fatalf("odds %+v disagree with the single calls", o)
		}
	})
}

func TestScaleDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyModel(t)
		k := rapid.SampledFrom([]float64{1000, 1e-3, 1e40, 1e-40}).Draw(t, "k")
		big := &Model{Alkali: m.Alkali * k, Fat: m.Fat * k}
		for _, s := range m.Sources {
			big.Sources = append(big.Sources, Source{Alkali: s.Alkali * k, Fat: s.Fat * k, Twice: s.Twice})
		}
		same(t, m.Odds(0.95), big.Odds(0.95), m.Uncertainty())
	})
}

func TestOrderDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyModel(t)
		other := &Model{Alkali: m.Alkali, Fat: m.Fat, Sources: rapid.Permutation(slices.Clone(m.Sources)).Draw(t, "order")}
		same(t, m.Odds(0.95), other.Odds(0.95), m.Uncertainty())
	})
}

// same compares figures to 1e-12. Next to a superfat that is certain to within
// rounding, a probability is as steep as a step and is not compared.
func same(t *rapid.T, a, b Odds, u float64) {
	t.Helper()
	pairs := [][2]float64{
		{a.Best, b.Best}, {a.Uncertainty, b.Uncertainty}, {a.Low, b.Low}, {a.High, b.High},
		{a.WorstLow, b.WorstLow}, {a.WorstHigh, b.WorstHigh},
	}
	if u > 1e-4 {
		pairs = append(pairs, [2]float64{a.Excess, b.Excess}, [2]float64{a.OverCaustic, b.OverCaustic})
	}
	for i, p := range pairs {
		if math.Abs(p[0]-p[1]) > 1e-12 {
			t.Fatalf("figure %d: %v and %v differ by %g", i, p[0], p[1], p[0]-p[1])
		}
	}
}
