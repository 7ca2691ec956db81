package lye

import (
	"math"
	"testing"

	"lixivium.example/engine/unit"
)

func TestHeatOfSolution(t *testing.T) {
	for _, c := range []struct{ w, want, within float64 }{
		{100.0 / 3, -37.8, 0.06},
		{0, -44.51, 0}, // Parker, NSRDS-NBS 2 (1965), infinite dilution
		// A second set: NBS Circular 500 moved by 1.64 kJ/mol onto Parker.
		{42.53, -30.53, 0.2}, {35.69, -36.07, 0.2}, {30.75, -39.40, 0.2},
		{18.17, -44.14, 0.4}, {9.99, -44.51, 0.4}, {4.25, -44.17, 0.4},
	} {
		got, ok := HeatOfSolution(unit.Percent(c.w))
		if !ok || math.Abs(got-c.want) > c.within {
			t.Errorf("%g %%: %.3f %v, want %g ± %g", c.w, got, ok, c.want, c.within)
		}
	}
	for _, bad := range []float64{-1, 52.1, math.NaN()} {
		if v, ok := HeatOfSolution(unit.Percent(bad)); ok {
			t.Errorf("%g %%: %v", bad, v)
		}
	}
}

func TestBoiling(t *testing.T) {
	for w, want := range map[unit.Percent]unit.Celsius{0: 100, 25: 112, 40: 130.1, 50: 146.4} {
		if got, ok := BoilingC(w); !ok || got != want {
			t.Errorf("%v %%: %v %v, want %v", w, got, ok, want)
		}
	}
	if v, ok := BoilingC(52.5); ok {
		t.Errorf("52.5 %%: %v", v)
	}
}

func TestEndOfNaOH(t *testing.T) {
	for _, c := range []struct{ w, start, want float64 }{
		{100.0 / 3, 20, 108}, {100.0 / 3, 5, 95}, {25, 20, 92}, {50, 20, 113}, {20, 5, 64}, // Olsson 1997 with Parker 1965
		{0, 13, 13},
	} {
		got, ok := SolutionEndC(NaOH, unit.Percent(c.w), unit.Celsius(c.start))
		if !ok || math.Abs(float64(got)-c.want) > 0.6 {
			t.Errorf("%.4g %% from %g °C: %.2f %v, want %g", c.w, c.start, float64(got), ok, c.want)
		}
	}
}

// Below 5 wt% nothing is tabled; there the rise must follow from the heat at
// infinite dilution and the heat capacity of thin lye, 4.1 kJ/(kg K).
func TestEndOfThinLye(t *testing.T) {
	got, ok := SolutionEndC(NaOH, 2, 20)
	if rise := 44.51 / 39.997 * 20 / 4.1; !ok || math.Abs(float64(got)-20-rise) > 0.3 {
		t.Errorf("%v %v, want 20 + %.2f", got, ok, rise)
	}
}

func TestEndNeverPassesBoilingAndRisesWithStart(t *testing.T) {
	for w := 0.0; w <= 52; w += 0.5 {
		for share := 0.0; share <= 1; share += 0.25 {
			naoh, koh := unit.Percent(w*(1-share)), unit.Percent(w*share)
			boiling, _ := BoilingC(naoh + koh)
			last := unit.Celsius(math.Inf(-1))
			for start := unit.Celsius(0); start <= 40; start += 2 {
				end, ok := EndC(naoh, koh, start)
				if !ok || end > boiling || end < start || end < last {
					t.Fatalf("%v + %v %% from %v °C: %v %v, boiling %v, before %v", naoh, koh, start, end, ok, boiling, last)
				}
				last = end
			}
		}
	}
	// Potash in warm water boils; that it does is visible.
	end, _ := SolutionEndC(KOH, 40, 40)
	if boiling, _ := BoilingC(40); end != boiling {
		t.Errorf("%v, boiling %v", end, boiling)
	}
}

func TestMixedEndLiesBetween(t *testing.T) {
	naoh, _ := EndC(25, 0, 20)
	koh, _ := EndC(0, 25, 20)
	mixed, ok := EndC(10, 15, 20)
	if want := 0.4*naoh + 0.6*koh; !ok || math.Abs(float64(mixed-want)) > 1e-9 || naoh == koh {
		t.Errorf("%v, want %v between %v and %v", mixed, want, naoh, koh)
	}
	// Less heat per gram, but a solution that warms more easily: within 15 °C.
	if math.Abs(float64(naoh-koh)) > 15 {
		t.Errorf("NaOH %v, KOH %v", naoh, koh)
	}
}

func TestEndRefuses(t *testing.T) {
	nan := math.NaN()
	for _, c := range [][3]float64{
		{-1, 0, 20}, {0, -1, 20}, {nan, 0, 20}, {0, nan, 20}, {30, 0, nan},
		{30, 30, 20}, {52.1, 0, 20}, {30, 0, -0.1}, {30, 0, 40.1}, {math.Inf(1), 0, 20},
	} {
		if v, ok := EndC(unit.Percent(c[0]), unit.Percent(c[1]), unit.Celsius(c[2])); ok {
			t.Errorf("%v: %v", c, v)
		}
	}
	if v, ok := SolutionEndC(0, 30, 20); ok {
		t.Errorf("no kind: %v", v)
	}
}
