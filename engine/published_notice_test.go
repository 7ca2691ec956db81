package engine_test

import (
	"maps"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// misses says whether a row fails: by its figure, or because the engine refuses.
func (p *published) misses(t testing.TB, in inputs) bool {
	got, ok := answered(t, p, in)
	return !ok || !p.holds(got)
}

// statedNumbers are the numbers in an input, also within a list such as "above:rect:0.1,above:std:2".
var statedNumbers = regexp.MustCompile(`(^|[:,])[0-9][0-9.e-]*`)

// changed is an input with each of its numbers larger by a quarter, zero made one
// and a quarter, one alkali turned into the other, or an acid into others, of which
// one or the other is far from it in every fat.
func changed(name, value string) []string {
	switch {
	case value == "naoh":
		return []string{"koh"}
	case value == "koh":
		return []string{"naoh"}
	case name == "acid":
		return []string{"C12:0", "C16:0", "C18:1", "C22:1"}
	}
	return []string{statedNumbers.ReplaceAllStringFunc(value, func(n string) string {
		digits := strings.TrimLeft(n, ":,")
		v, err := strconv.ParseFloat(digits, 64)
		switch {
		case err != nil:
			return n
		case v == 0:
			v = 1
		}
		return strings.TrimSuffix(n, digits) + strconv.FormatFloat(1.25*v, 'g', -1, 64)
	})}
}

// TestPublishedRowsCanFail changes the inputs of each row, one at a time. At least
// one of the changes must make the row fail: a row that none does is too wide, or
// does not ask the engine.
func TestPublishedRowsCanFail(t *testing.T) {
	for _, p := range readPublished(t) {
		switch p.check {
		case "koh_over_naoh": // of the alkalis alone: it must not depend on the fat
			continue
		case "verdict_of_recipe": // holds over a wide range; TestPublishedRecipesCanFail turns it over
			continue
		}
		noticed, tried := false, false
		for name, value := range p.in {
			for _, other := range changed(name, value) {
				if other == value || name == "have" {
					continue
				}
				in := maps.Clone(p.in)
				in[name] = other
				tried = true
				noticed = noticed || p.misses(t, in)
			}
		}
		if tried && !noticed {
			t.Errorf("%s/%s (%s): no change of its inputs matters", p.kind, p.id, p.check)
		}
	}
}
