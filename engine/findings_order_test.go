package engine_test

import (
	"testing"

	"pgregory.net/rapid"

	"lixivium.example/engine"
)

// ordered tells whether findings come with the most harmful first.
func ordered(list []engine.Finding) bool {
	for i := range list[min(1, len(list)):] {
		if list[i].Severity < list[i+1].Severity {
			return false
		}
	}
	return true
}

// TestFindingsAreWhole: every finding of every drawn recipe has a listed code at
// a severity no higher than listed, words, and finite numbers; the worst come
// first.
func TestFindingsAreWhole(t *testing.T) {
	listed := map[string]engine.Severity{}
	for _, c := range engine.FindingCodes() {
		if listed[c.Code] != engine.Silent || c.Meaning == "" {
			t.Errorf("%s stands twice or means nothing", c.Code)
		}
		listed[c.Code] = c.Highest
	}
	check(t, 3000, func(t *rapid.T) {
		r := anyRecipe.Draw(t, "recipe")
		f := settle(t, r, anyBalances.Draw(t, "balances"))
		if f == nil {
			return
		}
		if !ordered(f.Findings) {
			t.Fatalf("%s\nout of order: %+v", describe(r), f.Findings)
		}
		for _, x := range f.Findings {
			highest, ok := listed[x.Code]
			if !ok || x.Severity == engine.Silent || x.Severity > highest {
				t.Fatalf("%s at %s is not as listed", x.Code, x.Severity)
			}
			if x.Text == "" || x.Evidence.Basis == engine.BasisUnknown {
				t.Fatalf("%s says nothing, or rests on nothing: %+v", x.Code, x)
			}
			for _, m := range x.Remedies {
				if m.Text == "" {
					t.Fatalf("%s has a remedy without words", x.Code)
				}
			}
		}
	})
}
