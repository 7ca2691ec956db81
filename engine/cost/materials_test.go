package cost_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"lixivium.example/engine"
	"lixivium.example/engine/cost"
)

// lines gives what is paid for, as "line material-text grams amount".
func lines(t *testing.T, r *engine.Recipe, packs ...cost.Pack) []string {
	t.Helper()
	f, err := engine.New(nil).Formulate(context.Background(), r, engine.Options{})
	if err != nil {
		t.Fatal(err)
	}
	list, err := cost.Cost([]cost.Costed{{Recipe: r, Formulation: f, Terms: cost.Terms{SaleableBars: 1}}}, &cost.PriceBook{CurrencyCode: "EUR", Packs: packs}, cost.Options{AllowPartial: true})
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, l := range list[0].Lines {
		name, _, _ := strings.Cut(l.Text, " (")
		out = append(out, fmt.Sprintf("%s|%s|%.2f|%s", l.LineID, name, float64(l.MassG), l.Amount))
	}
	for _, m := range list[0].MissingMaterials {
		out = append(out, "missing "+m)
	}
	return out
}

// perGram is a pack at so many cents a gram.
func perGram(material string, cents int) cost.Pack {
	return cost.Pack{Material: material, Size: engine.InGrams(100), Price: fmt.Sprint(cents)}
}

func same(t *testing.T, got []string, want ...string) {
	t.Helper()
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

func simple() *engine.Recipe {
	return &engine.Recipe{
		Fats:   []engine.FatLine{{ID: "oil", Custom: &engine.CustomFat{Name: "House oil", SV: engine.Measured{Value: 140.264}}, Mass: engine.InGrams(400)}},
		Alkali: engine.Alkali{SuperfatPct: engine.Some(0), NaOH: &engine.AlkaliStock{PurityPct: engine.Some(100)}},
		Water:  &engine.Water{Measure: &engine.WaterMeasure{Mass: engine.InGrams(100)}},
	}
}

// TestSolidAndCustom: 400 g at 140.264 take exactly one mol, 39.997 g. Names do
// not mind upper and lower case or spaces.
func TestSolidAndCustom(t *testing.T) {
	same(t, lines(t, simple(), perGram("NaOH", 10), perGram(" house  OIL ", 1)),
		"water|Water|100.00|0.00", "naoh|Sodium hydroxide, solid, 100 % pure|40.00|4.00", "oil|House oil|400.00|4.00")
	same(t, lines(t, simple(), perGram("water", 1)),
		"water|Water|100.00|1.00", "missing naoh", "missing House oil")
}

// TestSolutions: a pack of the solution prices its grams; without one, a stock
// that the shop mixed is priced by what is in it, and a bought one by nothing.
func TestSolutions(t *testing.T) {
	r := simple()
	r.Alkali.NaOH = &engine.AlkaliStock{Solution: &engine.SolutionStrength{MassPct: engine.Some(50)}}
	same(t, lines(t, r, perGram("naoh", 10), perGram("house oil", 1)), "water|Water|60.00|0.00", "oil|House oil|400.00|4.00", "missing naoh-solution")
	same(t, lines(t, r, perGram("naoh-solution", 5), perGram("house oil", 1)),
		"water|Water|60.00|0.00", "naoh|Sodium hydroxide solution, 50 %|79.99|4.00", "oil|House oil|400.00|4.00")

	r.Alkali.NaOH = &engine.AlkaliStock{
		Made:      &engine.MadeStock{Solid: engine.InGrams(500), PurityPct: engine.Some(100), Water: engine.Quantity{Value: 490 / 0.9982, Unit: engine.Milliliter}},
		AlsoHolds: []engine.StockContent{{Name: "Sugar", Mass: engine.InGrams(10)}, {Name: "Salt", OfStockPct: engine.Some(1)}},
	}
	same(t, lines(t, r, perGram("naoh", 10), perGram("sugar", 100), perGram("water", 1), perGram("house oil", 1), perGram("salt", 50)),
		"water|Water|61.60|0.62", "naoh|Solid in Sodium hydroxide solution, 50 %|40.00|4.00", "naoh|Sugar in Sodium hydroxide solution, 50 %|0.80|0.80",
		"naoh|Salt in Sodium hydroxide solution, 50 %|0.80|0.40", "naoh|Water in Sodium hydroxide solution, 50 %|38.40|0.38", "oil|House oil|400.00|4.00")
	same(t, lines(t, r, perGram("naoh-solution", 5), perGram("house oil", 1))[1:2], "naoh|Sodium hydroxide solution, 50 %|79.99|4.00")
}

// TestPremixes: a pack of its name, else its fats; what a dose holds back of it
// is priced the same way.
func TestPremixes(t *testing.T) {
	r := simple()
	r.Fats = append(r.Fats, engine.FatLine{ID: "drum", Mass: engine.InGrams(200), Premix: &engine.Premix{Name: "Drum blend", Fats: []engine.FatLine{
		{ID: "a", Fat: "olive oil", SharePct: engine.Some(75)}, {ID: "b", Fat: "lard", SharePct: engine.Some(25)},
	}}})
	r.Doses = []engine.Dose{{ID: "white", Custom: &engine.CustomAdditive{Name: "White"}, Mass: engine.InGrams(10), Carrier: &engine.Carrier{Fat: "drum", GPerG: 2}}}
	same(t, lines(t, r, perGram("olive-oil", 1), perGram("lard", 2), perGram("white", 10))[1:],
		"drum|Olive oil in Drum blend|135.00|1.35", "drum|Lard in Drum blend|45.00|0.90", "white|White|10.00|1.00",
		"white/carrier|Olive oil in Drum blend for white|15.00|0.15", "white/carrier|Lard in Drum blend for white|5.00|0.10", "missing naoh", "missing House oil")
	same(t, lines(t, r, perGram("drum blend", 1), perGram("olive-oil", 90))[1:],
		"drum|Drum blend|180.00|1.80", "white/carrier|Drum blend for white|20.00|0.20", "missing naoh", "missing House oil", "missing White")
}

// TestCarriers: water, a fat beyond the recipe, something of the shop's own, and
// a dose weighed premixed with its carrier.
func TestCarriers(t *testing.T) {
	r := simple()
	dose := func(id string, c engine.Carrier) engine.Dose {
		return engine.Dose{ID: id, Custom: &engine.CustomAdditive{Name: "Pigment"}, Mass: engine.InGrams(4), Carrier: &c}
	}
	r.Doses = []engine.Dose{
		dose("a", engine.Carrier{Water: true, GPerG: 2, Extra: true}), dose("b", engine.Carrier{Fat: "Olive Oil", GPerG: 2, Extra: true}),
		dose("c", engine.Carrier{Custom: &engine.CustomAdditive{Name: "Glycerin"}, GPerG: 2}), dose("d", engine.Carrier{Fat: "olive-oil", GPerG: 3, Premixed: true}),
	}
	same(t, lines(t, r, perGram("olive-oil", 10), perGram("pigment", 100), perGram("glycerin", 50), perGram("water", 1))[1:],
		"a|Pigment|4.00|4.00", "a/carrier|Water for pigment|8.00|0.08", "b|Pigment|4.00|4.00", "b/carrier|Olive oil for pigment|8.00|0.80",
		"c|Pigment|4.00|4.00", "c/carrier|Glycerin|8.00|4.00", "d|Pigment|4.00|4.00", "d|Carrier of Pigment|12.00|1.20", "missing naoh", "missing House oil")
}

// TestGrantedWater: water that an additive is granted in its portion is water.
func TestGrantedWater(t *testing.T) {
	recipes, b := whole()
	recipes[0].Recipe.Doses = []engine.Dose{{ID: "clay", Additive: "rose-clay"}}
	recipes[0].Formulation.WeighOut = append(recipes[0].Formulation.WeighOut,
		engine.WeighLine{LineID: "clay", Material: "Rose clay", WeighG: 10}, engine.WeighLine{LineID: "clay/water", Material: "Water for rose clay", WeighG: 7})
	b.Packs = append(b.Packs, perGram("rose-clay", 5))
	list, err := cost.Cost(recipes, b, cost.Options{})
	if err != nil {
		t.Fatal(err)
	}
	got := list[0].Lines[3:]
	if len(got) != 2 || got[0].Amount != "0.50" || got[1].Text != "Water for rose clay (no price: counted as free)" || got[1].Amount != "0.00" {
		t.Errorf("%+v", got)
	}
}

// TestPacksInWords: what a line says of its pack is what a bill says.
func TestPacksInWords(t *testing.T) {
	recipes, b := whole()
	b.Packs[0] = cost.Pack{Material: "olive-oil", Size: engine.Quantity{Value: 5, Unit: engine.Liter}, Price: "42.5", Freight: "6", PriceDate: "2025-02-28"}
	b.Packs[1].Price, b.Packs[1].Freight = "9.805", "0"
	list, err := cost.Cost(recipes, b, cost.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if l := list[0].Lines; l[2].Text != "Olive oil (5 L at 42.50 + 6.00)" || l[2].PriceDate != "2025-02-28" || l[1].Text != "Sodium hydroxide (1 kg at 9.805)" {
		t.Errorf("%+v", l)
	}
}
