package engine_test

import (
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// inputs of a published check, numbers and words by name.
type inputs map[string]string

func (in inputs) number(t *testing.T, name string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(in[name], 64)
	if err != nil {
		t.Fatalf("input %s: %v", name, err)
	}
	return v
}

// or gives a number, or the default when the check does not state it.
func (in inputs) or(t *testing.T, name string, otherwise float64) float64 {
	if _, ok := in[name]; !ok {
		return otherwise
	}
	return in.number(t, name)
}

// published is a row of the table of checks.
type published struct {
	id, check                         string
	in                                inputs
	expected, tolerance               float64
	unit, whyIndependent, source, how string
}

const publishedHeader = "id\tcheck\tinputs\texpected\ttolerance\tunit\twhy_independent\tsource\thow_read"

func readPublished(t *testing.T, name string) []published {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSuffix(string(data), "\n"), "\n")
	if lines[0] != publishedHeader {
		t.Fatalf("header %q", lines[0])
	}
	var out []published
	for i, line := range lines[1:] {
		f := strings.Split(line, "\t")
		if len(f) != 9 || slices.Contains(f, "") {
			t.Fatalf("line %d: nine filled fields are wanted: %q", i+2, line)
		}
		p := published{id: f[0], check: f[1], in: inputs{}, unit: f[5], whyIndependent: f[6], source: f[7], how: f[8]}
		for _, pair := range strings.Fields(f[2]) {
			key, value, ok := strings.Cut(pair, "=")
			if !ok {
				t.Fatalf("line %d: %q is no input", i+2, pair)
			}
			p.in[key] = value
		}
		for k, to := range map[int]*float64{3: &p.expected, 4: &p.tolerance} {
			if *to, err = strconv.ParseFloat(f[k], 64); err != nil {
				t.Fatalf("line %d: %v", i+2, err)
			}
		}
		out = append(out, p)
	}
	return out
}

// TestPublished runs the whole engine against figures that it does not hold
// itself. Each row says why it is no copy of the engine's own data.
func TestPublished(t *testing.T) {
	rows := readPublished(t, "../testdata/published/lye.tsv")
	if len(rows) < 40 {
		t.Errorf("only %d rows", len(rows))
	}
	ids, used := map[string]bool{}, map[string]bool{}
	for _, p := range rows {
		t.Run(p.id, func(t *testing.T) {
			reckon, ok := reckonings[p.check]
			if !ok {
				t.Fatalf("no check is called %q", p.check)
			}
			if got := reckon(t, p.in); !(math.Abs(got-p.expected) <= p.tolerance) {
				t.Errorf("%s: got %.6g %s, %s gives %g within %g", p.check, got, p.unit, p.source, p.expected, p.tolerance)
			}
		})
		if ids[p.id] {
			t.Errorf("%s stands twice", p.id)
		}
		if !slices.Contains([]string{"seen", "from memory", "common practice", "derived"}, p.how) {
			t.Errorf("%s: how read is %q", p.id, p.how)
		}
		ids[p.id], used[p.check] = true, true
	}
	for name := range reckonings {
		if !used[name] {
			t.Errorf("no row uses the check %q", name)
		}
	}
}
