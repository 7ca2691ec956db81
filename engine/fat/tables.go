package fat

import (
	"embed"
	"slices"
)

//go:embed data/*.tsv
var files embed.FS

// tableNames in the order in which they are read: each refers only to earlier
// ones.
var tableNames = []string{"sources.tsv", "fatty_acid_constants.tsv", "fats.tsv", "fatty_acids.tsv", "names.tsv"}

// Table is one embedded data file, byte for byte.
type Table struct {
	Name  string // "fat/fats.tsv"
	Bytes []byte
}

// Tables returns the data this package answers from, in fixed order, so that a
// digest can be made over it.
func Tables() []Table {
	ts := make([]Table, 0, len(tableNames))
	for _, name := range tableNames {
		ts = append(ts, Table{Name: "fat/" + name, Bytes: slices.Clone(data.raw[name])})
	}
	return ts
}

// SourceInfo is a published (or admitted as unpublished) origin of figures.
type SourceInfo struct {
	Key     string
	Title   string
	HowRead string // in full, as abstract, recalled, ...
}

// Source returns what a source key stands for.
func Source(key string) (SourceInfo, bool) {
	s, ok := data.sources[key]
	return s, ok
}

// Name is a name that people use for a fat, and what it stands for.
type Name struct {
	Name   string
	FatIDs []string
	// Why says, for a name that does not settle which fat is meant, why not.
	// Empty: the name means FatIDs[0] and nothing else.
	Why string
}

// Names returns every name that Resolve knows beside ids and common names, in
// stable order.
func Names() []Name {
	out := make([]Name, 0, len(data.entries))
	for _, e := range data.entries {
		if f := e.fats[0]; e.why == "" && (e.name == f.ID || e.name == f.Name) {
			continue
		}
		n := Name{Name: e.name, Why: e.why}
		for _, f := range e.fats {
			n.FatIDs = append(n.FatIDs, f.ID)
		}
		out = append(out, n)
	}
	return out
}
