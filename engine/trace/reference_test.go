package trace_test

import (
	"math"
	"testing"

	"lixivium.example/engine/fat"
	"lixivium.example/engine/trace"
)

// Common practice, no source: thin 3 (1-6), medium 1 (0.5-3) later, thick 30-60 s
// of blender after that. Standing is our own estimate.
func TestReferenceBatchHasTheReferenceTimes(t *testing.T) {
	got := trace.Estimate(trace.Reference())
	want := map[string][2]trace.Band{
		"thin":     {got.Thin, {Low: 1, Typical: 3, High: 6}},
		"medium":   {got.Medium, {Low: 1.5, Typical: 4, High: 9}},
		"thick":    {got.Thick, {Low: 2, Typical: 4.75, High: 10}},
		"standing": {got.StandingThin, {Low: 12, Typical: 30, High: 72}},
	}
	for name, pair := range want {
		if pair[0] != pair[1] {
			t.Errorf("%s: got %v, want exactly %v", name, pair[0], pair[1])
		}
	}
	for _, f := range got.Factors {
		if f.Band != (trace.Band{Low: 1, Typical: 1, High: 1}) {
			t.Errorf("%s is %v in the reference batch, want exactly 1", f.ID, f.Band)
		}
	}
}

// The reference is stated in fats; its fatty acids must stay those of the
// tables.
func TestReferenceFatsAreThoseOfTheTables(t *testing.T) {
	want := groups(t, grams{"olive-oil": 400, "palm-oil": 300, "coconut-oil": 250, "castor-oil": 50})
	b := trace.Reference()
	for g, pct := range b.GroupPct {
		if math.Abs(pct-want[g]) > 0.01 {
			t.Errorf("%v: the reference has %.2f %%, the tables give %.2f %%", fat.Group(g), pct, want[g])
		}
	}
	b.GroupPct = want
	if got := trace.Estimate(b).Thin; math.Abs(got.Typical-3) > 0.002 || math.Abs(got.Low-1) > 0.002 || math.Abs(got.High-6) > 0.004 {
		t.Errorf("thin is %v from the tables, want about 1, 3, 6", got)
	}
}

func TestMixTemperature(t *testing.T) {
	for _, c := range []struct {
		name                                string
		fatsG, fatsC, lyeG, lyeC, lyePct, c float64
	}{
		{"equal stays exactly", 1000, 38, 424, 38, 33, 38},
		// (1000·2.0·25 + 424·3.57·80)/(1000·2.0 + 424·3.57), by hand
		{"hot lye", 1000, 25, 424, 80, 33, 48.694},
		{"between two knots, 3.52", 1000, 40, 400, 20, 36.5, 31.737},
		{"water alone", 0, 99, 100, 20, 0, 20},
		{"no lye", 500, 41, 0, 20, 33, 41},
		{"past the last knot, 3.23", 100, 20, 100, 40, 60, 32.352},
	} {
		got, known := trace.MixTemperature(c.fatsG, c.fatsC, c.lyeG, c.lyeC, c.lyePct)
		if !known || math.Abs(got-c.c) > 0.001 {
			t.Errorf("%s: got %v, %v, want %v", c.name, got, known, c.c)
		}
	}
}

func TestMixTemperatureOfTheImpossibleIsNotKnown(t *testing.T) {
	fine := [5]float64{1000, 38, 424, 38, 33}
	bad := map[int][]float64{0: {-1}, 1: {-300, 5000}, 2: {-1}, 3: {-300, 5000}, 4: {-1, 101}}
	for at, values := range bad {
		for _, v := range append(values, math.NaN(), math.Inf(1), math.Inf(-1)) {
			a := fine
			a[at] = v
			if c, known := trace.MixTemperature(a[0], a[1], a[2], a[3], a[4]); known || c != 0 {
				t.Errorf("%v: got %v, known", a, c)
			}
		}
	}
	if _, known := trace.MixTemperature(0, 38, 0, 38, 33); known {
		t.Error("nothing has a temperature")
	}
}
