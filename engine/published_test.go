package engine_test

import (
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// inputs of a published check, numbers and words by name.
type inputs map[string]string

func (in inputs) number(t testing.TB, name string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(in[name], 64)
	if err != nil {
		t.Fatalf("input %s: %v", name, err)
	}
	return v
}

// or gives a number, or the default when the check does not state it.
func (in inputs) or(t testing.TB, name string, otherwise float64) float64 {
	if _, ok := in[name]; !ok {
		return otherwise
	}
	return in.number(t, name)
}

// reckoning answers a check through the engine. It may be run on data that were
// changed on purpose, so it fails through t alone and never panics.
type reckoning func(t testing.TB, in inputs) float64

// reckonings are all checks by name; no two tables may use one name.
var reckonings = func() map[string]reckoning {
	all := map[string]reckoning{}
	for _, some := range []map[string]reckoning{
		alkaliReckonings, lyeReckonings, recipeReckonings, fatReckonings, solutionReckonings, unitReckonings, spreadReckonings, sizeReckonings,
	} {
		for name, r := range some {
			if all[name] != nil {
				panic("two checks are called " + name)
			}
			all[name] = r
		}
	}
	return all
}()

// published is a row of a table of checks.
type published struct {
	kind, id, check                    string
	in                                 inputs
	expected, tolerance                float64
	unit, whyTolerance, whyIndependent string
	source, how                        string
}

// holds says whether a figure meets the row; NaN never does.
func (p *published) holds(got float64) bool { return math.Abs(got-p.expected) <= p.tolerance }

const (
	publishedFolder = "../testdata/published"
	publishedHeader = "id\tcheck\tinputs\texpected\ttolerance\tunit\twhy_tolerance\twhy_independent\tsource\thow_read"
)

// waysRead are how a figure came to its row: seen in the source or a copy of it,
// written down from memory, a practice without a source, or worked out by hand.
var waysRead = []string{"seen", "from memory", "common practice", "derived"}

// publishedKinds are the kinds of check that this package runs, with the fewest
// rows of each. The examples of cost are run by their own package and counted here.
var publishedKinds = map[string]int{
	"recipes": 88, "fats": 778, "solutions": 87, "stoichiometry": 48, "units": 26, "uncertainty": 32, "mold-and-water": 33, "cost": 38,
}

func publishedRows(t testing.TB, kind string) [][]string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(publishedFolder, kind+".tsv"))
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSuffix(string(data), "\n"), "\n")
	if lines[0] != publishedHeader {
		t.Fatalf("%s: header %q", kind, lines[0])
	}
	var out [][]string
	for i, line := range lines[1:] {
		f := strings.Split(line, "\t")
		if len(f) != strings.Count(publishedHeader, "\t")+1 || slices.Contains(f, "") {
			t.Fatalf("%s, line %d: as many filled fields as the header has are wanted: %q", kind, i+2, line)
		}
		out = append(out, f)
	}
	return out
}

// readPublished reads every row that this package runs, kind by kind.
func readPublished(t testing.TB) []published {
	t.Helper()
	var out []published
	for _, kind := range slices.Sorted(maps.Keys(publishedKinds)) {
		if kind == "cost" {
			continue
		}
		for _, f := range publishedRows(t, kind) {
			p := published{
				kind: kind, id: f[0], check: f[1], in: inputs{},
				unit: f[5], whyTolerance: f[6], whyIndependent: f[7], source: f[8], how: f[9],
			}
			for _, pair := range strings.Fields(f[2]) {
				key, value, ok := strings.Cut(pair, "=")
				if !ok {
					t.Fatalf("%s: %q is no input", p.id, pair)
				}
				p.in[key] = value
			}
			var err error
			for k, to := range map[int]*float64{3: &p.expected, 4: &p.tolerance} {
				if *to, err = strconv.ParseFloat(f[k], 64); err != nil {
					t.Fatalf("%s: %v", p.id, err)
				}
			}
			out = append(out, p)
		}
	}
	return out
}

// TestPublished runs the whole engine against figures that it does not hold
// itself. Each row says why it is no copy of the engine's own data.
func TestPublished(t *testing.T) {
	ids, used := map[string]bool{}, map[string]bool{}
	for _, p := range readPublished(t) {
		t.Run(p.kind+"/"+p.id, func(t *testing.T) {
			reckon, ok := reckonings[p.check]
			if !ok {
				t.Fatalf("no check is called %q", p.check)
			}
			if got := reckon(t, p.in); !p.holds(got) {
				t.Errorf("%s: got %.6g %s, %s gives %g within %g (%s)", p.check, got, p.unit, p.source, p.expected, p.tolerance, p.whyTolerance)
			}
		})
		if ids[p.id] {
			t.Errorf("%s stands twice", p.id)
		}
		ids[p.id], used[p.check] = true, true
	}
	for name := range reckonings {
		if !used[name] {
			t.Errorf("no row uses the check %q", name)
		}
	}
}

// TestPublishedCounts prints how many checks there are of each kind and how they
// were read, and fails when there are fewer than were promised.
func TestPublishedCounts(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(publishedFolder, "*.tsv"))
	if err != nil || len(files) != len(publishedKinds) {
		t.Errorf("%d tables of checks, %d kinds: %v", len(files), len(publishedKinds), err)
	}
	all := 0
	for _, kind := range slices.Sorted(maps.Keys(publishedKinds)) {
		ways, sources := map[string]int{}, map[string]int{}
		rows := publishedRows(t, kind)
		for _, f := range rows {
			ways[f[9]]++
			work, _, _ := strings.Cut(f[8], ": ") // what follows is the place in it
			sources[work]++
			if !slices.Contains(waysRead, f[9]) {
				t.Errorf("%s: how read is %q", f[0], f[9])
			}
		}
		all += len(rows)
		if len(rows) < publishedKinds[kind] {
			t.Errorf("%s: %d checks, promised are %d", kind, len(rows), publishedKinds[kind])
		}
		line := fmt.Sprintf("%-15s %3d checks (at least %d) from %d sources:", kind, len(rows), publishedKinds[kind], len(sources))
		for _, way := range waysRead {
			if ways[way] > 0 {
				line += fmt.Sprintf(" %d %s,", ways[way], way)
			}
		}
		t.Log(strings.TrimSuffix(line, ","))
	}
	t.Logf("%d checks in all", all)
}
