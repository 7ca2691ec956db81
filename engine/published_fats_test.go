package engine_test

import (
	"strings"
	"testing"

	"lixivium.example/engine"
	"lixivium.example/engine/fat"
)

// fatReckonings are the checks of what the engine holds of fats and fatty acids.
var fatReckonings = map[string]reckoning{
	"calculated_sv_of_table_fat": func(t testing.TB, in inputs) float64 {
		return float64(formulate(t, ofTableFat(in)).Profile.CalculatedSV)
	},
	"calculated_iv_of_table_fat": func(t testing.TB, in inputs) float64 {
		return formulate(t, ofTableFat(in)).Profile.CalculatedIV
	},
	// The milligrams of pure KOH that a gram of the fat takes, nothing left over.
	"sv_of_table_fat": func(t testing.TB, in inputs) float64 {
		r := ofTableFat(in)
		r.Alkali = engine.Alkali{SuperfatPct: engine.Some(0), KOHOfMolesPct: engine.Some(100), KOH: purity(100)}
		return float64(formulate(t, r).Alkali.KOHG)
	},
	// What a milliliter of the fat weighs, at the temperature of the table.
	"density_of_table_fat": func(t testing.TB, in inputs) float64 {
		r := ofTableFat(in)
		r.Fats[0].Mass = engine.Quantity{Value: 1000, Unit: engine.Milliliter}
		return grams(formulate(t, r), "x") / 1000
	},
	"acid_of_table_fat": func(t testing.TB, in inputs) float64 {
		for _, a := range formulate(t, ofTableFat(in)).Profile.Acids {
			if a.Acid == in["acid"] {
				return float64(a.SharePct)
			}
		}
		return 0
	},

	// The acid of a list whose iodine value is highest.
	"highest_iv_of_acids": func(t testing.TB, in inputs) float64 {
		highest := 0.0
		for _, acid := range strings.Split(in["acids"], ",") {
			one := inputs{"acid": acid, "free": in["free"]}
			highest = max(highest, formulate(t, ofAcid(t, one)).Profile.CalculatedIV)
		}
		return highest
	},
	// The molar mass that the carbons and double bonds of the catalog make.
	"molar_mass_of_formula": func(t testing.TB, in inputs) float64 {
		i, ok := fat.AcidIndex(in["acid"])
		if !ok {
			t.Fatalf("no acid %q", in["acid"])
		}
		a := fat.Acids()[i]
		oxygens := 2.0
		if a.Hydroxy {
			oxygens = 3
		}
		return 12.011*float64(a.Carbons) + 1.008*float64(2*a.Carbons-2*a.DoubleBonds) + 15.999*oxygens
	},
}

// ofTableFat is 1 kg of one fat of the table.
func ofTableFat(in inputs) *engine.Recipe {
	r := bar()
	r.Fats = []engine.FatLine{{ID: "x", Fat: in["fat"], Mass: engine.InGrams(1000)}}
	return r
}
