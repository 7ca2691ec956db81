package engine_test

import (
	"context"
	"math"
	"slices"
	"testing"

	"lixivium.example/engine"
)

// bar is an ordinary recipe that tests change in one place.
func bar() *engine.Recipe {
	return &engine.Recipe{
		Name: "bar",
		Fats: []engine.FatLine{
			{ID: "olive", Fat: "olive-oil", Mass: engine.InGrams(700)},
			{ID: "coconut", Fat: "coconut-oil", Mass: engine.InGrams(300)},
		},
		Alkali: engine.Alkali{
			SuperfatPct: engine.Some(5),
			NaOH:        &engine.AlkaliStock{PurityPct: engine.Some(98.5), HalfWidthPct: engine.Some(0.5)},
		},
		Water: concentration(33),
	}
}

// given is the same bar with its alkali stated: a recipe to judge.
func given(naohG float64) *engine.Recipe {
	r := bar()
	r.Alkali.SuperfatPct = engine.Optional{}
	r.Alkali.Given = &engine.GivenAlkali{NaOH: engine.InGrams(naohG)}
	return r
}

func concentration(pct float64) *engine.Water {
	return &engine.Water{Measure: &engine.WaterMeasure{LyeConcentrationPct: engine.Some(pct)}}
}

func waterGrams(g float64) *engine.Water {
	return &engine.Water{Measure: &engine.WaterMeasure{Mass: engine.InGrams(g)}}
}

// citric is anhydrous citric acid as a caller would declare it.
func citric() *engine.CustomAdditive {
	return &engine.CustomAdditive{
		Name:          "Citric acid",
		AlkaliMolPerG: &engine.Measured{Value: 3 / 192.123, HalfWidth: engine.Some(0.0001)},
	}
}

// purity is solid alkali of a stated purity.
func purity(pct float64) *engine.AlkaliStock { return &engine.AlkaliStock{PurityPct: engine.Some(pct)} }

// customFat is a fat of a stated saponification value.
func customFat(name string, sv, half float64) *engine.CustomFat {
	return &engine.CustomFat{Name: name, SV: engine.Measured{Value: sv, HalfWidth: engine.Some(half)}}
}

// scales are balances of these steps in grams, without capacity.
func scales(steps ...float64) []engine.Balance {
	var out []engine.Balance
	for _, s := range steps {
		out = append(out, engine.Balance{Step: engine.InGrams(s)})
	}
	return out
}

// formulated is the answer without additive rules, or the refusal.
func formulated(r *engine.Recipe, balances []engine.Balance) (*engine.Formulation, error) {
	return engine.New(nil).Formulate(context.Background(), r, engine.Options{Balances: balances})
}

func formulate(t testing.TB, r *engine.Recipe, balances ...engine.Balance) *engine.Formulation {
	t.Helper()
	f, err := formulated(r, balances)
	if err != nil {
		t.Fatalf("refused: %v", err)
	}
	return f
}

// grams of a line of the weigh-out; 0 when it is not there.
func grams(f *engine.Formulation, lineID string) float64 {
	for i := range f.WeighOut {
		if f.WeighOut[i].LineID == lineID {
			return float64(f.WeighOut[i].WeighG)
		}
	}
	return 0
}

// found gives the first finding of a code.
func found(f *engine.Formulation, code string) *engine.Finding {
	i := slices.IndexFunc(f.Findings, func(x engine.Finding) bool { return x.Code == code })
	if i < 0 {
		return nil
	}
	return &f.Findings[i]
}

// near tells whether two figures agree within a tolerance relative to the
// larger of them and 1.
func near(a, b, tolerance float64) bool {
	return math.Abs(a-b) <= tolerance*max(1, math.Abs(a), math.Abs(b))
}
