package sheet

import (
	"strings"
	"unicode/utf8"
)

// row is one line with a checkbox: an amount, the same in the other unit, and
// what it is.
type row struct {
	large, small, what string
}

// columns are the widths that make the decimal points of a sheet stand below
// each other.
type columns struct{ whole, rest, small int }

func (c *columns) fit(r row) {
	whole, rest := atPoint(r.large)
	c.whole = max(c.whole, utf8.RuneCountInString(whole))
	c.rest = max(c.rest, utf8.RuneCountInString(rest))
	c.small = max(c.small, utf8.RuneCountInString(r.small)+2)
}

// atPoint parts "138.2 g" into "138" and ".2", leaving the unit out.
func atPoint(s string) (whole, rest string) {
	number, _, _ := strings.Cut(s, " ")
	whole, fraction, ok := strings.Cut(number, ".")
	if !ok {
		return whole, ""
	}
	return whole, "." + fraction
}

// row writes a line. The verb stands before the amount when there is one.
func (p *page) row(c columns, r row) {
	whole, rest := atPoint(r.large)
	_, unit, _ := strings.Cut(r.large, " ")
	head := "  [ ] " + padLeft(whole, c.whole) + padRight(rest, c.rest) + " " + unit + "  " + padLeft("("+r.small+")", c.small) + "  "
	p.wrap(head, strings.Repeat(" ", utf8.RuneCountInString(head)), r.what)
}
