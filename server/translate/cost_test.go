package translate

import (
	"math"
	"reflect"
	"testing"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"

	"lixivium.example/engine"
	"lixivium.example/engine/cost"
)

// TestCostAnswerIsTotal: no field of a costing is left empty or mixed up with
// another.
func TestCostAnswerIsTotal(t *testing.T) {
	m := Costings(*maximal[[]cost.Costing]()).ProtoReflect()
	checkFilled(t, m, "costings", map[protoreflect.FullName]bool{})
	checkOrder(t, m, "costings")
}

func TestCostRequest(t *testing.T) {
	text := "6.50"
	litre := &lixiviumv1.Quantity{Amount: &lixiviumv1.Quantity_L{L: 5}}
	m := &lixiviumv1.CostRequest{
		Recipes: []*lixiviumv1.CostedRecipe{
			{
				Recipe: &lixiviumv1.Recipe{Name: "a"}, Balances: []*lixiviumv1.Balance{{Name: "b"}},
				Terms: &lixiviumv1.CostTerms{
					SaleableBars: 1, PackagingPerBar: "2", LaborMinutes: 3, LaborPerHour: "4", OverheadPerBatch: "5", OverheadPct: 6,
					FeePerBar: "7", FeePct: 8, Pricing: &lixiviumv1.CostTerms_MarginPct{MarginPct: 9}, TaxPct: 10, PriceIncludesTax: true,
				},
			},
			{Recipe: &lixiviumv1.Recipe{}, Terms: &lixiviumv1.CostTerms{SaleableBars: math.MaxUint32, Pricing: &lixiviumv1.CostTerms_MarkupPct{MarkupPct: 0}}},
			{Recipe: &lixiviumv1.Recipe{}, Terms: &lixiviumv1.CostTerms{Pricing: &lixiviumv1.CostTerms_Price{Price: text}}},
		},
		Prices: &lixiviumv1.PriceBook{CurrencyCode: "EUR", Packs: []*lixiviumv1.Pack{
			{Material: "m", Size: litre, Price: "p", Freight: "f", WastePct: 2, PriceDate: "d", DensityGPerMl: proto.Float64(0.9)}, {},
		}},
		AllowPartial: true, IncludeWorksheet: true,
	}
	want := CostRequest{
		Recipes: []CostedRecipe{
			{
				Recipe:  &engine.Recipe{Name: "a"},
				Options: engine.Options{Balances: []engine.Balance{{Name: "b"}}, IncludeWorksheet: true},
				Terms: cost.Terms{
					SaleableBars: 1, PackagingPerBar: "2", LaborMinutes: 3, LaborPerHour: "4", OverheadPerBatch: "5", OverheadPct: 6,
					FeePerBar: "7", FeePct: 8, MarginPct: engine.Some(9), TaxPct: 10, PriceIncludesTax: true,
				},
			},
			{Recipe: &engine.Recipe{}, Options: engine.Options{IncludeWorksheet: true}, Terms: cost.Terms{SaleableBars: math.MaxInt32, MarkupPct: engine.Some(0)}},
			{Recipe: &engine.Recipe{}, Options: engine.Options{IncludeWorksheet: true}, Terms: cost.Terms{Price: &text}},
		},
		Prices: &cost.PriceBook{CurrencyCode: "EUR", Packs: []cost.Pack{
			{Material: "m", Size: engine.Quantity{Value: 5, Unit: engine.Liter}, Price: "p", Freight: "f", WastePct: 2, PriceDate: "d", DensityGPerML: engine.Some(0.9)}, {},
		}},
		Options: cost.Options{AllowPartial: true, IncludeWorksheet: true},
	}
	if got := Cost(m); !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v\nwant %+v", got, want)
	}
}

// TestCostFaultsOfTheWire stand at the path of their recipe.
func TestCostFaultsOfTheWire(t *testing.T) {
	got := Cost(&lixiviumv1.CostRequest{Recipes: []*lixiviumv1.CostedRecipe{
		{Recipe: &lixiviumv1.Recipe{TotalFats: &lixiviumv1.Quantity{}}},
		{Balances: []*lixiviumv1.Balance{{Capacity: &lixiviumv1.Quantity{}}}},
	}})
	var paths []string
	for _, v := range got.Wrong {
		paths = append(paths, v.Path)
	}
	want := []string{"recipes[0].recipe.total_fats", "recipes[1].recipe", "recipes[1].balances[0].capacity"}
	if !reflect.DeepEqual(paths, want) || got.Prices != nil || got.Recipes[1].Recipe != nil {
		t.Errorf("got %q, %+v", paths, got)
	}
	many := Cost(&lixiviumv1.CostRequest{Recipes: make([]*lixiviumv1.CostedRecipe, cost.MaxRecipes+1)})
	if len(many.Recipes) != cost.MaxRecipes+1 || len(many.Wrong) > 0 || many.Recipes[0].Recipe != nil {
		t.Errorf("%d recipes, %d violations", len(many.Recipes), len(many.Wrong))
	}
}
