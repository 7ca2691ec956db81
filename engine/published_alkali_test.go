package engine_test

import (
	"testing"

	"lixivium.example/engine"
)

// alkaliReckonings are the checks of alkali, acids, water, batter and spread.
var alkaliReckonings = map[string]reckoning{
	"alkali_per_g_fat": func(t testing.TB, in inputs) float64 {
		f := formulate(t, ofSV(t, in, 1000, 0))
		return float64(f.Alkali.NaOHG+f.Alkali.KOHG) / 1000
	},
	"koh_over_naoh": func(t testing.TB, in inputs) float64 {
		soda := formulate(t, ofSV(t, in, 1000, 5))
		potash := ofSV(t, in, 1000, 5)
		potash.Alkali.KOHOfMolesPct, potash.Alkali.KOH = engine.Some(100), purity(100)
		return float64(formulate(t, potash).Alkali.KOHG / soda.Alkali.NaOHG)
	},
	"naoh_g": func(t testing.TB, in inputs) float64 {
		return float64(formulate(t, twoFats(t, in)).Alkali.NaOHG)
	},
	"superfat_of_given": func(t testing.TB, in inputs) float64 {
		r := twoFats(t, in)
		r.Alkali.SuperfatPct, r.Alkali.Given = engine.Optional{}, &engine.GivenAlkali{NaOH: engine.InGrams(in.number(t, "naoh"))}
		return float64(formulate(t, r).Superfat.Pct)
	},

	// What 1 g of an acid adds to the alkali of a batch.
	"acid_takes": func(t testing.TB, in inputs) float64 {
		plain := inputs{"sv": "200", "alkali": in["alkali"]}
		with := ofSV(t, plain, 1000, 5)
		with.Doses = []engine.Dose{acidDose(t, in)}
		a, b := formulate(t, with).Alkali, formulate(t, ofSV(t, plain, 1000, 5)).Alkali
		return float64(a.NaOHG + a.KOHG - b.NaOHG - b.KOHG)
	},
	"water_formed_by_acid": func(t testing.TB, in inputs) float64 {
		r := bar()
		r.Doses = []engine.Dose{acidDose(t, in)}
		return float64(formulate(t, r).Water.FormedG)
	},
	"water_formed_by_fatty_acid": func(t testing.TB, in inputs) float64 {
		own := engine.FatLine{ID: "acid", Custom: customFat("Acid", in.number(t, "sv"), 3), Mass: engine.InGrams(1)}
		own.Custom.FreeAcid = true
		return float64(formulate(t, withFat(own)).Water.FormedG)
	},

	"calculated_sv": func(t testing.TB, in inputs) float64 {
		return float64(formulate(t, ofAcid(t, in)).Profile.CalculatedSV)
	},
	"calculated_iv": func(t testing.TB, in inputs) float64 {
		return formulate(t, ofAcid(t, in)).Profile.CalculatedIV
	},
	// The fatty acids that 100 g of a fat of one acid give.
	"fatty_acids_pct": func(t testing.TB, in inputs) float64 {
		sum := 0.0
		for _, a := range formulate(t, ofAcid(t, in)).Profile.Acids {
			sum += float64(a.MassG)
		}
		return sum / 10
	},

	"uncertainty": func(t testing.TB, in inputs) float64 {
		return float64(onStep(t, in).Superfat.UncertaintyPct)
	},
	// Distances from the best estimate, which lies where whole steps put it.
	"interval_below": func(t testing.TB, in inputs) float64 {
		s := onStep(t, in).Superfat
		return float64(s.Pct - s.LowPct)
	},
	"interval_above": func(t testing.TB, in inputs) float64 {
		s := onStep(t, in).Superfat
		return float64(s.HighPct - s.Pct)
	},
	"worst_below": func(t testing.TB, in inputs) float64 {
		s := onStep(t, in).Superfat
		return float64(s.Pct - s.WorstPct)
	},

	"concentration_of_fats_pct": func(t testing.TB, in inputs) float64 {
		r := needing(t, in)
		r.Water = &engine.Water{Measure: &engine.WaterMeasure{OfFatsPct: engine.Some(in.number(t, "water_of_fats"))}}
		return float64(formulate(t, r).Water.LyeConcentrationPct)
	},
	"ratio_of_concentration": func(t testing.TB, in inputs) float64 {
		r := bar()
		r.Alkali.NaOH, r.Water = purity(100), concentration(in.number(t, "concentration"))
		return formulate(t, r).Water.PerAlkaliRatio
	},
	"fats_pct_of_concentration": func(t testing.TB, in inputs) float64 {
		return float64(formulate(t, needing(t, in)).Water.OfFatsPct)
	},
	"discounted_concentration": func(t testing.TB, in inputs) float64 {
		r := needing(t, in)
		reference := &engine.WaterMeasure{}
		if _, ok := in["of_fats"]; ok {
			reference.OfFatsPct = engine.Some(in.number(t, "of_fats"))
		} else {
			reference.LyeConcentrationPct = engine.Some(in.number(t, "concentration"))
		}
		r.Water = &engine.Water{Discount: &engine.WaterDiscount{OffPct: in.number(t, "off"), Reference: reference}}
		return float64(formulate(t, r).Water.LyeConcentrationPct)
	},

	"batter_density": func(t testing.TB, in inputs) float64 {
		return float64(formulate(t, needing(t, in)).Totals.Density)
	},
	// 1 in³ is 16.387064 mL, 1 oz 28.349523125 g, both exact.
	"oz_fat_per_cubic_inch": func(t testing.TB, in inputs) float64 {
		f := formulate(t, needing(t, in))
		return float64(f.Totals.FatsG) / float64(f.Totals.BatterML) * 16.387064 / 28.349523125
	},
	"fresh_mass": func(t testing.TB, in inputs) float64 { return float64(example(t, in).Totals.BatterG) },
	"water_of_paste": func(t testing.TB, in inputs) float64 {
		f := example(t, in)
		return 100 * float64(f.Water.TotalG) / float64(f.Totals.BatterG)
	},
}

// ofSV is a batch of one fat of the stated saponification value and one pure
// alkali.
func ofSV(t testing.TB, in inputs, fatsG, superfatPct float64) *engine.Recipe {
	r := bar()
	r.Fats = []engine.FatLine{{ID: "fat", Custom: customFat("Fat", in.number(t, "sv"), 3), Mass: engine.InGrams(fatsG)}}
	r.Alkali = engine.Alkali{SuperfatPct: engine.Some(superfatPct), NaOH: purity(100)}
	if in["alkali"] == "koh" {
		r.Alkali.KOHOfMolesPct, r.Alkali.KOH = engine.Some(100), purity(100)
	}
	return r
}

// needing is 1 kg of a fat that takes the stated grams of pure NaOH for each
// 100 g, with nothing left over.
func needing(t testing.TB, in inputs) *engine.Recipe {
	r := bar()
	sv := in.number(t, "naoh_per_100") / 100 * 56105.6 / 39.997
	r.Fats = []engine.FatLine{{ID: "fat", Custom: customFat("Fat", sv, 3), Mass: engine.InGrams(1000)}}
	r.Alkali = engine.Alkali{SuperfatPct: engine.Some(0), NaOH: purity(100)}
	r.Water = concentration(in.or(t, "concentration", 33))
	return r
}

// twoFats is the example of the uncertainty cases in any size.
func twoFats(t testing.TB, in inputs) *engine.Recipe {
	r := bar()
	for i, name := range []string{"1", "2"} {
		share := in.or(t, "share"+name, []float64{70, 30}[i])
		own := customFat("Fat "+name, in.or(t, "sv"+name, []float64{190, 256.5}[i]), in.or(t, "half"+name, 3))
		r.Fats[i] = engine.FatLine{ID: "fat-" + name, Custom: own, Mass: engine.InGrams(in.number(t, "fats") * share / 100)}
		if in["certified"] != "" {
			r.Fats[i].CertificateSV = &engine.Measured{Value: own.SV.Value, HalfWidth: own.SV.HalfWidth}
		}
	}
	stock := &engine.AlkaliStock{PurityPct: engine.Some(in.number(t, "purity")), HalfWidthPct: engine.Some(in.or(t, "purity_half", 1))}
	r.Alkali = engine.Alkali{SuperfatPct: engine.Some(in.or(t, "superfat", 5)), NaOH: stock}
	if in["alkali"] == "koh" {
		r.Alkali.KOHOfMolesPct, r.Alkali.KOH = engine.Some(100), stock
	}
	return r
}

// onStep is that example weighed on a balance, the alkali down to a whole step.
func onStep(t testing.TB, in inputs) *engine.Formulation {
	r := twoFats(t, in)
	return formulate(t, r, scales(in.number(t, "step"))...)
}

// example is 700 g at 190 and 300 g at 256.5 mg KOH/g with 5 % superfat.
func example(t testing.TB, in inputs) *engine.Formulation {
	r := twoFats(t, inputs{"fats": "1000", "purity": "100"})
	r.Water = concentration(in.number(t, "concentration"))
	return formulate(t, r)
}

// acidDose is 1 g of an acid, its alkali added.
func acidDose(t testing.TB, in inputs) engine.Dose {
	return engine.Dose{ID: "acid", Mass: engine.InGrams(1), Treatment: engine.TreatmentAdd, Custom: &engine.CustomAdditive{
		Name:          "Acid",
		AlkaliMolPerG: &engine.Measured{Value: in.number(t, "protons") / in.number(t, "molar_mass"), HalfWidth: engine.Some(0)},
	}}
}

// ofAcid is a fat, or free acid, of one fatty acid.
func ofAcid(t testing.TB, in inputs) *engine.Recipe {
	own := customFat("Pure", 200, 3)
	own.FattyAcidsPct, own.FreeAcid = map[string]float64{in["acid"]: 100}, in["free"] == "1"
	r := bar()
	r.Fats = []engine.FatLine{{ID: "pure", Custom: own, Mass: engine.InGrams(1000)}}
	return r
}
