package engine_test

import (
	"testing"

	"lixivium.example/engine"
	"lixivium.example/engine/lye"
	"lixivium.example/engine/mold"
	quantities "lixivium.example/engine/unit"
)

// sizeReckonings are the checks of batches brought to a size and of what a
// measure of lye holds. Molds alone are with the units.
var sizeReckonings = map[string]reckoning{
	// Ounces of fats that fill a box in millimeters.
	"oz_of_fats_for_box": func(t testing.TB, in inputs) float64 {
		b := &mold.Box{LengthMM: in.number(t, "length"), WidthMM: in.number(t, "width"), HeightMM: in.number(t, "height")}
		s := scale(t, needing(t, in), &engine.Fit{Molds: &engine.Molds{Molds: []engine.Mold{{Count: 1, Box: b, Material: engine.Wood}}}})
		return float64(s.Formulation.Totals.FatsG) / 28.349523125
	},
	"batter_for_bars": func(t testing.TB, in inputs) float64 {
		s := scale(t, needing(t, in), &engine.Fit{Bars: &engine.Bars{
			Count: int(in.number(t, "count")), Mass: engine.InGrams(in.number(t, "cured_g")), Cured: true, CureLossPct: engine.Some(in.number(t, "loss_pct")),
		}})
		return float64(s.WantedBatterG)
	},
	// Grams of pure NaOH in a liter of a lye of so many degrees Twaddell.
	"grams_per_liter": func(t testing.TB, in inputs) float64 {
		c := in.number(t, "t")
		wt := strengthBy(t, inputs{"twaddell": in["twaddell"], "t": in["t"]})
		rho, err := lye.Density(lye.NaOH, quantities.Percent(wt), quantities.Celsius(c))
		if err != nil {
			t.Fatal(err)
		}
		return 10 * wt * float64(rho)
	},
}
