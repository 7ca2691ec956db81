package main

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// table writes a table that reads well on a terminal and in a README.
func (s *settings) table(title string, rows ...[]string) error {
	width := make([]int, len(rows[0]))
	for _, r := range rows {
		for i, cell := range r {
			width[i] = max(width[i], utf8.RuneCountInString(cell))
		}
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n\n", title)
	line := func(cells []string, fill string) {
		for i, cell := range cells {
			b.WriteString("|" + fill + cell + strings.Repeat(fill, width[i]-utf8.RuneCountInString(cell)+1))
		}
		b.WriteString("|\n")
	}
	line(rows[0], " ")
	line(make([]string, len(rows[0])), "-")
	for _, r := range rows[1:] {
		line(r, " ")
	}
	_, err := fmt.Fprintln(s.out, b.String())
	return err
}
