package app_test

import (
	"testing"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
	"lixivium.example/server/app"
)

// The fuzz targets of the calls, one each, named after the call. What they have
// in common stands in fuzzed_test.go. That no call is without one is checked by
// TestEveryCallIsFuzzed at the root.

func FuzzFormulate(f *testing.F) {
	fuzzCall(f, app.Service.Formulate, demos(f, &lixiviumv1.FormulateRequest{})...)
}

func FuzzScale(f *testing.F) {
	seeds := demos(f, &lixiviumv1.ScaleRequest{})
	for i, fit := range sizes() {
		seeds[i%len(seeds)].Fit = fit
	}
	fuzzCall(f, app.Service.Scale, seeds...)
}

func FuzzSwapFat(f *testing.F) {
	seeds := demos(f, &lixiviumv1.SwapFatRequest{})
	for i, q := range seeds {
		q.LineId = q.GetRecipe().GetFats()[0].GetId()
		q.Replacements = []*lixiviumv1.FatLine{{Id: "new", Kind: &lixiviumv1.FatLine_Fat{Fat: fats[i%len(fats)]}}}
		if i%2 == 0 {
			q.Replacements[0].Amount = &lixiviumv1.FatLine_ShareOfFatsPct{ShareOfFatsPct: 100}
		}
	}
	fuzzCall(f, app.Service.SwapFat, seeds...)
}

func FuzzReconcileWeights(f *testing.F) {
	seeds := demos(f, &lixiviumv1.ReconcileWeightsRequest{})
	for _, q := range seeds {
		if len(q.Actual) == 0 {
			q.Actual = []*lixiviumv1.ActualWeight{{LineId: "naoh", Mass: gram(150)}, {LineId: "water", Mass: gram(100)}}
		}
	}
	fuzzCall(f, app.Service.ReconcileWeights, seeds...)
}

func FuzzCost(f *testing.F) {
	var seeds []*lixiviumv1.CostRequest
	for _, r := range demos(f, &lixiviumv1.CostedRecipe{}) {
		q := &lixiviumv1.CostRequest{Recipes: []*lixiviumv1.CostedRecipe{r}, Prices: demoPrices(f), AllowPartial: true}
		if r.Terms == nil {
			r.Terms = &lixiviumv1.CostTerms{SaleableBars: 10}
		}
		seeds = append(seeds, q)
	}
	seeds[0].Recipes = append(seeds[0].Recipes, seeds[1].Recipes...)
	fuzzCall(f, app.Service.Cost, seeds...)
}

func FuzzListFats(f *testing.F) {
	fuzzCall(f, app.Service.ListFats, &lixiviumv1.ListFatsRequest{NameContains: "Olive"})
}

func FuzzListAdditives(f *testing.F) {
	fuzzCall(f, app.Service.ListAdditives, &lixiviumv1.ListAdditivesRequest{NameContains: "Clay"})
}

// These requests hold nothing yet; their targets are here for the day they do.

func FuzzListWaterReferences(f *testing.F) {
	fuzzCall(f, app.Service.ListWaterReferences, &lixiviumv1.ListWaterReferencesRequest{})
}

func FuzzListFindingCodes(f *testing.F) {
	fuzzCall(f, app.Service.ListFindingCodes, &lixiviumv1.ListFindingCodesRequest{})
}

func FuzzListPlugins(f *testing.F) {
	fuzzCall(f, app.Service.ListPlugins, &lixiviumv1.ListPluginsRequest{})
}

func FuzzGetVersions(f *testing.F) {
	fuzzCall(f, app.Service.GetVersions, &lixiviumv1.GetVersionsRequest{})
}
