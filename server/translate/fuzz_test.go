package translate

import (
	"bytes"
	"testing"

	"google.golang.org/protobuf/proto"

	"lixivium.example/engine"
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
	"lixivium.example/proto/mutate"
)

// FuzzRequests: no request makes the translator panic, every violation says
// where, which kind and what to do, and a recipe that is read whole is written
// back as it came. One target for all calls, as they share nearly everything;
// that each is read and answered is fuzzed in package app.
func FuzzRequests(f *testing.F) {
	empty := &lixiviumv1.Quantity{}
	for which, q := range []proto.Message{
		&lixiviumv1.FormulateRequest{
			Recipe: &lixiviumv1.Recipe{
				TotalFats: empty,
				Fats: []*lixiviumv1.FatLine{{Kind: &lixiviumv1.FatLine_Custom{Custom: &lixiviumv1.CustomFat{}}},
					{Kind: &lixiviumv1.FatLine_Premix{Premix: &lixiviumv1.Premix{Name: "p", Fats: []*lixiviumv1.FatLine{{Id: "a"}}}}}},
				Doses:  []*lixiviumv1.Dose{{Stage: 99, Carrier: &lixiviumv1.Carrier{}, Parameters: map[string]float64{"x": 1}}},
				Alkali: &lixiviumv1.Alkali{Amount: &lixiviumv1.Alkali_Given{Given: &lixiviumv1.GivenAlkali{Naoh: empty}}},
				Water:  &lixiviumv1.Water{Ask: &lixiviumv1.Water_Discount{Discount: &lixiviumv1.WaterDiscount{OffPct: 10}}},
			},
			Balances: []*lixiviumv1.Balance{{Capacity: empty}},
		},
		&lixiviumv1.ScaleRequest{Recipe: &lixiviumv1.Recipe{}, Fit: &lixiviumv1.Fit{PotLoss: empty, Target: &lixiviumv1.Fit_Molds{Molds: &lixiviumv1.Molds{Molds: []*lixiviumv1.Mold{{Material: 99}}}}}},
		&lixiviumv1.SwapFatRequest{Recipe: &lixiviumv1.Recipe{}, LineId: "a", Replacements: []*lixiviumv1.FatLine{{Id: "b"}}},
		&lixiviumv1.ReconcileWeightsRequest{Recipe: &lixiviumv1.Recipe{}, Actual: []*lixiviumv1.ActualWeight{{LineId: "naoh", Mass: empty}}},
		&lixiviumv1.CostRequest{Recipes: []*lixiviumv1.CostedRecipe{{Recipe: &lixiviumv1.Recipe{}, Terms: &lixiviumv1.CostTerms{}}}, Prices: &lixiviumv1.PriceBook{Packs: []*lixiviumv1.Pack{{Size: empty}}}},
	} {
		message, err := proto.Marshal(q)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(which, message, []byte{})
		f.Add(which, message, []byte("0123456789abcdefghijklmnopqrstuvwxyz"))
	}
	f.Fuzz(func(t *testing.T, which int, message, tape []byte) {
		recipe, q, wrong := translated(which, message, tape)
		if (q == nil) != (recipe == nil) {
			t.Errorf("recipe %v from %v", q, recipe)
		}
		for _, v := range wrong {
			if v.Path == "" || v.Reason == "" || v.Text == "" {
				t.Errorf("a violation says too little: %+v", v)
			}
		}
		if recipe == nil || len(wrong) > 0 {
			return
		}
		// What absent and empty both say may be written in one way, so the second
		// writing is compared with the first.
		var r reader
		first := recipeMessage(q)
		second := recipeMessage(r.recipe(first))
		if a, b := encoded(t, first), encoded(t, second); !bytes.Equal(a, b) || len(r.wrong) > 0 {
			t.Errorf("%v is read back as %v, %v", first, second, r.wrong)
		}
	})
}

// translated reads a message as the request of one of the calls.
func translated(which int, message, tape []byte) (*lixiviumv1.Recipe, *engine.Recipe, []engine.Violation) {
	var q Request
	var recipe *lixiviumv1.Recipe
	read := func(m proto.Message) bool {
		if len(message) > 16<<10 || proto.Unmarshal(message, m) != nil {
			return false
		}
		mutate.Apply(m, tape, []string{"naoh", "olive-oil", "12.50", "a"})
		return true
	}
	switch which % 5 {
	case 0:
		if m := (&lixiviumv1.FormulateRequest{}); read(m) {
			q, recipe = Formulate(m), m.Recipe
		}
	case 1:
		if m := (&lixiviumv1.ScaleRequest{}); read(m) {
			q, recipe = Scale(m), m.Recipe
		}
	case 2:
		if m := (&lixiviumv1.SwapFatRequest{}); read(m) {
			q, recipe = SwapFat(m), m.Recipe
		}
	case 3:
		if m := (&lixiviumv1.ReconcileWeightsRequest{}); read(m) {
			q, recipe = ReconcileWeights(m), m.Recipe
		}
	default:
		if m := (&lixiviumv1.CostRequest{}); read(m) {
			return nil, nil, Cost(m).Wrong
		}
	}
	return recipe, q.Recipe, q.Wrong
}

func encoded(t *testing.T, m proto.Message) []byte {
	raw, err := proto.MarshalOptions{Deterministic: true}.Marshal(m)
	if err != nil {
		t.Fatal(err)
	}
	return raw
}
