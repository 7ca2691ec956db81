package engine_test

import (
	"strings"
	"testing"

	"lixivium.example/engine"
)

// lyeReckonings are the checks of lye solutions and of units.
var lyeReckonings = map[string]reckoning{
	"lye_end":              lyeEnd,
	"strength_by_density":  strengthBy,
	"strength_by_molarity": strengthBy,
	"strength_by_baume":    strengthBy,
	"gravity_of_baume":     gravityOfBaume,
	"twaddell_less_baume":  twaddellLessBaume,
	"crystallization":      crystallization,
	"grams_of_fat":         gramsOfFat,
	"grams_of_water":       gramsOfWater,
}

// lyeEnd is the temperature that a lye of pure alkali may reach.
func lyeEnd(t testing.TB, in inputs) float64 {
	r := bar()
	r.Alkali.NaOH, r.Water = purity(100), concentration(in.number(t, "concentration"))
	r.Process.WaterC = engine.Some(in.number(t, "start"))
	return float64(formulate(t, r).Alkali.LyeEndC)
}

// judgedLye is a batch with 100 g of a lye, its strength read in one way.
func judgedLye(t testing.TB, in inputs, kind string, s engine.SolutionStrength) *engine.Formulation {
	s.TemperatureC = engine.Some(in.number(t, "t"))
	r := given(1)
	r.Alkali.Given = &engine.GivenAlkali{}
	stock := &engine.AlkaliStock{Solution: &s}
	if kind == "koh" {
		r.Alkali.KOH, r.Alkali.Given.KOH = stock, engine.InGrams(100)
	} else {
		r.Alkali.NaOH, r.Alkali.Given.NaOH = stock, engine.InGrams(100)
	}
	r.Water = nil
	return formulate(t, r)
}

// strengthBy is the pure alkali in 100 g of a lye.
func strengthBy(t testing.TB, in inputs) float64 {
	s := engine.SolutionStrength{}
	for name, to := range map[string]*engine.Optional{
		"density": &s.DensityGPerML, "mol": &s.MolPerL, "baume": &s.DegreesBaume, "modulus": &s.BaumeModulus, "twaddell": &s.DegreesTwaddell,
	} {
		if _, ok := in[name]; ok {
			*to = engine.Some(in.number(t, name))
		}
	}
	a := judgedLye(t, in, in["alkali"], s).Alkali
	return float64(a.NaOHPureG + a.KOHPureG)
}

// gravityOfBaume finds the density whose strength is that of a reading, and puts
// it against water at 60 °F (0.99902 g/mL).
func gravityOfBaume(t testing.TB, in inputs) float64 {
	reading := inputs{"baume": in["baume"], "modulus": in["modulus"], "t": "15"}
	want := strengthBy(t, reading)
	low, high := 1.0, 1.5
	for range 60 {
		middle := (low + high) / 2
		s := engine.SolutionStrength{DensityGPerML: engine.Some(middle)}
		if float64(judgedLye(t, reading, "naoh", s).Alkali.NaOHPureG) < want {
			low = middle
		} else {
			high = middle
		}
	}
	return low / 0.99902
}

func twaddellLessBaume(t testing.TB, in inputs) float64 {
	a := strengthBy(t, inputs{"twaddell": in["twaddell"], "t": in["t"]})
	return a - strengthBy(t, inputs{"baume": in["baume"], "modulus": in["modulus"], "t": in["t"]})
}

// crystallization is the temperature that a warning of crystals names.
func crystallization(t testing.TB, in inputs) float64 {
	r := bar()
	r.Alkali.NaOH = &engine.AlkaliStock{Solution: &engine.SolutionStrength{MassPct: engine.Some(in.number(t, "concentration"))}}
	r.Water = concentration(25)
	r.Process.LyeStorageC = engine.Some(-20)
	f := found(formulate(t, r), "engine/lye-crystallizes")
	if f == nil {
		t.Fatal("no warning at -20 °C")
	}
	for _, n := range f.Numbers {
		if n.Name == "crystallization_c" {
			return n.Value
		}
	}
	t.Fatal("the warning names no temperature")
	return 0
}

// unitNamed finds a unit by the contract's name.
func unitNamed(t testing.TB, name string) engine.QuantityUnit {
	for u := engine.Gram; u <= engine.TeaspoonUS; u++ {
		if u.String() == strings.TrimSpace(name) {
			return u
		}
	}
	t.Fatalf("no unit %q", name)
	return 0
}

func gramsOfFat(t testing.TB, in inputs) float64 {
	r := bar()
	r.Fats[0].Mass = engine.Quantity{Value: 1, Unit: unitNamed(t, in["unit"])}
	return grams(formulate(t, r), "olive")
}

func gramsOfWater(t testing.TB, in inputs) float64 {
	r := given(1e-5)
	r.Water = &engine.Water{Measure: &engine.WaterMeasure{Mass: engine.Quantity{Value: 1, Unit: unitNamed(t, in["unit"])}}}
	return grams(formulate(t, r), "water")
}
