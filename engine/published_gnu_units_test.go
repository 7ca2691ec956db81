//go:build gnuunits

package engine_test

import (
	"math"
	"os/exec"
	"strconv"
	"strings"
	"testing"
)

// gnuUnits asks GNU units what a quantity is in a unit.
func gnuUnits(t *testing.T, have, want string) float64 {
	t.Helper()
	out, err := exec.Command("units", "--terse", "--output-format", "%.12g", "--", have, want).CombinedOutput()
	if err != nil {
		t.Fatalf("units %s %s: %v: %s", have, want, err, out)
	}
	v, err := strconv.ParseFloat(strings.TrimSpace(string(out)), 64)
	if err != nil {
		t.Fatalf("units %s %s: %s", have, want, out)
	}
	return v
}

// TestGNUUnits asks GNU units for the figure of every conversion: the row must
// hold what it answers, and the engine must meet it.
func TestGNUUnits(t *testing.T) {
	version, err := exec.Command("units", "--version").Output()
	if err != nil || !strings.HasPrefix(string(version), "GNU Units") {
		t.Fatalf("this needs GNU units: %v %s", err, version)
	}
	first, _, _ := strings.Cut(string(version), "\n")
	asked := 0
	for _, p := range readPublished(t) {
		if p.kind != "units" {
			continue
		}
		asked++
		t.Run(p.id, func(t *testing.T) {
			gnu := gnuUnits(t, p.in["have"], p.in["want"])
			if !asWritten(gnu, p.expected) {
				t.Errorf("%s in %s: %s says %.12g, the row %.12g", p.in["have"], p.in["want"], first, gnu, p.expected)
			}
			if asWritten(gnu, p.expected*1.0001) {
				t.Errorf("%s: a row off by a part in ten thousand is not noticed", p.id)
			}
			p.expected = gnu
			if got := reckonings[p.check](t, p.in); !p.holds(got) {
				t.Errorf("the engine says %.12g, %s %.12g (within %g: %s)", got, first, gnu, p.tolerance, p.whyTolerance)
			}
		})
	}
	if want := publishedKinds["units"]; asked < want {
		t.Errorf("%d conversions, promised are %d", asked, want)
	}
	t.Logf("%d conversions asked of %s", asked, first)
}

// asWritten says whether a row holds the figure, up to the digits that versions
// of the tables of atomic weights differ in.
func asWritten(gnu, row float64) bool { return math.Abs(gnu-row) <= 1e-5*math.Abs(row) }
