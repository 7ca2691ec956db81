package mold

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestVolumes compares with volumes reckoned by hand.
func TestVolumes(t *testing.T) {
	for name, x := range map[string]struct {
		shape        Shape
		liner        float64
		level        Level
		filled, brim float64
	}{
		"box to the brim":            {Box{200, 80, 70}, 0, Level{}, 1120, 1120},
		"box to a height":            {Box{200, 80, 70}, 0, Level{HeightMM: 50, ByHeight: true}, 800, 1120},
		"box to a percent":           {Box{200, 80, 70}, 0, Level{Pct: 95, ByPct: true}, 1064, 1120},
		"lined box":                  {Box{210, 90, 75}, 5, Level{}, 200 * 80 * 70 / 1000., 1120},
		"lined box to a height":      {Box{210, 90, 75}, 5, Level{HeightMM: 70, ByHeight: true}, 1120, 1120},
		"slab":                       {Box{400, 300, 30}, 0, Level{HeightMM: 25, ByHeight: true}, 3000, 3600},
		"cylinder":                   {Cylinder{80, 200}, 0, Level{}, math.Pi * 1.6e3 * 200 / 1000, 320 * math.Pi},
		"lined cylinder":             {Cylinder{84, 202}, 2, Level{HeightMM: 100, ByHeight: true}, 160 * math.Pi, 320 * math.Pi},
		"cavities":                   {Cavities{6, 110}, 0, Level{}, 660, 660},
		"cavities to a percent":      {Cavities{6, 110}, 0, Level{Pct: 90, ByPct: true}, 594, 660},
		"by the water it holds":      {Held{"water", 1250}, 0, Level{Pct: 80, ByPct: true}, 1000, 1250},
		"walls upright":              {TaperedBox{200, 80, 200, 80, 70}, 0, Level{}, 1120, 1120},
		"frustum of a pyramid":       {TaperedBox{60, 60, 30, 30, 60}, 0, Level{}, 60 * (3600 + 1800 + 900) / 3 / 1000., 126},
		"frustum to half its height": {TaperedBox{60, 60, 30, 30, 60}, 0, Level{HeightMM: 30, ByHeight: true}, 30 * (900 + 1350 + 2025) / 3 / 1000., 126},
		// A wedge-like prismatoid: the two directions lean differently.
		"prismatoid": {TaperedBox{240, 90, 220, 80, 70}, 0, Level{}, 70 * (220*80 + 4*230*85 + 240*90) / 6000., 70 * (220*80 + 4*230*85 + 240*90) / 6000.},
	} {
		t.Run(name, func(t *testing.T) {
			got, wrong := Fill(x.shape, x.liner, x.level)
			if len(wrong) > 0 {
				t.Fatal(wrong[0])
			}
			if math.Abs(got.FilledML-x.filled) > 1e-9*x.filled || math.Abs(got.BrimML-x.brim) > 1e-9*x.brim {
				t.Errorf("got %+v, want %g of %g mL", got, x.filled, x.brim)
			}
		})
	}
}

// TestProblems holds what is refused, with the field and words of the way out.
func TestProblems(t *testing.T) {
	for name, x := range map[string]struct {
		shape Shape
		liner float64
		level Level
		field string
		kind  Kind
		words string
	}{
		"no length":               {Box{0, 80, 70}, 0, Level{}, "box.length_mm", OutOfRange, "0 mm is outside 5 mm to 5000 mm"},
		"negative":                {Box{200, -80, 70}, 0, Level{}, "box.width_mm", OutOfRange, "-80 mm"},
		"not a number":            {Box{200, 80, math.NaN()}, 0, Level{}, "box.height_mm", OutOfRange, "not a finite number"},
		"infinite":                {Cylinder{math.Inf(1), 70}, 0, Level{}, "cylinder.diameter_mm", OutOfRange, "not a finite number"},
		"in meters":               {TaperedBox{0.2, 80, 200, 80, 70}, 0, Level{}, "tapered_box.top_length_mm", OutOfRange, "in millimeters"},
		"no cavities":             {Cavities{0, 100}, 0, Level{}, "cavities.count", OutOfRange, "1 to 1000"},
		"empty cavities":          {Cavities{6, 0}, 0, Level{}, "cavities.ml_each", OutOfRange, "1 mL"},
		"holds nothing":           {Held{"water", 0}, 0, Level{}, "water", OutOfRange, "1 mL"},
		"liner thicker than mold": {Box{30, 30, 30}, 15, Level{}, "liner_mm", LinerTooThick, "leaves no room"},
		"liner of a hand":         {Box{200, 80, 70}, 60, Level{}, "liner_mm", OutOfRange, "0 mm to 20 mm"},
		"negative liner":          {Box{200, 80, 70}, -1, Level{}, "liner_mm", OutOfRange, "-1 mm"},
		"liner in cavities":       {Cavities{6, 100}, 1, Level{}, "liner_mm", NoLiner, "lined mold"},
		"above the brim":          {Box{200, 80, 70}, 0, Level{HeightMM: 71, ByHeight: true}, "fill_height_mm", AboveBrim, "up to the brim, 70 mm"},
		"above the lined brim":    {Box{200, 80, 70}, 3, Level{HeightMM: 69, ByHeight: true}, "fill_height_mm", AboveBrim, "67 mm"},
		"height of zero":          {Box{200, 80, 70}, 0, Level{ByHeight: true}, "fill_height_mm", AboveBrim, "above 0"},
		"height not a number":     {Box{200, 80, 70}, 0, Level{HeightMM: math.NaN(), ByHeight: true}, "fill_height_mm", AboveBrim, "above 0"},
		"height of cavities":      {Cavities{6, 100}, 0, Level{HeightMM: 20, ByHeight: true}, "fill_height_mm", NoHeight, "fill_pct"},
		"more than full":          {Box{200, 80, 70}, 0, Level{Pct: 101, ByPct: true}, "fill_pct", OutOfRange, "100 %"},
		"two levels":              {Box{200, 80, 70}, 0, Level{Pct: 90, ByPct: true, HeightMM: 60, ByHeight: true}, "fill_height_mm", TwoLevels, "Keep one"},
	} {
		t.Run(name, func(t *testing.T) {
			_, wrong := Fill(x.shape, x.liner, x.level)
			if len(wrong) != 1 || wrong[0].Field != x.field || wrong[0].Kind != x.kind || !strings.Contains(wrong[0].Error(), x.words) {
				t.Errorf("got %v, want %s: %s", wrong, x.field, x.words)
			}
		})
	}
}

func TestAllProblemsAtOnce(t *testing.T) {
	_, wrong := Fill(Box{0, 1e9, 70}, 99, Level{Pct: -3, ByPct: true})
	if len(wrong) != 4 {
		t.Errorf("got %v", wrong)
	}
}

// TestPrismatoidIsTheSumOfItsSlices compares with thin slices, and filling
// higher never holds less.
func TestPrismatoidIsTheSumOfItsSlices(t *testing.T) {
	length := rapid.Float64Range(leastMM, 500)
	rapid.Check(t, func(t *rapid.T) {
		b := TaperedBox{length.Draw(t, "tl"), length.Draw(t, "tw"), length.Draw(t, "bl"), length.Draw(t, "bw"), length.Draw(t, "h")}
		part := rapid.Float64Range(0.01, 1).Draw(t, "part")
		h := b.HeightMM * part
		const slices = 2000
		sum := 0.0
		for i := range slices {
			at := part * (float64(i) + 0.5) / slices
			sum += (b.BottomLengthMM + (b.TopLengthMM-b.BottomLengthMM)*at) * (b.BottomWidthMM + (b.TopWidthMM-b.BottomWidthMM)*at) * h / slices / 1000
		}
		got, wrong := Fill(b, 0, Level{HeightMM: h, ByHeight: true})
		if len(wrong) > 0 || math.Abs(got.FilledML-sum) > 1e-5*sum || got.FilledML > got.BrimML*(1+1e-12) {
			t.Fatalf("%v holds %+v at %g mm, its slices %g: %v", b, got, h, sum, wrong)
		}
	})
}
