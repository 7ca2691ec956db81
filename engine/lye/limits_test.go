package lye

import (
	"math"
	"testing"

	"lixivium.example/engine/unit"
)

func TestJugLoad(t *testing.T) {
	for _, c := range []struct{ naoh, koh, want float64 }{
		{0, 0, 0}, {50.5, 0, 1}, {0, 51, 1}, {25.25, 25.5, 1}, {101.0 / 4, 0, 0.5},
	} {
		if got := JugLoad(unit.Percent(c.naoh), unit.Percent(c.koh)); math.Abs(got-c.want) > 1e-15 {
			t.Errorf("JugLoad(%g, %g) = %g, want %g", c.naoh, c.koh, got, c.want)
		}
	}
	for _, bad := range []float64{-1, 101, math.NaN(), math.Inf(1), math.Inf(-1)} {
		if !(JugLoad(unit.Percent(bad), 0) > 1) || !(JugLoad(0, unit.Percent(bad)) > 1) {
			t.Errorf("a share of %g must be refused", bad)
		}
	}
}

// Wang 2008, and for 0 and 10 °C a separate solubility table (42 and 51 g per
// 100 g water stay dissolved: 29.6 and 33.8 wt%).
func TestCrystallization(t *testing.T) {
	for _, c := range []struct{ w, want, within float64 }{
		{0, 0, 0}, {18.7, -28, 0}, {39, 15.7, 0}, {45.6, 6.1, 0}, {57, 41.1, 0},
		{29.6, 0, 1.5}, {33.8, 10, 1}, {50, 11.5, 0.3}, {33.3, 8.4, 0.1},
	} {
		got, ok := CrystallizationC(unit.Percent(c.w))
		if !ok || math.Abs(float64(got)-c.want) > c.within+1e-12 {
			t.Errorf("%g %%: %v %v, want %g ± %g", c.w, got, ok, c.want, c.within)
		}
	}
	for _, bad := range []float64{-0.1, 57.1, math.NaN(), math.Inf(1)} {
		if v, ok := CrystallizationC(unit.Percent(bad)); ok {
			t.Errorf("%g %%: %v", bad, v)
		}
	}
}

func TestSaturationKOH(t *testing.T) {
	for _, c := range []struct{ t, want float64 }{{0, 49.2}, {7.5, 50.45}, {15, 51.7}, {20, 51.7}, {25, 51.7}} {
		got, ok := SaturationKOH(unit.Celsius(c.t))
		if !ok || math.Abs(float64(got)-c.want) > 1e-9 {
			t.Errorf("%g °C: %v %v, want %g", c.t, got, ok, c.want)
		}
	}
	for _, bad := range []float64{-0.1, 25.1, math.NaN()} {
		if v, ok := SaturationKOH(unit.Celsius(bad)); ok {
			t.Errorf("%g °C: %v", bad, v)
		}
	}
	if lowest, _ := SaturationKOH(15); RefuseKOHPct >= float64(lowest) {
		t.Errorf("KOH is refused at %v, above saturation %v", RefuseKOHPct, lowest)
	}
}
