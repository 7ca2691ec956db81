package spread

import (
	"math"
	"testing"
)

// The standard uncertainties follow from first-order propagation, GUM (JCGM
// 100:2008) 5.1.2, with half-widths over the square root of 3 and, for tare
// and reading, times the square root of 2. The wide SV bands are those of
// Codex CXS 33 (olive) and CXS 210 (coconut).
func TestWorkedCases(t *testing.T) {
	for _, c := range []struct {
		fats, step float64
		points     float64
		tolerance  float64
		dominant   string
	}{
		{1000, 0.1, 1.31, 0.005, "sv"},
		{1000, 1, 1.34, 0.005, "sv"},
		{1000, 5, 1.90, 0.005, "weighing alkali"},
		{50, 0.1, 1.42, 0.005, "sv"},
		{50, 1, 5.7, 0.05, "weighing alkali"},
	} {
		m := worked(c.fats, c.step).model()
		if err := m.Check(); err != nil {
			t.Fatal(err)
		}
		if got := 100 * m.Uncertainty(); math.Abs(got-c.points) > c.tolerance {
			t.Errorf("%v g, step %v g: u = %.4f points, want %v", c.fats, c.step, got, c.points)
		}
		if name, share := m.Dominant(); name != c.dominant || share <= 0 || share > 1 {
			t.Errorf("%v g, step %v g: dominant %q %.3f, want %q", c.fats, c.step, name, share, c.dominant)
		}
		if best := m.Best(); math.Abs(best-0.05) > 1e-12 {
			t.Errorf("best %v, want 0.05", best)
		}
	}
}

// Parts of the first two cases by hand: f u(SV)/SV (1 - s), u(p)/p (1 - s).
func TestContributions(t *testing.T) {
	m := worked(1000, 1).model()
	var buf [16]Contribution
	got := m.Contributions(buf[:0])
	f1 := 700 * 190 / (700*190 + 300*256.5)
	want := []float64{
		100 * 0.95 * 0.005 / 0.985 / math.Sqrt(3), // purity: 0.28
		100 * 0.95 / math.Sqrt(6) / 144.352,       // weighing alkali: 0.27
		0, 0,                                      // no acid, nothing brought
		100 * 0.95 * f1 * 6 / 190 / math.Sqrt(3),           // 1.10
		100 * 0.95 * f1 / 700 / math.Sqrt(6),               //
		100 * 0.95 * (1 - f1) * 8.5 / 256.5 / math.Sqrt(3), // 0.67
		100 * 0.95 * (1 - f1) * 1 / 300 / math.Sqrt(6),     //
	}
	if len(got) != len(want) {
		t.Fatalf("%d contributions, want %d", len(got), len(want))
	}
	var squares, shares float64
	for i, c := range got {
		if math.Abs(c.Points-want[i]) > 1e-5 {
			t.Errorf("%s: %.6f points, want %.6f", c.Name, c.Points, want[i])
		}
		squares += c.Points * c.Points
		shares += c.Share
	}
	if u := 100 * m.Uncertainty(); math.Abs(math.Sqrt(squares)-u) > 1e-12 || math.Abs(shares-1) > 1e-12 {
		t.Errorf("contributions add up to %v points and %v, want %v and 1", math.Sqrt(squares), shares, u)
	}
}

// The hard worst case by putting every input at its end, on the products
// themselves; the linear form lies within 0.05 point of them.
func TestWorst(t *testing.T) {
	for _, r := range []*recipe{worked(1000, 0.1), worked(1000, 1), worked(1000, 5)} {
		ratio := func(side float64) float64 {
			a := (r.alkali + side*r.stepAlkali) * (r.purity + side*r.purityHalf) / r.molar
			b := 0.0
			for _, f := range r.fats {
				b += (f.mass - side*r.stepFat) * (f.sv - side*f.svHalf) / 1000 / koh
			}
			return 1 - a/b
		}
		low, high := r.model().Worst()
		if math.Abs(low-ratio(1)) > 5e-4 || math.Abs(high-ratio(-1)) > 5e-4 {
			t.Errorf("step %v g: worst %.5f to %.5f, want %.5f to %.5f", r.stepFat, low, high, ratio(1), ratio(-1))
		}
	}
}

// Sources that move both sides do not reach the ends of each side at once.
func TestWorstOfSharedSource(t *testing.T) {
	m := &Model{Alkali: 0.9, Fat: 1, Sources: []Source{{Alkali: 0.09, Fat: 0.1}, {Fat: 0.05}, {Alkali: -0.02, Fat: 0.03, Twice: true}}}
	low, high := math.Inf(1), math.Inf(-1)
	for k := range 16 {
		u := func(i int) float64 { return float64(k>>i&1)*2 - 1 }
		a := 0.9 + 0.09*u(0) - 0.02*(u(2)+u(3))
		b := 1 + 0.1*u(0) + 0.05*u(1) + 0.03*(u(2)+u(3))
		low, high = min(low, 1-a/b), max(high, 1-a/b)
	}
	gotLow, gotHigh := m.Worst()
	if math.Abs(gotLow-low) > 1e-14 || math.Abs(gotHigh-high) > 1e-14 {
		t.Errorf("worst %v to %v, want %v to %v by all corners", gotLow, gotHigh, low, high)
	}
}
