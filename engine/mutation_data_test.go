//go:build mutate

package engine_test

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"lixivium.example/engine/fat"
	"lixivium.example/engine/lye"
)

// tolerances is how far a datum is moved: so many of its own tolerances. A check
// that holds within one tolerance of the datum must then fail.
const tolerances = 3

// unstated is the relative tolerance of a figure whose table states none, and
// unstatedZero that of a figure of 0.
const unstated, unstatedZero = 0.01, 0.01

// datum is a figure of an embedded table, or the cells that stand for one.
type datum struct {
	sheet  *sheet
	line   int
	name   string // of the row: "coconut-oil", "NaOH 30 % 20 °C"
	figure string // "saponification value"
	move   func(c cells, by float64)
}

// moved is the table with the datum moved by so many tolerances; false when it
// cannot move that way, a share below 0 for one.
func (d *datum) moved(by float64) ([]byte, bool) { return d.sheet.with(by, d) }

// sheet is an embedded table.
type sheet struct {
	name    string
	columns map[string]int
	lines   []string // the header is lines[0]
	replace func(table []byte) (restore func(), err error)
}

// cells are one line of a sheet.
type cells struct {
	columns map[string]int
	fields  []string
}

func (c cells) text(col string) string { return c.fields[c.columns[col]] }

func (c cells) number(col string) float64 {
	v, err := strconv.ParseFloat(c.text(col), 64)
	if err != nil {
		panic(err) // the tables were read before
	}
	return v
}

func (c cells) set(col string, v float64) {
	if v == c.number(col) {
		return // the text stays too, so that what cannot move is seen not to
	}
	c.fields[c.columns[col]] = strconv.FormatFloat(v, 'g', -1, 64)
}

func newSheet(name string, table []byte, replace func([]byte) (func(), error)) *sheet {
	s := &sheet{name: name, columns: map[string]int{}, lines: strings.Split(strings.TrimSuffix(string(table), "\n"), "\n"), replace: replace}
	for i, col := range strings.Split(s.lines[0], "\t") {
		s.columns[col] = i
	}
	return s
}

func (s *sheet) cells(line int) cells {
	return cells{s.columns, strings.Split(s.lines[line], "\t")}
}

// with is the table with some of its data moved.
func (s *sheet) with(by float64, data ...*datum) ([]byte, bool) {
	lines := slices.Clone(s.lines)
	for _, d := range data {
		c := cells{s.columns, strings.Split(lines[d.line], "\t")}
		d.move(c, by)
		lines[d.line] = strings.Join(c.fields, "\t")
	}
	if slices.Equal(lines, s.lines) {
		return nil, false
	}
	return append([]byte(strings.Join(lines, "\n")), '\n'), true
}

// allData are the figures of every table of the engine. The columns that say to
// what a figure belongs (which strength, which temperature) are no data.
func allData(t testing.TB) []*datum {
	t.Helper()
	var out []*datum
	for _, table := range fat.Tables() {
		name := strings.TrimPrefix(table.Name, "fat/")
		s := newSheet(name, table.Bytes, func(b []byte) (func(), error) { return fat.Replace(name, b) })
		if of := fatData[name]; of != nil {
			for line := 1; line < len(s.lines); line++ {
				out = append(out, of(s, line)...)
			}
		}
	}
	for _, table := range lye.Tables() {
		s := newSheet(table.Name, table.Bytes, func(b []byte) (func(), error) { return lye.Replace(table.Name, b) })
		figure, ok := lyeFigures[table.Name]
		if !ok {
			t.Fatalf("nobody said what the figure of %s is", table.Name)
		}
		for line := 1; line < len(s.lines); line++ {
			out = append(out, lyeDatum(s, line, figure))
		}
	}
	return out
}

// fatData are the data of a line of each table of the fats; names and sources
// hold no figures.
var fatData = map[string]func(s *sheet, line int) []*datum{
	"fats.tsv": dataOfFat, "fatty_acids.tsv": dataOfShare, "fatty_acid_constants.tsv": dataOfAcid,
}

func dataOfFat(s *sheet, line int) (out []*datum) {
	c := s.cells(line)
	add := func(figure string, move func(c cells, by float64)) {
		out = append(out, &datum{s, line, c.text("id"), figure, move})
	}
	const mostSV = 400 // the table refuses more
	ranged := c.text("sv_min") != ""
	add("saponification value", func(c cells, by float64) {
		if !ranged {
			c.set("sv_best", nudged(c.number("sv_best"), by, 0, mostSV))
			return
		}
		by *= (c.number("sv_max") - c.number("sv_min")) / 2
		for _, col := range []string{"sv_min", "sv_best", "sv_max"} {
			c.set(col, within(c.number(col)+by, 0.001, mostSV))
		}
	})
	if ranged {
		addEnds(add, "saponification value", "sv_min", "sv_best", "sv_max", mostSV)
	}
	if c.text("acid_value_min") != "" {
		add("acid value", together("acid_value_min", "acid_value_max", mostSV))
	}
	if c.text("iv_min") != "" {
		add("lowest iodine value", end("iv_min", "", "iv_max"))
	}
	if c.text("iv_max") != "" {
		add("highest iodine value", end("iv_max", "iv_min", ""))
	}
	if c.text("density_g_per_ml") != "" {
		add("density", func(c cells, by float64) {
			c.set("density_g_per_ml", c.number("density_g_per_ml")+float64(by*c.number("density_half_width")))
		})
		add("temperature of the density", func(c cells, by float64) { c.set("density_c", c.number("density_c")+by) })
		add("half-width of the density", end("density_half_width", "", ""))
	}
	if c.text("unsaponifiable_max_pct") != "" {
		add("unsaponifiable matter", end("unsaponifiable_max_pct", "", ""))
	}
	return out
}

func addEnds(add func(string, func(cells, float64)), figure, low, best, high string, most float64) {
	add("lowest "+figure, end(low, "", best))
	add("highest "+figure, func(c cells, by float64) {
		c.set(high, nudged(c.number(high), by, c.number(best), most))
	})
}

func dataOfShare(s *sheet, line int) []*datum {
	c := s.cells(line)
	return []*datum{{s, line, c.text("fat_id") + " " + c.text("fatty_acid"), "share of a fatty acid", together("min_pct", "max_pct", 100)}}
}

func dataOfAcid(s *sheet, line int) (out []*datum) {
	c := s.cells(line)
	add := func(figure string, move func(c cells, by float64)) {
		out = append(out, &datum{s, line, c.text("fatty_acid"), figure, move})
	}
	whole := func(col string, least float64) func(cells, float64) {
		return func(c cells, by float64) { c.set(col, max(c.number(col)+math.Round(by), least)) }
	}
	add("carbons", whole("carbons", 1))
	add("double bonds", whole("double_bonds", 0))
	add("molar mass", end("molar_mass_g_per_mol", "", ""))
	add("iodine factor, bound", end("iv_factor_triglyceride", "", ""))
	add("iodine factor, free", end("iv_factor_free_acid", "", ""))
	return out
}

// together moves the two ends of a range by its half-width; equal ends, which
// state no tolerance, by the unstated one.
func together(low, high string, most float64) func(cells, float64) {
	return func(c cells, by float64) {
		l, h := c.number(low), c.number(high)
		tolerance := (h - l) / 2
		if tolerance == 0 {
			tolerance = unstatedOf(h)
		}
		c.set(low, within(l+float64(by*tolerance), 0, most))
		c.set(high, within(h+float64(by*tolerance), 0, most))
	}
}

// end moves one figure by the unstated tolerance, no further than a lower and a
// higher neighbor allow.
func end(col, lower, higher string) func(cells, float64) {
	return func(c cells, by float64) {
		least, most := 0.0, math.Inf(1)
		if lower != "" && c.text(lower) != "" {
			least = c.number(lower)
		}
		if higher != "" && c.text(higher) != "" {
			most = c.number(higher)
		}
		c.set(col, nudged(c.number(col), by, least, most))
	}
}

func nudged(v, by, least, most float64) float64 {
	return within(v+float64(by*unstatedOf(v)), least, most)
}

func unstatedOf(v float64) float64 {
	if v == 0 {
		return unstatedZero
	}
	return unstated * math.Abs(v)
}

func within(v, least, most float64) float64 { return min(max(v, least), most) }

// lyeFigure is the column of a table of lye that holds its figures, and how far
// they can be trusted, absolute or relative.
type lyeFigure struct {
	name, column       string
	absolute, relative float64
}

// lyeFigures take their tolerances from the documentation of package lye: half
// of what published sets part by. Boiling points and crystals are good to 1 °C.
var lyeFigures = map[string]lyeFigure{
	"naoh_density_20c.tsv":            {"density", "density_g_per_ml", 0, float64(lye.DensityHalfWidth(lye.NaOH)) / 100},
	"naoh_density_by_temperature.tsv": {"density", "density_g_per_ml", 0, float64(lye.DensityHalfWidth(lye.NaOH)) / 100},
	"koh_density.tsv":                 {"density", "density_g_per_ml", 0, float64(lye.DensityHalfWidth(lye.KOH)) / 100},
	"heat_of_solution.tsv":            {"heat of solution", "heat_kj_per_mol", 0.4, 0},
	"heat_capacity.tsv":               {"heat capacity", "heat_capacity_kj_per_kg_k", 0, unstated},
	"naoh_end_temperature.tsv":        {"end temperature", "end_c", 3, 0},
	"naoh_boiling.tsv":                {"boiling point", "temp_c", 1, 0},
	"naoh_crystallization.tsv":        {"crystallization temperature", "temp_c", 1, 0},
	"koh_saturation.tsv":              {"saturation", "wt_pct", 0, unstated},
}

func lyeDatum(s *sheet, line int, f lyeFigure) *datum {
	c := s.cells(line)
	name := c.text("alkali")
	for _, at := range []struct{ column, unit string }{{"wt_pct", "%"}, {"temp_c", "°C"}, {"start_c", "°C"}} {
		if _, ok := c.columns[at.column]; ok && at.column != f.column {
			name += fmt.Sprintf(" %s %s", c.text(at.column), at.unit)
		}
	}
	return &datum{s, line, name, f.name, func(c cells, by float64) {
		v := c.number(f.column)
		c.set(f.column, v+float64(by*(f.absolute+float64(f.relative*math.Abs(v)))))
	}}
}

// TestDataMoveAsStated proves that a datum moves by three of the tolerances that
// its table states, and that every other line stays as it is.
func TestDataMoveAsStated(t *testing.T) {
	want := map[string]map[string]float64{
		"fats.tsv coconut-oil saponification value +3":               {"sv_min": 273.5, "sv_best": 282, "sv_max": 290.5},
		"fats.tsv coconut-oil saponification value -3":               {"sv_min": 222.5, "sv_best": 231, "sv_max": 239.5},
		"fats.tsv lauric-acid saponification value +3":               {"sv_best": 288.503},
		"fatty_acids.tsv coconut-oil C12:0 share of a fatty acid +3": {"min_pct": 57.25, "max_pct": 65.35},
		"fatty_acids.tsv coconut-oil C18:3 share of a fatty acid -3": {"min_pct": 0, "max_pct": 0},
		"fatty_acid_constants.tsv C18:1 molar mass -3":               {"molar_mass_g_per_mol": 273.99396},
		"naoh_density_20c.tsv NaOH 30 % 20 °C density +3":            {"density_g_per_ml": 1.3356662},
		"naoh_boiling.tsv NaOH 30 % boiling point -3":                {"temp_c": 114},
	}
	for _, d := range allData(t) {
		for _, by := range []float64{tolerances, -tolerances} {
			table, ok := d.moved(by)
			if !ok {
				continue
			}
			lines := strings.Split(strings.TrimSuffix(string(table), "\n"), "\n")
			changed := lines[d.line]
			lines[d.line] = d.sheet.lines[d.line]
			if !slices.Equal(lines, d.sheet.lines) {
				t.Fatalf("%s, %s: another line moved too", d.name, d.figure)
			}
			key := fmt.Sprintf("%s %s %s %+g", d.sheet.name, d.name, d.figure, by)
			for column, v := range want[key] {
				if got := (cells{d.sheet.columns, strings.Split(changed, "\t")}).number(column); math.Abs(got-v) > 1e-9 {
					t.Errorf("%s: %s is %g, want %g", key, column, got, v)
				}
			}
			delete(want, key)
		}
	}
	for key := range want {
		t.Errorf("no datum moved as %s", key)
	}
}
