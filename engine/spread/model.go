// Package spread tells how sure a superfat is.
//
// It takes the alkali left for the fat and the alkali that the fat needs, both
// in mol, with a list of independent rectangular errors on them, and gives the
// standard uncertainty, intervals, probabilities, the hard worst case and what
// dominates. The superfat is s = 1 - A/B with
//
//	A = Alkali + sum of a_k U_k        B = Fat + sum of b_k U_k
//
// where every U_k is uniform on [-1, 1] and independent of the others.
//
// It leaves to its callers which errors there are and how wide they are, the
// merging of lines that share one cause (two lots of one fat are one source),
// and what a probability means for the maker.
//
// Superfats and probabilities are fractions here (0.05 is five percent);
// contributions are in superfat points because they are only ever shown.
//
// A model that Check refuses has no superfat. Its methods then return 0, and
// Below returns 1, so that a forgotten check never looks harmless. Results are
// finite for every model, and no method allocates on the heap except
// Contributions when its slice has no room. All methods only read the model.
package spread

import (
	"errors"
	"fmt"
	"math"
)

// Source is one independent rectangular error.
type Source struct {
	// Name says what it is when it dominates; this package does not interpret it.
	Name string
	// Alkali and Fat are half-widths in mol: how far the source moves the alkali
	// left and the alkali needed when it goes from its middle to one end. Signs
	// matter only relative to each other, in a source that moves both.
	Alkali, Fat float64
	// Twice marks a weighing with tare and reading both rounded: two independent
	// rectangles of this half-width each.
	Twice bool
}

// Model is a superfat with everything that is unsure about it. Alkali is the
// alkali left for fat after what acids take, Fat the alkali that the fat needs,
// both in mol at their best estimates.
type Model struct {
	Alkali, Fat float64
	Sources     []Source
}

// The three ways in which a model has no superfat.
var (
	ErrNoFat     = errors.New("no fat to saponify")
	ErrFatUnsure = errors.New("the errors of the fat are as large as the fat itself: use a finer scale, a certificate or a larger batch")
	ErrNotFinite = errors.New("a figure is not a finite number, or the alkali is out of all proportion to the fat")
)

const (
	leastFatMol  = 1e-100 // below this its reciprocal overflows with ordinary half-widths
	fatErrorsMax = 0.99   // summed half-widths over Fat; at 1 the worst superfat is infinite
	alkaliMax    = 1e6    // alkali with all its errors over Fat
)

// Check reports why the model has no superfat, as one of the package's errors
// (wrapped, with the source where one is to blame), or nil.
func (m *Model) Check() error {
	if bad(m.Alkali) || bad(m.Fat) {
		return fmt.Errorf("alkali %v mol, fat %v mol: %w", m.Alkali, m.Fat, ErrNotFinite)
	}
	for i := range m.Sources {
		if s := &m.Sources[i]; bad(s.Alkali) || bad(s.Fat) {
			return fmt.Errorf("source %q: half-widths %v and %v mol: %w", s.Name, s.Alkali, s.Fat, ErrNotFinite)
		}
	}
	if m.Fat < leastFatMol {
		return fmt.Errorf("fat %v mol: %w", m.Fat, ErrNoFat)
	}
	alkali, fat := m.summed()
	if !(fat <= fatErrorsMax) {
		return fmt.Errorf("errors of the fat add up to %.3g %% of it: %w", 100*fat, ErrFatUnsure)
	}
	if !(alkali <= alkaliMax) {
		return fmt.Errorf("alkali %v mol, fat %v mol: %w", m.Alkali, m.Fat, ErrNotFinite)
	}
	return nil
}

func bad(x float64) bool { return math.IsNaN(x) || math.IsInf(x, 0) }

// summed gives the greatest alkali and the greatest error of the fat, both as
// multiples of Fat.
func (m *Model) summed() (alkali, fat float64) {
	inv := 1 / m.Fat
	alkali = math.Abs(m.Alkali) * inv
	for i := range m.Sources {
		s := &m.Sources[i]
		w := s.times()
		alkali += float64(w * math.Abs(s.Alkali*inv))
		fat += float64(w * math.Abs(s.Fat*inv))
	}
	return alkali, fat
}

// sound is Check without its words. It answers false on NaN by comparing the
// right way round.
func (m *Model) sound() bool {
	if !(m.Fat >= leastFatMol && m.Fat <= math.MaxFloat64) {
		return false
	}
	alkali, fat := m.summed()
	return fat <= fatErrorsMax && alkali <= alkaliMax
}

// times is the number of rectangles the source stands for.
func (s *Source) times() float64 {
	if s.Twice {
		return 2
	}
	return 1
}

// Best is the superfat at the best estimates, a fraction.
func (m *Model) Best() float64 {
	if !m.sound() {
		return 0
	}
	return 1 - m.Alkali/m.Fat
}
