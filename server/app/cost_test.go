package app

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"google.golang.org/grpc/codes"

	"lixivium.example/engine"
	"lixivium.example/engine/cost"
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
	"lixivium.example/server/translate"
)

// costRequest holds n recipes of one oil, each a gram larger than the one
// before, with prices for all of it.
func costRequest(n int) *lixiviumv1.CostRequest {
	pack := func(material, price string) *lixiviumv1.Pack {
		return &lixiviumv1.Pack{Material: material, Size: gram(1000), Price: price}
	}
	q := &lixiviumv1.CostRequest{Prices: &lixiviumv1.PriceBook{CurrencyCode: "EUR", Packs: []*lixiviumv1.Pack{pack("olive-oil", "10"), pack("naoh", "20")}}}
	for i := range n {
		q.Recipes = append(q.Recipes, &lixiviumv1.CostedRecipe{
			Recipe: &lixiviumv1.Recipe{
				Name:   fmt.Sprint("Bar ", i+1),
				Fats:   []*lixiviumv1.FatLine{{Id: "oil", Kind: &lixiviumv1.FatLine_Fat{Fat: "olive-oil"}, Amount: &lixiviumv1.FatLine_Mass{Mass: gram(float64(1000 + i))}}},
				Alkali: &lixiviumv1.Alkali{Amount: &lixiviumv1.Alkali_SuperfatPct{SuperfatPct: 5}},
				Water:  &lixiviumv1.Water{Ask: &lixiviumv1.Water_Measure{Measure: &lixiviumv1.WaterMeasure{Measure: &lixiviumv1.WaterMeasure_LyeConcentrationPct{LyeConcentrationPct: 33}}}},
			},
			Terms: &lixiviumv1.CostTerms{SaleableBars: 10, Pricing: &lixiviumv1.CostTerms_MarginPct{MarginPct: 50}},
		})
	}
	return q
}

func local(t testing.TB) Service {
	t.Helper()
	s, err := New(Options{})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestCost(t *testing.T) {
	a, err := local(t).Cost(t.Context(), costRequest(2))
	if err != nil {
		t.Fatal(err)
	}
	first, second := a.GetCostings()[0], a.GetCostings()[1]
	if first.GetLines()[2].GetAmount() != "10.00" || second.GetLines()[2].GetAmount() != "10.01" || second.GetRecipeName() != "Bar 2" || len(first.GetWorksheet()) > 0 {
		t.Errorf("%v", a)
	}
	q := costRequest(1)
	q.IncludeWorksheet = true
	a, err = local(t).Cost(t.Context(), q)
	if err != nil || len(a.GetCostings()[0].GetWorksheet()) < 100 {
		t.Errorf("%v, %v", a, err)
	}
}

// TestEverythingWrongWithACost comes in one answer: the wire, every recipe, the
// terms and the prices.
func TestEverythingWrongWithACost(t *testing.T) {
	q := costRequest(3)
	q.Recipes[0].Recipe.Fats[0].Kind = &lixiviumv1.FatLine_Fat{Fat: "olive-oyl"}
	q.Recipes[1].Recipe = nil
	q.Recipes[2].Terms.SaleableBars = 0
	q.Prices.Packs[1].Price = "20,00"
	_, err := local(t).Cost(t.Context(), q)
	read := ReadRefusal(err)
	var paths []string
	for _, v := range read.Violations {
		paths = append(paths, v.Path)
	}
	want := []string{"recipes[1].recipe", "recipes[0].recipe.fats[0].fat", "prices.packs[1].price", "recipes[2].terms.saleable_bars"}
	if read.Code != codes.InvalidArgument || !slices.Equal(paths, want) {
		t.Errorf("got %q, %v", paths, err)
	}
	if _, err := local(t).Cost(t.Context(), costRequest(cost.MaxRecipes+1)); ReadRefusal(err).Violations[0].Path != "recipes" {
		t.Error(err)
	}
	if _, err := local(t).Cost(t.Context(), nil); len(ReadRefusal(err).Violations) != 2 {
		t.Error(err)
	}
}

// TestACostStopsAtManyViolations: recipes beyond a hundred violations are left
// alone, so that an answer cannot become large.
func TestACostStopsAtManyViolations(t *testing.T) {
	q := costRequest(300)
	for _, x := range q.Recipes {
		x.Recipe.Fats[0].Kind = &lixiviumv1.FatLine_Fat{Fat: "olive-oyl"}
	}
	_, err := local(t).Cost(t.Context(), q)
	if n := len(ReadRefusal(err).Violations); n != mostViolations {
		t.Errorf("%d violations", n)
	}
}

// TestABatchThatCannotBeMade names its recipe.
func TestABatchThatCannotBeMade(t *testing.T) {
	s := &service{engine: &fake{err: &engine.Impossible{Reason: engine.ImpossibleWater, Text: "No water is left."}}}
	_, err := s.Cost(t.Context(), costRequest(2))
	if read := ReadRefusal(err); read.Code != codes.FailedPrecondition || read.Reason != engine.ImpossibleWater || read.Text != `Recipe 1 ("Bar 1"): No water is left.` {
		t.Errorf("got %+v", read)
	}
	s = &service{engine: &fake{err: &engine.MissingOwner{Additive: "a", DoseID: "d"}}}
	if _, err := s.Cost(t.Context(), costRequest(1)); ReadRefusal(err).Code != codes.Unavailable {
		t.Error(err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := s.cost(ctx, costRequest(1)); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
}

func TestMissingPricesOfACost(t *testing.T) {
	q := costRequest(2)
	q.Prices.Packs = q.Prices.Packs[:1]
	_, err := local(t).Cost(t.Context(), q)
	if read := ReadRefusal(err); len(read.Violations) != 1 || read.Violations[0].Reason != cost.ReasonNoPrice || !strings.Contains(read.Text, `"naoh"`) {
		t.Errorf("got %+v", read)
	}
	q.AllowPartial = true
	a, err := local(t).Cost(t.Context(), q)
	if err != nil || !slices.Equal(a.GetCostings()[1].GetMissingMaterials(), []string{"naoh"}) {
		t.Errorf("%v, %v", a, err)
	}
}

// tenFats makes the recipes of a request as large as a shop's are.
func tenFats(q *lixiviumv1.CostRequest) *lixiviumv1.CostRequest {
	ids := []string{"olive-oil", "coconut-oil", "palm-oil", "castor-oil", "shea-butter", "sunflower-oil-high-oleic", "cocoa-butter", "sweet-almond-oil", "lard", "avocado-oil"}
	for _, id := range ids[1:] {
		q.Prices.Packs = append(q.Prices.Packs, &lixiviumv1.Pack{Material: id, Size: gram(5000), Price: "31.90", Freight: "4.50", WastePct: 2})
	}
	for n, x := range q.Recipes {
		x.Recipe.Fats = nil
		for i, id := range ids {
			x.Recipe.Fats = append(x.Recipe.Fats, &lixiviumv1.FatLine{Id: id, Kind: &lixiviumv1.FatLine_Fat{Fat: id}, Amount: &lixiviumv1.FatLine_Mass{Mass: gram(float64(90 + (n+i)%20))}})
		}
		x.Terms.LaborMinutes, x.Terms.LaborPerHour, x.Terms.OverheadPct, x.Terms.PackagingPerBar = 75, "15.00", 12, "0.35"
	}
	return q
}

// BenchmarkCostAgain10000 costs 10,000 recipes of ten fats anew: by a bare loop
// over the engine, and through the service in calls of so many.
func BenchmarkCostAgain10000(b *testing.B) {
	const all = 10000
	b.Run("bare loop", func(b *testing.B) {
		e, q := engine.New(nil), translate.Cost(tenFats(costRequest(cost.MaxRecipes)))
		for b.Loop() {
			for range all / cost.MaxRecipes {
				list := make([]cost.Costed, len(q.Recipes))
				for i := range list {
					f, err := e.Formulate(context.Background(), q.Recipes[i].Recipe, q.Recipes[i].Options)
					if err != nil {
						b.Fatal(err)
					}
					list[i] = cost.Costed{Recipe: q.Recipes[i].Recipe, Formulation: f, Terms: q.Recipes[i].Terms}
				}
				if _, err := cost.Cost(list, q.Prices, q.Options); err != nil {
					b.Fatal(err)
				}
			}
		}
	})
	for _, size := range []int{1, 50, cost.MaxRecipes} {
		b.Run(fmt.Sprint("recipes a call=", size), func(b *testing.B) {
			s, q := local(b), tenFats(costRequest(size))
			for b.Loop() {
				for range all / size {
					if _, err := s.Cost(context.Background(), q); err != nil {
						b.Fatal(err)
					}
				}
			}
		})
	}
}
