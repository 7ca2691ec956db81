package engine_test

import (
	"maps"
	"regexp"
	"runtime"
	"strconv"
	"strings"
	"testing"
)

// quiet is a test that keeps its failure to itself.
type quiet struct {
	testing.TB
	failed bool
}

func (q *quiet) Helper()               {}
func (q *quiet) Error(...any)          { q.failed = true }
func (q *quiet) Errorf(string, ...any) { q.failed = true }
func (q *quiet) Fatal(...any)          { q.failed = true; runtime.Goexit() }
func (q *quiet) Fatalf(string, ...any) { q.failed = true; runtime.Goexit() }

// misses says whether a row fails: by its figure, or because the engine refuses.
func (p *published) misses(t testing.TB, in inputs) bool {
	q, got, done := &quiet{TB: t}, 0.0, make(chan struct{})
	go func() {
		defer close(done)
		got = reckonings[p.check](q, in)
	}()
	<-done
	return q.failed || !p.holds(got)
}

// numbers in an input, also within a list such as "above:rect:0.1,above:std:2".
var numbers = regexp.MustCompile(`(^|[:,])[0-9][0-9.e-]*`)

// changed is an input with each of its numbers larger by a quarter, zero made one
// and a quarter, and one alkali turned into the other.
func changed(value string) string {
	switch value {
	case "naoh":
		return "koh"
	case "koh":
		return "naoh"
	}
	return numbers.ReplaceAllStringFunc(value, func(n string) string {
		digits := strings.TrimLeft(n, ":,")
		v, err := strconv.ParseFloat(digits, 64)
		switch {
		case err != nil:
			return n
		case v == 0:
			v = 1
		}
		return strings.TrimSuffix(n, digits) + strconv.FormatFloat(1.25*v, 'g', -1, 64)
	})
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
			in := maps.Clone(p.in)
			if in[name] = changed(value); in[name] == value || name == "have" {
				continue
			}
			tried = true
			noticed = noticed || p.misses(t, in)
		}
		if tried && !noticed {
			t.Errorf("%s/%s (%s): no change of its inputs matters", p.kind, p.id, p.check)
		}
	}
}
