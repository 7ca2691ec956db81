package engine_test

import (
	"strconv"
	"strings"
	"testing"

	"lixivium.example/engine"
	"lixivium.example/engine/cost"
	"lixivium.example/engine/mold"
)

// unitReckonings are the conversions that the engine makes. Each row also says
// how GNU units is asked for the same figure (have, want); make units asks it.
var unitReckonings = map[string]reckoning{
	"grams_of_fat": func(t testing.TB, in inputs) float64 {
		r := bar()
		r.Fats[0].Mass = quantityOf(t, in)
		return grams(formulate(t, r), "olive")
	},
	"grams_of_water": func(t testing.TB, in inputs) float64 {
		r := given(1e-5)
		r.Water = &engine.Water{Measure: &engine.WaterMeasure{Mass: quantityOf(t, in)}}
		return grams(formulate(t, r), "water")
	},
	"milliliters": func(t testing.TB, in inputs) float64 { return float64(quantityOf(t, in).Milliliters()) },
	"mold_ml":     moldML,
	"gravity_of_twaddell": func(t testing.TB, in inputs) float64 {
		return gravityWhoseStrengthIs(t, inputs{"twaddell": in["twaddell"], "t": "15"})
	},

	// What one mol weighs, from an answer in both.
	"grams_per_mol": func(t testing.TB, in inputs) float64 {
		a := formulate(t, ofSV(t, inputs{"sv": "190", "alkali": in["alkali"]}, 1000, 5)).Alkali
		return float64(a.NaOHPureG+a.KOHPureG) / float64(a.TotalMol)
	},
	"cost_of_pack": costOfPack,
	"cost_of_minutes": func(t testing.TB, in inputs) float64 {
		return money(t, cost.Costed{Terms: cost.Terms{LaborMinutes: in.number(t, "minutes"), LaborPerHour: in["per_hour"]}}, nil)
	},
}

func quantityOf(t testing.TB, in inputs) engine.Quantity {
	t.Helper()
	return engine.Quantity{Value: in.or(t, "value", 1), Unit: unitNamed(t, in["unit"])}
}

// unitNamed finds a unit by the contract's name.
func unitNamed(t testing.TB, name string) engine.QuantityUnit {
	t.Helper()
	for u := engine.Gram; u <= engine.TeaspoonUS; u++ {
		if u.String() == strings.TrimSpace(name) {
			return u
		}
	}
	t.Fatalf("no unit %q", name)
	return 0
}

// moldML is what a mold of these insides in millimeters holds, to a height or a
// percent where one is stated.
func moldML(t testing.TB, in inputs) float64 {
	t.Helper()
	mm := func(name string) float64 { return in.number(t, name) }
	var s mold.Shape
	switch in["shape"] {
	case "box":
		s = mold.Box{LengthMM: mm("length"), WidthMM: mm("width"), HeightMM: mm("height")}
	case "cylinder":
		s = mold.Cylinder{DiameterMM: mm("diameter"), HeightMM: mm("height")}
	case "tapered":
		s = mold.TaperedBox{
			TopLengthMM: mm("top_length"), TopWidthMM: mm("top_width"),
			BottomLengthMM: mm("bottom_length"), BottomWidthMM: mm("bottom_width"), HeightMM: mm("height"),
		}
	default:
		t.Fatalf("no shape %q", in["shape"])
	}
	l := mold.Level{HeightMM: in.or(t, "to_height", 0), ByHeight: in["to_height"] != "", Pct: in.or(t, "to_pct", 0), ByPct: in["to_pct"] != ""}
	f, wrong := mold.Fill(s, in.or(t, "liner", 0), l)
	if len(wrong) > 0 {
		t.Fatal(wrong[0])
	}
	return f.FilledML
}

// costOfPack is what some grams of an oil cost out of a pack.
func costOfPack(t testing.TB, in inputs) float64 {
	t.Helper()
	c := cost.Costed{
		Recipe: &engine.Recipe{Fats: []engine.FatLine{{ID: "oil", Fat: "olive-oil"}}},
		Formulation: &engine.Formulation{
			Fats:     []engine.FatAnswer{{LineID: "oil", FatID: "olive-oil", Name: "Olive oil"}},
			WeighOut: []engine.WeighLine{{LineID: "oil", Material: "Olive oil", WeighG: engine.InGrams(in.number(t, "grams")).Grams()}},
		},
	}
	p := cost.Pack{Material: "olive-oil", Size: quantityOf(t, in), Price: in["price"]}
	if in["density"] != "" {
		p.DensityGPerML = engine.Some(in.number(t, "density"))
	}
	return money(t, c, []cost.Pack{p})
}

// money is the cost of a batch of one bar, in euros.
func money(t testing.TB, c cost.Costed, packs []cost.Pack) float64 {
	t.Helper()
	c.Terms.SaleableBars = 1
	if c.Recipe == nil {
		c.Recipe, c.Formulation = &engine.Recipe{}, &engine.Formulation{WeighOut: []engine.WeighLine{{LineID: "water", Material: "Water", WeighG: 1}}}
	}
	list, err := cost.Cost([]cost.Costed{c}, &cost.PriceBook{CurrencyCode: "EUR", Packs: packs}, cost.Options{})
	if err != nil {
		t.Fatal(err)
	}
	v, err := strconv.ParseFloat(list[0].PerBatch, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}
