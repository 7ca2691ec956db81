package main

import (
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"lixivium.example/clients/lixi/sheet"
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
	"lixivium.example/server/app"
)

var leafInFile = regexp.MustCompile(`\.yaml:\d+:\d+$`)

// elsewhere are files whose figures other tests follow: prices with the costs
// below, and a recipe that needs plugins.
var elsewhere = map[string]bool{"prices.yaml": true, "harbor-morning.yaml": true}

// TestEveryFigureOfTheDemosIsExplained follows every line of every demo's
// worksheet down: each leaf is a field that stands in the file, a row of the
// data or a number written in the arithmetic.
func TestEveryFigureOfTheDemosIsExplained(t *testing.T) {
	files, err := filepath.Glob("../../testdata/recipes/*.yaml")
	files = slices.DeleteFunc(files, func(file string) bool { return elsewhere[filepath.Base(file)] })
	if err != nil || len(files) < 6 {
		t.Fatalf("%d recipes, %v", len(files), err)
	}
	service, err := app.New(app.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			weighed := &lixiviumv1.ReconcileWeightsRequest{} // holds whatever a recipe file may hold
			places := readDemo(t, file, weighed)
			answer, err := service.Formulate(t.Context(), &lixiviumv1.FormulateRequest{
				Recipe: weighed.GetRecipe(), Balances: weighed.GetBalances(), IncludeWorksheet: true,
			})
			if err != nil {
				t.Fatal(err)
			}
			place := func(path string) string {
				at := places.Of(path)
				if !leafInFile.MatchString(at) {
					t.Errorf("%s stands at %s", path, at)
				}
				return at
			}
			worksheet := answer.GetFormulation().GetWorksheet()
			if len(worksheet) < 100 {
				t.Fatalf("%d lines", len(worksheet))
			}
			earlier := map[string]bool{}
			for _, line := range worksheet {
				for _, in := range line.GetInputs() {
					switch from := in.GetFrom().(type) {
					case *lixiviumv1.WorksheetInput_LineId:
						if !earlier[from.LineId] {
							t.Errorf("%s reads %s, which does not stand before it", line.GetId(), from.LineId)
						}
					case *lixiviumv1.WorksheetInput_RequestPath:
						place(from.RequestPath)
					case *lixiviumv1.WorksheetInput_DataRow:
					default:
						t.Errorf("%s: %s comes from nowhere", line.GetId(), in.GetName())
					}
				}
				earlier[line.GetId()] = true
			}
			const id = "superfat.superfat_pct"
			text := strings.Join(strings.Fields(sheet.Chain(worksheet, id, place)), " ")
			if !strings.HasPrefix(text, id+" = ") || !strings.Contains(text, "from the data: fats/") || strings.Contains(text, "which this answer does not hold") {
				t.Errorf("%s ends nowhere: %.200s", id, text)
			}
		})
	}
}
