package lye

import (
	"embed"
	"slices"
	"strings"
)

//go:embed data/*.tsv
var files embed.FS

const (
	tableNaOH20          = "naoh_density_20c.tsv"
	tableNaOHByT         = "naoh_density_by_temperature.tsv"
	tableKOH             = "koh_density.tsv"
	tableHeat            = "heat_of_solution.tsv"
	tableHeatCapacity    = "heat_capacity.tsv"
	tableEnd             = "naoh_end_temperature.tsv"
	tableBoiling         = "naoh_boiling.tsv"
	tableCrystallization = "naoh_crystallization.tsv"
	tableSaturation      = "koh_saturation.tsv"
)

// order is the order of Tables and so of a digest; do not sort it anew.
var order = []string{
	tableNaOH20, tableNaOHByT, tableKOH, tableHeat, tableHeatCapacity,
	tableEnd, tableBoiling, tableCrystallization, tableSaturation,
}

// Table is one embedded table: tab-separated UTF-8, one header line, the last
// two columns source and status.
type Table struct {
	Name   string
	Bytes  []byte
	Source string // every source the table names, once, in order of appearance
}

// Tables gives every table of the package, always in the same order. The bytes
// are the caller's own copy.
func Tables() []Table {
	out := make([]Table, 0, len(order))
	for _, name := range order {
		out = append(out, Table{Name: name, Bytes: slices.Clone(known.raw[name]), Source: sources(name)})
	}
	return out
}

func sources(name string) string {
	var seen []string
	for _, r := range known.rows[name] {
		if !slices.Contains(seen, r.source) {
			seen = append(seen, r.source)
		}
	}
	return strings.Join(seen, "; ")
}
