package fat

import (
	"fmt"
	"strconv"
	"strings"
)

// record is one line of a table. The first fault found sticks, so that a loader
// reads its fields in plain order and asks once.
type record struct {
	table  string
	line   int
	cols   map[string]int
	fields []string
	err    error
}

// readTable cuts a table into records; header must be its first line.
func readTable(name, text string, header ...string) ([]*record, error) {
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	if lines[0] != strings.Join(header, "\t") {
		return nil, fmt.Errorf("%s:1: header is not %q", name, strings.Join(header, " "))
	}
	cols := make(map[string]int, len(header))
	for i, h := range header {
		cols[h] = i
	}
	records := make([]*record, 0, len(lines)-1)
	for i, l := range lines[1:] {
		f := strings.Split(l, "\t")
		if len(f) != len(header) {
			return nil, fmt.Errorf("%s:%d: %d fields, want %d", name, i+2, len(f), len(header))
		}
		records = append(records, &record{table: name, line: i + 2, cols: cols, fields: f})
	}
	return records, nil
}

func (r *record) fail(format string, args ...any) {
	if r.err == nil {
		r.err = fmt.Errorf("%s:%d: %s", r.table, r.line, fmt.Sprintf(format, args...))
	}
}

func (r *record) text(col string) string {
	i, ok := r.cols[col]
	if !ok {
		r.fail("no column %q", col)
		return ""
	}
	return r.fields[i]
}

func (r *record) needed(col string) string {
	s := r.text(col)
	if s == "" {
		r.fail("%s is empty", col)
	}
	return s
}

func (r *record) has(col string) bool { return r.text(col) != "" }

// number reads a column that must hold a figure of at least zero; no column of
// these tables knows a negative one.
func (r *record) number(col string) float64 {
	v, err := strconv.ParseFloat(r.needed(col), 64)
	if err != nil || !(v >= 0 && v < 1e6) {
		r.fail("%s %q is not a figure of at least 0", col, r.text(col))
		return 0
	}
	return v
}

func (r *record) whole(col string) int {
	v, err := strconv.Atoi(r.needed(col))
	if err != nil || v < 0 {
		r.fail("%s %q is not a whole number", col, r.text(col))
	}
	return v
}

func (r *record) yes(col string) bool {
	s := r.text(col)
	if s != "yes" && s != "no" {
		r.fail("%s %q is neither yes nor no", col, s)
	}
	return s == "yes"
}

// oneOf reads a column that must hold one of the given words.
func (r *record) oneOf(col string, words ...string) string {
	s := r.text(col)
	for _, w := range words {
		if s == w {
			return s
		}
	}
	r.fail("%s %q is none of %s", col, s, strings.Join(words, ", "))
	return s
}

// list splits a column at semicolons; an empty column is no entry.
func (r *record) list(col string) []string {
	s := r.text(col)
	if s == "" {
		return nil
	}
	parts := strings.Split(s, ";")
	for i, p := range parts {
		parts[i] = strings.TrimSpace(p)
		if parts[i] == "" {
			r.fail("%s has an empty entry", col)
		}
	}
	return parts
}

func (r *record) status(col string) Status {
	return Status(r.oneOf(col, string(Seen), string(FromMemory), string(Calculated), string(Estimate)))
}
