package sheet

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// odds puts a probability in percent into words: "1 in 40".
func odds(pct float64) string {
	switch {
	case !(pct >= 0 && pct <= 100):
		return "unknown"
	case pct < 1e-4:
		return "less than 1 in a million"
	case pct > 99.95:
		return "all but certain"
	case pct >= 20:
		return fmt.Sprintf("about %.0f in 100", pct)
	}
	n := 100 / pct
	if digits := math.Floor(math.Log10(n)) - 1; digits > 0 {
		scale := math.Pow(10, digits)
		n = math.Round(n/scale) * scale
	}
	return "about 1 in " + strconv.FormatFloat(math.Round(n), 'f', 0, 64)
}

// superfat writes a superfat with its interval, its odds and its doubt.
func (p *page) superfat(s *lixiviumv1.Superfat, o Options) {
	what := "Superfat " + percent(s.GetSuperfatPct())
	if s.GetSuperfatPct() < 0 {
		what += ": more alkali than the fats can take"
	}
	if id := s.GetPortionId(); id != "" {
		what += fmt.Sprintf(" in the portion %q, which has least", o.portionName(id))
	}
	p.wrap("", "  ", what+".")
	p.wrapf("  ", "  ", "Of 20 such batches 19 lie between %s and %s.", percent(s.GetLow95Pct()), percent(s.GetHigh95Pct()))
	p.wrapf("  ", "  ", "Chance that alkali is left over: %s.", odds(s.GetLyeExcessProbabilityPct()))
	if by := s.GetDominatedBy(); by != "" {
		p.wrapf("  ", "  ", "Most of this doubt: %s.", strings.TrimRight(by, "."))
	}
}

// assumptions writes the superfat of the batch under other assumptions.
func (p *page) assumptions(figures []*lixiviumv1.Figure) {
	for _, f := range figures {
		p.wrapf("  ", "  ", "If %s: the batch would have %s.", f.GetName(), percent(f.GetValue()))
	}
}

// severity gives the word that stands before a finding.
func severity(s lixiviumv1.Severity) string {
	switch s {
	case lixiviumv1.Severity_SEVERITY_DANGER:
		return "DANGER"
	case lixiviumv1.Severity_SEVERITY_CAUTION:
		return "CAUTION"
	}
	return "NOTE"
}

// basis says in a word or two what a figure rests on.
func basis(e *lixiviumv1.Evidence) string {
	switch e.GetBasis() {
	case lixiviumv1.Basis_BASIS_PUBLISHED_SEEN:
		return "published"
	case lixiviumv1.Basis_BASIS_PUBLISHED_FROM_MEMORY:
		return "from memory"
	case lixiviumv1.Basis_BASIS_DERIVED:
		return "derived"
	case lixiviumv1.Basis_BASIS_COMMON_PRACTICE:
		return "practice"
	case lixiviumv1.Basis_BASIS_ESTIMATE:
		return "estimate"
	case lixiviumv1.Basis_BASIS_CALLER:
		return "your own"
	}
	return "not said"
}

// evidence says in full what a figure rests on; empty when nothing is said.
func evidence(e *lixiviumv1.Evidence) string {
	if e.GetBasis() == lixiviumv1.Basis_BASIS_UNSPECIFIED && e.GetSource() == "" {
		return ""
	}
	words := basis(e)
	switch e.GetBasis() {
	case lixiviumv1.Basis_BASIS_PUBLISHED_SEEN:
		words = "published, seen"
	case lixiviumv1.Basis_BASIS_PUBLISHED_FROM_MEMORY:
		words = "published, from memory"
	case lixiviumv1.Basis_BASIS_COMMON_PRACTICE:
		words = "common practice"
	}
	if e.GetSource() != "" {
		words += ": " + e.GetSource()
	}
	return words
}

// quantityWords writes a number with the unit that an answer names.
func quantityWords(v float64, unit string) string {
	switch unit {
	case "percent":
		return percent(v)
	case "1", "":
		return significant(v)
	case "degC":
		return decimal(v, 0) + " °C"
	case "g":
		return decimal(v, gramDecimals(v, nil)) + " g"
	}
	return significant(v) + " " + unit
}
