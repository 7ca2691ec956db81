package lye

import (
	"embed"
	"slices"
	"strconv"
	"strings"
)

//go:embed data/*.tsv
var data embed.FS

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
		out = append(out, Table{Name: name, Bytes: []byte(text(name)), Source: sources(name)})
	}
	return out
}

func text(name string) string {
	b, err := data.ReadFile("data/" + name)
	if err != nil {
		panic("lye: " + err.Error())
	}
	return string(b)
}

// row is one line: alkali, numbers, source, status.
type row struct {
	kind           Kind
	num            []float64
	source, status string
}

// rows reads an embedded table. A damaged one is a fault of the build, found by
// the first test that imports the package, so it panics.
func rows(name string) []row {
	lines := strings.Split(strings.TrimSuffix(text(name), "\n"), "\n")
	width := len(strings.Split(lines[0], "\t"))
	var out []row
	for i, l := range lines[1:] {
		cells := strings.Split(l, "\t")
		where := "lye: " + name + " line " + strconv.Itoa(i+2) + ": "
		if len(cells) != width || width < 5 {
			panic(where + "wrong number of columns")
		}
		r := row{source: cells[width-2], status: cells[width-1]}
		switch cells[0] {
		case "NaOH":
			r.kind = NaOH
		case "KOH":
			r.kind = KOH
		default:
			panic(where + "unknown alkali")
		}
		for _, cell := range cells[1 : width-2] {
			v, err := strconv.ParseFloat(cell, 64)
			if err != nil {
				panic(where + err.Error())
			}
			r.num = append(r.num, v)
		}
		out = append(out, r)
	}
	return out
}

func sources(name string) string {
	var seen []string
	for _, r := range rows(name) {
		if !slices.Contains(seen, r.source) {
			seen = append(seen, r.source)
		}
	}
	return strings.Join(seen, "; ")
}
