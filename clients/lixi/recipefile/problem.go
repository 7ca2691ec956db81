package recipefile

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"
	"unicode"
)

// Problem is one thing wrong with a file.
type Problem struct {
	// File is the base that the problem stands in; empty: the file itself.
	File string
	// Line and Column count from 1, columns in characters. Line 0: the file.
	Line, Column int
	// Path of the field, such as "recipe.fats[2].mass.g"; empty: none.
	Path string
	// Text says what is wrong.
	Text string
	// Next says what to do.
	Next string
}

// Problems is everything found wrong with one file, in order of the lines.
type Problems struct {
	File string
	List []Problem
	// More is true when the file holds problems beyond MaxProblems.
	More bool
}

// What tells one problem with its place.
func (p *Problems) What(i int) string {
	x := p.List[i]
	var b strings.Builder
	b.WriteString(cmp.Or(x.File, p.File))
	if x.Line > 0 {
		fmt.Fprintf(&b, ":%d:%d", x.Line, x.Column)
	}
	b.WriteString(": ")
	if x.Path != "" {
		b.WriteString(x.Path + ": ")
	}
	b.WriteString(x.Text)
	return printable(b.String())
}

// Error tells every problem, one a line.
func (p *Problems) Error() string {
	lines := make([]string, len(p.List))
	for i := range p.List {
		lines[i] = p.What(i) + "; " + p.List[i].Next
	}
	return strings.Join(lines, "\n")
}

// shown quotes a piece of the file for a message: short, on one line and
// without control characters.
func shown(s string) string {
	const most = 40
	if r := []rune(s); len(r) > most {
		s = string(r[:most]) + "..."
	}
	return strconv.Quote(s)
}

// printable replaces what could act on a terminal: the names in a path are the
// file's, and YAML can write any character into them.
func printable(s string) string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return '?'
		}
		return r
	}, s)
}
