package engine_test

import (
	"context"
	"fmt"
	"testing"

	"lixivium.example/engine"
	"lixivium.example/engine/fat"
)

// tenFats is the batch that the price of an answer is stated for: ten fats, two
// portions and one acid whose alkali is added.
func tenFats() *engine.Recipe {
	r := bar()
	r.Fats = nil
	for _, id := range []string{
		"olive-oil", "coconut-oil", "palm-oil", "castor-oil", "shea-butter",
		"sunflower-oil-high-oleic", "cocoa-butter", "sweet-almond-oil", "lard", "avocado-oil",
	} {
		r.Fats = append(r.Fats, engine.FatLine{ID: id, Fat: id, Mass: engine.InGrams(100)})
	}
	r.Portions = []engine.Portion{{ID: "white", BaseSharePct: 60}, {ID: "plain", BaseSharePct: 40}}
	r.Doses = []engine.Dose{{ID: "acid", Custom: citric(), OfFatsPct: engine.Some(1), Treatment: engine.TreatmentAdd, Stage: engine.StageWaterBeforeLye}}
	return r
}

// manyFats is a recipe of n lines from the whole table.
func manyFats(n int) *engine.Recipe {
	r := bar()
	r.Fats = nil
	all := fat.All()
	for i := range n {
		r.Fats = append(r.Fats, engine.FatLine{ID: fmt.Sprint("f", i), Fat: all[i%len(all)].ID, Mass: engine.InGrams(float64(50 + i%7))})
	}
	return r
}

func measured(b *testing.B, r *engine.Recipe, o engine.Options) {
	e := engine.New(nil)
	if _, err := e.Formulate(context.Background(), r, o); err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := e.Formulate(context.Background(), r, o); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFormulate(b *testing.B) {
	b.Run("plain", func(b *testing.B) { measured(b, tenFats(), engine.Options{}) })
	b.Run("rounded", func(b *testing.B) { measured(b, tenFats(), engine.Options{Balances: scales(1, 0.1)}) })
	b.Run("worksheet", func(b *testing.B) { measured(b, tenFats(), engine.Options{IncludeWorksheet: true}) })
}

func BenchmarkFats(b *testing.B) {
	for _, n := range []int{1, 10, 100, 1000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) { measured(b, manyFats(n), engine.Options{}) })
	}
}
