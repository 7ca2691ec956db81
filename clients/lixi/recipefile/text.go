package recipefile

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"
)

var byteOrderMark = []byte("\xef\xbb\xbf")

// plainText checks what YAML's own messages explain badly, and gives the text
// with line ends as "\n" and without a byte order mark.
func plainText(data []byte, k kind) ([]byte, *Problem) {
	if len(data) > MaxBytes {
		return nil, &Problem{
			Text: fmt.Sprintf("the file is larger than %d bytes (1 MiB), the most a %s may hold", MaxBytes, k.noun),
			Next: "keep one " + k.holds + " a file; photographs and notes belong elsewhere",
		}
	}
	data = bytes.TrimPrefix(data, byteOrderMark)
	if bytes.HasPrefix(data, []byte("\xff\xfe")) || bytes.HasPrefix(data, []byte("\xfe\xff")) {
		return nil, &Problem{Line: 1, Column: 1, Text: "the file is UTF-16 text", Next: "save it as UTF-8"}
	}
	data = bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n"))
	data = bytes.ReplaceAll(data, []byte("\r"), []byte("\n"))
	for number, line := range strings.Split(string(data), "\n") {
		if p := plainLine(line, k); p != nil {
			p.Line = number + 1
			return nil, p
		}
	}
	return data, nil
}

// plainLine refuses broken UTF-8, control characters and tabs that indent.
func plainLine(line string, k kind) *Problem {
	column := 0
	indenting := true
	for i, r := range line {
		column++
		switch {
		case r == utf8.RuneError && !strings.HasPrefix(line[i:], "\uFFFD"):
			return &Problem{Column: column, Text: "a byte here is not UTF-8 text", Next: "save the file as UTF-8"}
		case r == '\t' && indenting:
			return &Problem{Column: column, Text: "a tab indents this line", Next: "indent with spaces, two a level"}
		case r < ' ' && r != '\t', r >= 0x7f && r < 0xa0:
			return &Problem{Column: column, Text: fmt.Sprintf("the control character U+%04X", r), Next: "take it out; a " + k.noun + " is plain text"}
		case r == '\u2028', r == '\u2029':
			// YAML counts these as line ends, editors do not: lines told would be wrong.
			return &Problem{Column: column, Text: fmt.Sprintf("the line separator U+%04X", r), Next: "put a plain line end in its place"}
		}
		if r != ' ' && r != '\t' {
			indenting = false
		}
	}
	return nil
}
