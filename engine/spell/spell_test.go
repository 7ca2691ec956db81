package spell_test

import (
	"slices"
	"testing"

	"lixivium.example/engine/spell"
)

// Textbook values of the optimal string alignment distance.
func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"", "", 0}, {"abc", "", 3}, {"kitten", "sitting", 3}, {"ca", "abc", 3}, {"palm", "plam", 1}, {"ab", "ba", 1}, {"lard", "lard", 0}} {
		if got := spell.Distance([]rune(c.a), []rune(c.b), 10); got != c.want {
			t.Errorf("distance(%q, %q) = %d, want %d", c.a, c.b, got, c.want)
		}
		if got := spell.Distance([]rune(c.b), []rune(c.a), 10); got != c.want {
			t.Errorf("distance(%q, %q) = %d, want %d", c.b, c.a, got, c.want)
		}
		if got := spell.Distance([]rune(c.a), []rune(c.b), 1); (got <= 1) != (c.want <= 1) {
			t.Errorf("distance(%q, %q) with limit 1 = %d", c.a, c.b, got)
		}
	}
}

// TestNear: slips first, then parts of a name, nothing for what resembles
// nothing, and no name twice.
func TestNear(t *testing.T) {
	names := []string{"rose-clay", "kaolin", "sodium-lactate", "clay", "", "kaolin"}
	for word, want := range map[string][]string{
		"roes-clay": {"rose-clay", "clay"}, "KAOLIN": {"kaolin"}, "lactate": {"sodium-lactate"}, "xyz": nil, "": nil, "claay": {"clay"},
	} {
		if got := spell.Near(word, names, 3); !slices.Equal(got, want) {
			t.Errorf("%q: %v, want %v", word, got, want)
		}
	}
	if got := spell.Near("clay", names, 1); !slices.Equal(got, []string{"clay"}) {
		t.Errorf("the best is %v", got)
	}
}
