package engine

import (
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// num writes a number for people: shortest form, no exponent in the usual range.
func num(v float64) string {
	a := math.Abs(v)
	if a != 0 && (a < 1e-4 || a >= 1e9) {
		return strconv.FormatFloat(v, 'g', 4, 64)
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// rounded writes a number for people with so many decimals, trailing zeros
// dropped.
func rounded(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if decimals > 0 {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// sentence ends a text with one full stop.
func sentence(s string) string {
	if s != "" && s[len(s)-1] != '.' {
		s += "."
	}
	return s
}

// upperFirst begins a sentence.
func upperFirst(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

// lowerFirst continues a sentence with a name. Abbreviations keep their form.
func lowerFirst(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	next, _ := utf8.DecodeRuneInString(s[n:])
	if n == 0 || unicode.IsUpper(next) || unicode.IsDigit(next) {
		return s
	}
	return string(unicode.ToLower(r)) + s[n:]
}

// counted writes a whole number of things.
func counted(n float64, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return rounded(n, 0) + " " + thing + "s"
}
