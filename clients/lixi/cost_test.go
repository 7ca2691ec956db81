package main

import (
	"fmt"
	"os"
	"testing"

	"lixivium.example/clients/lixi/recipefile"
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
	"lixivium.example/server/app"
)

// TestEveryCostOfTheDemosIsExplained: each leaf of the reckoning of a cost
// stands in the recipe file, in the price file, or in the data.
func TestEveryCostOfTheDemosIsExplained(t *testing.T) {
	read := func(name string) []byte {
		data, err := os.ReadFile("../../testdata/recipes/" + name)
		if err != nil {
			t.Fatal(err)
		}
		return data
	}
	request := &lixiviumv1.CostRequest{IncludeWorksheet: true}
	places, err := recipefile.ReadPrices("prices.yaml", read("prices.yaml"), request)
	if err != nil {
		t.Fatal(err)
	}
	for i, name := range []string{"kitchen-bar.yaml", "stock-and-premix.yaml"} {
		recipe := &lixiviumv1.CostedRecipe{}
		own, err := recipefile.Read(name, read(name), recipe, nil)
		if err != nil {
			t.Fatal(err)
		}
		places.Take(fmt.Sprintf("recipes[%d]", i), own)
		request.Recipes = append(request.Recipes, recipe)
	}
	service, err := app.New(app.Options{})
	if err != nil {
		t.Fatal(err)
	}
	answer, err := service.Cost(t.Context(), request)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range answer.GetCostings() {
		seen := map[string]bool{}
		prices := 0
		for _, line := range c.GetWorksheet() {
			for _, in := range line.GetInputs() {
				switch from := in.GetFrom().(type) {
				case *lixiviumv1.WorksheetInput_LineId:
					if !seen[from.LineId] {
						t.Errorf("%s reads %s, which does not stand before it", line.GetId(), from.LineId)
					}
				case *lixiviumv1.WorksheetInput_RequestPath:
					at := places.Of(from.RequestPath)
					if !leafInFile.MatchString(at) {
						t.Errorf("%s: %s stands at %s", line.GetId(), from.RequestPath, at)
					}
					if at[:6] == "prices" {
						prices++
					}
				case *lixiviumv1.WorksheetInput_DataRow:
				default:
					t.Errorf("%s: %s comes from nowhere", line.GetId(), in.GetName())
				}
			}
			seen[line.GetId()] = true
		}
		if !seen["cost.per_bar"] || !seen["cost.price_before_tax"] || prices < 10 {
			t.Errorf("%s: %d lines, %d prices", c.GetRecipeName(), len(seen), prices)
		}
	}
}
