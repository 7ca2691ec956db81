package sheet

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// page collects the lines of a sheet.
type page struct{ b strings.Builder }

func (p *page) String() string { return p.b.String() }

// blank leaves one line free, never two.
func (p *page) blank() {
	if s := p.b.String(); s != "" && !strings.HasSuffix(s, "\n\n") {
		p.b.WriteByte('\n')
	}
}

// heading begins a part of the sheet.
func (p *page) heading(s string) {
	p.blank()
	p.wrap("", "", s)
}

// title names the sheet.
func (p *page) title(s string) {
	s = Plain(s)
	p.wrap("", "", s)
	p.b.WriteString(strings.Repeat("=", min(width, utf8.RuneCountInString(s))) + "\n")
}

// wrap writes text with its first line behind first and all others behind
// rest, broken at spaces; words longer than a line are cut.
func (p *page) wrap(first, rest, text string) {
	line, room := first, width-utf8.RuneCountInString(first)
	empty := true
	flush := func() {
		p.b.WriteString(strings.TrimRight(line, " ") + "\n")
		line, room, empty = rest, width-utf8.RuneCountInString(rest), true
	}
	for _, word := range strings.Fields(Plain(text)) {
		need := utf8.RuneCountInString(word)
		if !empty && need+1 > room {
			flush()
		}
		for need > room && room > 0 {
			head := string([]rune(word)[:room])
			word = word[len(head):]
			need -= room
			line += head
			flush()
		}
		if !empty {
			line += " "
			room--
		}
		line += word
		room -= need
		empty = false
	}
	flush()
}

func (p *page) wrapf(first, rest, format string, a ...any) {
	p.wrap(first, rest, fmt.Sprintf(format, a...))
}

// Plain takes out of a text what could act on a terminal or break a line.
func Plain(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case !unicode.IsPrint(r):
			return '?'
		}
		return r
	}, s)
}

// padLeft fills a text with spaces before it up to n characters.
func padLeft(s string, n int) string {
	return strings.Repeat(" ", max(0, n-utf8.RuneCountInString(s))) + s
}

// padRight fills a text with spaces behind it up to n characters.
func padRight(s string, n int) string {
	return s + strings.Repeat(" ", max(0, n-utf8.RuneCountInString(s)))
}
