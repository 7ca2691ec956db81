package lye

import (
	"fmt"
	"strconv"
	"strings"
)

// tables is everything read from the data files.
type tables struct {
	raw  map[string][]byte
	rows map[string][]row

	naohDensity, kohDensity           *grid
	naohHeat                          line
	naohEndCold, naohEndRoom          line
	naohBoiling                       line
	naohHeatCapacity, kohHeatCapacity line
	naohCrystallization               line
	kohSaturation                     line

	// kohHeatShare is heat per gram of solid KOH over that of NaOH at infinite
	// dilution: 1027 / 1113 J/g.
	kohHeatShare float64
}

// known is read once at start: a fault in an embedded table is a fault of the
// build and must stop the program, not one lookup of it.
var known = mustLoad()

func mustLoad() *tables {
	raw := make(map[string][]byte, len(order))
	for _, name := range order {
		b, err := files.ReadFile("data/" + name)
		if err != nil {
			panic(err)
		}
		raw[name] = b
	}
	t, err := load(raw)
	if err != nil {
		panic("lye: " + err.Error())
	}
	return t
}

func load(raw map[string][]byte) (*tables, error) {
	t := &tables{raw: raw, rows: map[string][]row{}}
	for _, name := range order {
		var err error
		if t.rows[name], err = readRows(name, string(raw[name])); err != nil {
			return nil, err
		}
	}
	b := builder{rows: t.rows}
	t.naohDensity = b.shifted(b.grid(tableNaOH20), b.grid(tableNaOHByT))
	t.kohDensity = b.grid(tableKOH)
	t.naohHeat = b.points(tableHeat, ofKind(NaOH, 0, 2))
	t.naohEndCold = b.points(tableEnd, atStart(coldStart))
	t.naohEndRoom = b.points(tableEnd, atStart(roomStart))
	t.naohBoiling = b.points(tableBoiling, columns(0, 1))
	t.naohHeatCapacity = b.points(tableHeatCapacity, ofKind(NaOH, 0, 2))
	t.kohHeatCapacity = b.points(tableHeatCapacity, ofKind(KOH, 0, 2))
	t.naohCrystallization = b.points(tableCrystallization, columns(0, 1))
	t.kohSaturation = b.points(tableSaturation, columns(1, 0))
	t.kohHeatShare = (b.infiniteDilution(KOH) / KOH.MolarMass()) / (b.infiniteDilution(NaOH) / NaOH.MolarMass())
	return t, b.err
}

// row is one line: alkali, numbers, source, status.
type row struct {
	kind           Kind
	num            []float64
	source, status string
}

func readRows(name, text string) ([]row, error) {
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	width := len(strings.Split(lines[0], "\t"))
	var out []row
	for i, l := range lines[1:] {
		r, err := readRow(strings.Split(l, "\t"), width)
		if err != nil {
			return nil, fmt.Errorf("%s:%d: %w", name, i+2, err)
		}
		out = append(out, r)
	}
	return out, nil
}

func readRow(cells []string, width int) (row, error) {
	if len(cells) != width || width < 5 {
		return row{}, fmt.Errorf("%d columns, want %d, at least 5", len(cells), width)
	}
	r := row{source: cells[width-2], status: cells[width-1]}
	switch cells[0] {
	case NaOH.String():
		r.kind = NaOH
	case KOH.String():
		r.kind = KOH
	default:
		return row{}, fmt.Errorf("unknown alkali %q", cells[0])
	}
	for _, cell := range cells[1 : width-2] {
		v, err := strconv.ParseFloat(cell, 64)
		if err != nil {
			return row{}, err
		}
		r.num = append(r.num, v)
	}
	return r, nil
}
