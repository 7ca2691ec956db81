package lixivium_test

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"lixivium.example/engine"
	"lixivium.example/plugins/acids"
	"lixivium.example/plugins/clays"
	"lixivium.example/plugins/lactate"
	"lixivium.example/plugins/pigments"
	"lixivium.example/plugins/sdk"
	"lixivium.example/plugins/sugars"
)

// evidencePage tells a maker what the numbers rest on. Its prose is written by hand, its tables by this test from the
// data themselves, so that the page cannot flatter them.
const evidencePage = "testdata/EVIDENCE.md"

// evidenceTables are the tables by the name that their marks in the page carry.
var evidenceTables = map[string]func(*testing.T) string{
	"checks":    checksTable,
	"unnoticed": unnoticedTable,
	"fats":      fatsTable,
	"weak fats": weakFats,
	"lye":       lyeTable,
	"additives": additivesTable,
	"trace":     traceTable,
}

// TestEvidencePage compares the tables of the page with the data. With LIXI_UPDATE=1 it rewrites them and fails, so that
// nobody takes an update for a pass.
func TestEvidencePage(t *testing.T) {
	page, err := os.ReadFile(evidencePage)
	if err != nil {
		t.Fatal(err)
	}
	made := page
	for name, table := range evidenceTables {
		begin, end := fmt.Appendf(nil, "<!-- table: %s -->\n", name), []byte("<!-- end -->\n")
		before, rest, ok := bytes.Cut(made, begin)
		_, after, closed := bytes.Cut(rest, end)
		if !ok || !closed {
			t.Fatalf("%s has no place for the table %q", evidencePage, name)
		}
		made = slices.Concat(before, begin, []byte(table(t)), end, after)
	}
	if n := bytes.Count(page, []byte("<!-- table: ")); n != len(evidenceTables) {
		t.Errorf("%s has %d tables, %d are made", evidencePage, n, len(evidenceTables))
	}
	if bytes.Equal(made, page) {
		return
	}
	if os.Getenv("LIXI_UPDATE") == "" {
		t.Fatalf("%s no longer says what the data say; look at what LIXI_UPDATE=1 go test . changes", evidencePage)
	}
	if err := os.WriteFile(evidencePage, made, 0o644); err != nil {
		t.Fatal(err)
	}
	t.Errorf("%s was rewritten: look at the difference, then run again", evidencePage)
}

// rows reads a tab-separated table with a header line, each row by the names of its columns.
func rows(t *testing.T, name string) []map[string]string {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSuffix(string(data), "\n"), "\n")
	columns := strings.Split(lines[0], "\t")
	var out []map[string]string
	for i, line := range lines[1:] {
		cells := strings.Split(line, "\t")
		if len(cells) != len(columns) {
			t.Fatalf("%s: row %d has %d cells, the header %d", name, i+2, len(cells), len(columns))
		}
		row := map[string]string{}
		for k, c := range columns {
			row[c] = cells[k]
		}
		out = append(out, row)
	}
	return out
}

// tally counts the rows of each way of one column; a way it does not know fails the test.
func tally(t *testing.T, table []map[string]string, column string, ways ...string) []int {
	t.Helper()
	out := make([]int, len(ways))
	for _, row := range table {
		k := slices.Index(ways, row[column])
		if k < 0 {
			t.Fatalf("%s: %q is none of %q", column, row[column], ways)
		}
		out[k]++
	}
	return out
}

func cells(first string, counts ...int) string {
	line := "| " + first
	for _, n := range counts {
		line += fmt.Sprintf(" | %d", n)
	}
	return line + " |\n"
}

func checksTable(t *testing.T) string {
	files, err := filepath.Glob("testdata/published/*.tsv")
	if err != nil || len(files) == 0 {
		t.Fatalf("no tables of checks: %v", err)
	}
	out := "| kind of check | checks | read in the source | worked by hand | from memory | common practice |\n|---|---|---|---|---|---|\n"
	var sum [5]int
	for _, name := range files {
		table := rows(t, name)
		counts := append([]int{len(table)}, tally(t, table, "how_read", "seen", "derived", "from memory", "common practice")...)
		for k, n := range counts {
			sum[k] += n
		}
		out += cells(strings.ReplaceAll(strings.TrimSuffix(filepath.Base(name), ".tsv"), "-", " "), counts...)
	}
	return out + cells("all", sum[:]...)
}

// unnoticedTable is what `make mutation` found, as it is committed.
func unnoticedTable(t *testing.T) string {
	listed := map[string]int{}
	for _, row := range rows(t, "testdata/mutation/unnoticed.tsv") {
		listed[row["table"]+": "+row["figure"]]++
	}
	out := "| figure | data | noticed | unnoticed |\n|---|---|---|---|\n"
	all, left := 0, 0
	for _, row := range rows(t, "testdata/mutation/totals.tsv") {
		kind := row["table"] + ": " + row["figure"]
		data, err := strconv.Atoi(row["data"])
		if err != nil || row["unnoticed"] != strconv.Itoa(listed[kind]) {
			t.Fatalf("totals.tsv counts %q unnoticed of %q of %s, unnoticed.tsv lists %d: %v", row["unnoticed"], row["data"], kind, listed[kind], err)
		}
		out += cells(strings.NewReplacer(".tsv", "", "_", " ").Replace(kind), data, data-listed[kind], listed[kind])
		all, left = all+data, left+listed[kind]
		delete(listed, kind)
	}
	if len(listed) > 0 {
		t.Fatalf("totals.tsv does not count %v", listed)
	}
	return out + cells("all", all, all-left, left)
}

func fatsTable(t *testing.T) string {
	out := "| figure | figures | read in its source | worked out | from memory | estimate |\n|---|---|---|---|---|---|\n"
	fats := rows(t, "engine/fat/data/fats.tsv")
	out += cells("saponification value of a fat", append([]int{len(fats)}, tally(t, fats, "status", "seen", "calculated", "from-memory", "estimate")...)...)
	dense := slices.DeleteFunc(slices.Clone(fats), func(f map[string]string) bool { return f["density_basis"] == "" })
	d := tally(t, dense, "density_basis", "seen", "derived", "temperature-assumed", "from-memory", "estimate")
	out += cells("density of a fat", len(dense), d[0], d[1]+d[2], d[3], d[4])
	acids := slices.DeleteFunc(rows(t, "engine/fat/data/fatty_acids.tsv"), func(a map[string]string) bool { return a["status"] == "" })
	a := tally(t, acids, "status", "seen", "from-memory")
	return out + cells("range of a fatty acid in a fat", len(acids), a[0], 0, a[1], 0)
}

// weakFats lists the fats whose saponification value nobody here has read in its source.
func weakFats(t *testing.T) string {
	var memory, estimate []string
	for _, f := range rows(t, "engine/fat/data/fats.tsv") {
		value := fmt.Sprintf("%s %s (%s-%s)", f["id"], f["sv_best"], f["sv_min"], f["sv_max"])
		switch f["status"] {
		case "from-memory":
			memory = append(memory, value)
		case "estimate":
			estimate = append(estimate, value)
		}
	}
	return "From memory: " + strings.Join(memory, ", ") + ".\n\nEstimates: " + strings.Join(estimate, ", ") + ".\n"
}

func lyeTable(t *testing.T) string {
	files, err := filepath.Glob("engine/lye/data/*.tsv")
	if err != nil || len(files) == 0 {
		t.Fatalf("no tables of lye: %v", err)
	}
	out := "| table | figures | read in its source | from a published equation | from memory | estimate |\n|---|---|---|---|---|---|\n"
	for _, name := range files {
		table := rows(t, name)
		counts := tally(t, table, "status", "published and seen", "derived", "published from memory", "estimate")
		out += cells(strings.ReplaceAll(strings.TrimSuffix(filepath.Base(name), ".tsv"), "_", " "), append([]int{len(table)}, counts...)...)
	}
	return out
}

// additivesTable asks every plugin about each of its additives at the middle of its usual dose.
func additivesTable(t *testing.T) string {
	out := "| additive | what its figures rest on |\n|---|---|\n"
	for _, p := range []*sdk.Plugin{lactate.Plugin(), pigments.Plugin(), clays.Plugin(), sugars.Plugin(), acids.Plugin()} {
		for _, a := range p.Owns {
			middle := (a.LowOfFatsPct + a.HighOfFatsPct) / 2
			d := sdk.Dose{ID: "dose", Additive: a.ID, OfFatsPct: middle, OfPortionFatsPct: middle, Stage: a.UsualStage, Parameters: map[string]float64{}}
			for _, own := range a.Parameters {
				d.Parameters[own.Name] = own.Default
			}
			answer := p.Adjust(context.Background(), sdk.Question{Doses: []sdk.Dose{d}})
			if len(answer.Adjustments) != 1 {
				t.Fatalf("%s answers %+v", a.ID, answer)
			}
			got := answer.Adjustments[0]
			out += fmt.Sprintf("| %s | %s: %s |\n", a.ID, strings.ReplaceAll(string(got.Basis), "-", " "), got.Source)
		}
	}
	return out
}

// traceTable lists the factors of a plain batch, as its answer does.
func traceTable(t *testing.T) string {
	f, err := engine.New(nil).Formulate(context.Background(), &engine.Recipe{
		Fats: []engine.FatLine{
			{ID: "olive", Fat: "olive-oil", Mass: engine.InGrams(700)},
			{ID: "coconut", Fat: "coconut-oil", Mass: engine.InGrams(300)},
		},
		Alkali: engine.Alkali{SuperfatPct: engine.Some(5), NaOH: &engine.AlkaliStock{PurityPct: engine.Some(99)}},
		Water:  &engine.Water{Measure: &engine.WaterMeasure{LyeConcentrationPct: engine.Some(33)}},
	}, engine.Options{})
	if err != nil {
		t.Fatal(err)
	}
	out := "| factor of the minutes to trace | what it rests on |\n|---|---|\n"
	for _, factor := range f.Behavior.Trace.Factors {
		basis := [...]string{"not said", "published", "published, from memory", "worked out", "common practice", "estimate", "stated by the maker"}
		out += fmt.Sprintf("| %s | %s: %s |\n", factor.Name, basis[factor.Evidence.Basis], factor.Evidence.Source)
	}
	return out
}
