package engine_test

import (
	"testing"

	"lixivium.example/engine"
	"lixivium.example/engine/lye"
	quantities "lixivium.example/engine/unit"
)

// solutionReckonings are the checks of what is known of a lye: density, heat,
// boiling point, and what a weight of fat takes of it.
var solutionReckonings = map[string]reckoning{
	"density": func(t testing.TB, in inputs) float64 {
		return densityOf(t, in, quantities.Percent(in.number(t, "wt")))
	},
	// By mol in a kilogram of water, which is how physical chemists weigh.
	"density_by_molality": func(t testing.TB, in inputs) float64 {
		g := in.number(t, "molality") * kindOf(in).MolarMass()
		return densityOf(t, in, quantities.PercentOf(g, 1000+g))
	},
	"heat_of_solution": func(t testing.TB, in inputs) float64 {
		kJ, ok := lye.HeatOfSolution(moleRatio(t, in))
		if !ok {
			t.Fatal("outside the table")
		}
		return kJ
	},
	"crystal_line": func(t testing.TB, in inputs) float64 {
		c, ok := lye.CrystallizationC(quantities.Percent(in.number(t, "wt")))
		if !ok {
			t.Fatal("outside the table")
		}
		return float64(c)
	},
	"boiling": func(t testing.TB, in inputs) float64 {
		c, ok := lye.BoilingC(quantities.Percent(in.number(t, "wt")))
		if !ok {
			t.Fatal("outside the table")
		}
		return float64(c)
	},
	"liters_of_lye": litersOfLye,
}

func kindOf(in inputs) lye.Kind {
	if in["alkali"] == "koh" {
		return lye.KOH
	}
	return lye.NaOH
}

func densityOf(t testing.TB, in inputs, wt quantities.Percent) float64 {
	t.Helper()
	rho, err := lye.Density(kindOf(in), wt, quantities.Celsius(in.number(t, "t")))
	if err != nil {
		t.Fatal(err)
	}
	return float64(rho)
}

// moleRatio is the strength of a lye with so many mol of water to one of NaOH.
func moleRatio(t testing.TB, in inputs) quantities.Percent {
	t.Helper()
	return quantities.PercentOf(quantities.MolarMassNaOH, quantities.MolarMassNaOH+in.number(t, "water_mol")*quantities.MolarMassWater)
}

// litersOfLye is what a ton of fat takes of a lye known by its specific gravity:
// the engine finds the strength, the alkali and the mass to pour.
func litersOfLye(t testing.TB, in inputs) float64 {
	r := bar()
	sv := 3 * 56105.6 / in.number(t, "molar_mass")
	r.Fats = []engine.FatLine{{ID: "fat", Custom: customFat("Fat", sv, 3), Mass: engine.InGrams(1e6)}}
	rho := in.number(t, "gravity") * float64(lye.WaterAtHydrometerReference)
	stock := &engine.AlkaliStock{Solution: &engine.SolutionStrength{DensityGPerML: engine.Some(rho), TemperatureC: engine.Some(15)}}
	r.Alkali, r.Water = engine.Alkali{SuperfatPct: engine.Some(0), NaOH: stock}, concentration(10) // the rest is plain water
	if in["alkali"] == "koh" {
		r.Alkali = engine.Alkali{SuperfatPct: engine.Some(0), KOH: stock, KOHOfMolesPct: engine.Some(100)}
	}
	a := formulate(t, r).Alkali
	return float64(a.NaOHStockG+a.KOHStockG) / rho / 1000
}
