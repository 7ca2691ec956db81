package recipefile

import (
	"cmp"
	"fmt"
	"strings"
)

// place is where a field stands.
type place struct {
	line, column int
	file         string // empty: the file itself
}

// Places says where the fields of a request stand in the file they came from.
type Places struct {
	file  string
	at    map[string]place
	noted map[string]string
}

// Note sets the words that tell where a field came from when it was not the
// file, such as a flag of the command.
func (p *Places) Note(path, words string) { p.noted[path] = words }

// Of tells where the field at path stands: "kitchen.yaml:7:11". A field that
// is not in the file stands where the nearest field above it does. Nothing
// above it: the name of the file.
func (p *Places) Of(path string) string {
	for at := path; at != ""; at = above(at) {
		if words, ok := p.noted[at]; ok {
			return words
		}
		if x, ok := p.at[at]; ok {
			return fmt.Sprintf("%s:%d:%d", cmp.Or(x.file, p.file), x.line, x.column)
		}
	}
	return p.file
}

// Take adds the places of another file, whose request stands below prefix in
// this one.
func (p *Places) Take(prefix string, other *Places) {
	p.noted[prefix] = other.file
	for at, words := range other.noted {
		p.noted[join(prefix, at)] = words
	}
	for at, x := range other.at {
		x.file = cmp.Or(x.file, other.file)
		p.at[join(prefix, at)] = x
	}
}

// Line gives the line of a field that stands in the file itself.
func (p *Places) Line(path string) (int, bool) {
	x, ok := p.at[path]
	return x.line, ok
}

// Has tells whether a key that was left unread stands in the file.
func (p *Places) Has(key string) bool {
	_, ok := p.at[key]
	return ok
}

// above gives the path without its last step: a field, a list index or the
// key of a map.
func above(path string) string {
	return path[:max(strings.LastIndexByte(path, '.'), strings.LastIndexByte(path, '['), 0)]
}
