package cost_test

import (
	"context"
	"fmt"
	"testing"

	"lixivium.example/engine"
	"lixivium.example/engine/cost"
)

// tenFats is a batch of ten fats, two portions and a dose; shopBook has 200
// packs.
func tenFats() *engine.Recipe {
	r := &engine.Recipe{
		Name: "Ten fats", Alkali: engine.Alkali{SuperfatPct: engine.Some(5)},
		Water:    &engine.Water{Measure: &engine.WaterMeasure{LyeConcentrationPct: engine.Some(33)}},
		Portions: []engine.Portion{{ID: "white", BaseSharePct: 60}, {ID: "plain", BaseSharePct: 40}},
		Doses:    []engine.Dose{{ID: "white-pigment", Custom: &engine.CustomAdditive{Name: "White"}, OfFatsPct: engine.Some(1), PortionID: "white"}},
	}
	for i, id := range []string{
		"olive-oil", "coconut-oil", "palm-oil", "castor-oil", "shea-butter",
		"sunflower-oil-high-oleic", "cocoa-butter", "sweet-almond-oil", "lard", "avocado-oil",
	} {
		r.Fats = append(r.Fats, engine.FatLine{ID: id, Fat: id, Mass: engine.InGrams(float64(90 + i))})
	}
	return r
}

func shopBook() *cost.PriceBook {
	b := &cost.PriceBook{CurrencyCode: "EUR"}
	for i := range 186 {
		b.Packs = append(b.Packs, cost.Pack{Material: fmt.Sprint("Other ", i), Size: engine.InGrams(100), Price: "3.20"})
	}
	for _, id := range append([]string{"naoh", "White"}, "olive-oil", "coconut-oil", "palm-oil", "castor-oil", "shea-butter",
		"sunflower-oil-high-oleic", "cocoa-butter", "sweet-almond-oil", "lard", "avocado-oil") {
		b.Packs = append(b.Packs, cost.Pack{Material: id, Size: engine.Quantity{Value: 5, Unit: engine.Kilogram}, Price: "31.90", Freight: "4.50", WastePct: 2})
	}
	return b
}

func shopTerms() cost.Terms {
	return cost.Terms{SaleableBars: 12, PackagingPerBar: "0.35", LaborMinutes: 90, LaborPerHour: "18", OverheadPct: 12, FeePct: 3, FeePerBar: "0.25", MarginPct: engine.Some(35), TaxPct: 19}
}

func answered(b *testing.B, r *engine.Recipe, o engine.Options) *engine.Formulation {
	b.Helper()
	f, err := engine.New(nil).Formulate(context.Background(), r, o)
	if err != nil {
		b.Fatal(err)
	}
	return f
}

// BenchmarkCost compares costing with formulating the same recipe; the book is
// read once for each call, so a call with many recipes is the cheaper one.
func BenchmarkCost(b *testing.B) {
	r, book := tenFats(), shopBook()
	b.Run("formulate", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			answered(b, r, engine.Options{})
		}
	})
	for _, n := range []int{1, 500} {
		for _, sheet := range []bool{false, true} {
			if sheet && n > 1 {
				continue
			}
			b.Run(fmt.Sprintf("recipes=%d/worksheet=%v", n, sheet), func(b *testing.B) {
				f := answered(b, r, engine.Options{IncludeWorksheet: sheet})
				list := make([]cost.Costed, n)
				for i := range list {
					list[i] = cost.Costed{Recipe: r, Formulation: f, Terms: shopTerms()}
				}
				b.ReportAllocs()
				for b.Loop() {
					if _, err := cost.Cost(list, book, cost.Options{IncludeWorksheet: sheet}); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*n), "ns/recipe")
			})
		}
	}
}
