package wire

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"lixivium.example/engine"
)

// maxBreaches bounds how much is told about one answer.
const maxBreaches = 5

// judge collects breaches of the contract, seen against the rights granted.
type judge struct {
	granted []engine.Grant
	list    []error
}

func (j *judge) unless(right bool, format string, args ...any) {
	if !right && len(j.list) < maxBreaches {
		j.list = append(j.list, fmt.Errorf(format, args...))
	}
}

func (j *judge) err() error { return errors.Join(j.list...) }

// right says that a figure needs a grant.
func (j *judge) right(what, name string, g engine.Grant) {
	j.unless(slices.Contains(j.granted, g), "%s: %s needs the grant %q", what, name, g)
}

// figure checks a number against its bounds, and its right when it is not 0.
func (j *judge) figure(what, name string, v, low, high float64, g engine.Grant) {
	j.unless(within(v, low, high), "%s: %s is %v, not %v to %v", what, name, v, low, high)
	if g != "" && v != 0 {
		j.right(what, name, g)
	}
}

// text checks words for people: there, not too long, and without control
// characters, which would reach terminals.
func (j *judge) text(what, name, s string) {
	j.unless(s != "", "%s: the %s is missing", what, name)
	j.short(what, name, s, maxTextBytes)
}

func (j *judge) short(what, name, s string, most int) {
	j.unless(len(s) <= most, "%s: the %s has %d bytes, more than %d", what, name, len(s), most)
	j.unless(utf8.ValidString(s) && !hasControl(s), "%s: the %s holds control characters", what, name)
}

func (j *judge) evidence(what, basis, source string) engine.Evidence {
	b, ok := bases.read(basis)
	j.unless(ok, "%s: there is no basis %q", what, shown(basis))
	j.text(what, "source", source)
	return engine.Evidence{Basis: b, Source: source}
}

func (j *judge) stage(what, word string) engine.Stage {
	s, ok := stages.read(word)
	j.unless(ok, "%s: there is no stage %q", what, shown(word))
	return s
}

func hasControl(s string) bool {
	for _, r := range s {
		if unicode.IsControl(r) {
			return true
		}
	}
	return false
}

// shown is a plugin's word made fit for a message: short, and without
// characters that act on a terminal.
func shown(s string) string {
	if len(s) > maxNameBytes {
		s = s[:maxNameBytes] + "..."
	}
	return strings.Map(func(r rune) rune {
		if r == utf8.RuneError || !unicode.IsPrint(r) { // a letter may have been cut in two
			return '?'
		}
		return r
	}, s)
}

// within is false for what is not a number.
func within(v, low, high float64) bool { return v >= low && v <= high }

func finite(values ...float64) bool {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}
