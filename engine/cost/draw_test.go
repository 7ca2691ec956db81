package cost_test

import (
	"context"
	"fmt"
	"math"
	"strconv"

	"pgregory.net/rapid"

	"lixivium.example/engine"
	"lixivium.example/engine/cost"
)

// Materials that drawn recipes use, each with the name that a pack has.
var (
	fatIDs = []string{"olive-oil", "coconut-oil", "palm-oil", "castor-oil", "lard", "shea-butter"}
	priced = append([]string{"naoh", "koh", "naoh-solution", "water", "Own fat", "White", "Clay", "Sugar"}, fatIDs...)
)

func grams(t *rapid.T, low, high float64, label string) engine.Quantity {
	return engine.InGrams(math.Round(rapid.Float64Range(low, high).Draw(t, label)*10) / 10)
}

// drawRecipe draws a batch that can be made, with everything that is paid for
// in a way of its own: premixes, stocks, carriers, premixed doses.
func drawRecipe(t *rapid.T) *engine.Recipe {
	r := &engine.Recipe{Name: "Drawn", Alkali: engine.Alkali{SuperfatPct: engine.Some(5)}, Water: &engine.Water{Measure: &engine.WaterMeasure{LyeConcentrationPct: engine.Some(30)}}}
	for i := range rapid.IntRange(1, 4).Draw(t, "fats") {
		l := engine.FatLine{ID: "fat-" + strconv.Itoa(i), Mass: grams(t, 200, 900, "mass")}
		switch rapid.IntRange(0, 5).Draw(t, "kind") {
		case 0:
			l.Custom = &engine.CustomFat{Name: "Own fat", SV: engine.Measured{Value: 191}}
		case 1:
			l.Premix = &engine.Premix{Name: "Blend", Fats: []engine.FatLine{
				{ID: "a", Fat: "olive-oil", SharePct: engine.Some(37.5)}, {ID: "b", Fat: rapid.SampledFrom(fatIDs).Draw(t, "fat"), SharePct: engine.Some(62.5)},
			}}
		default:
			l.Fat = rapid.SampledFrom(fatIDs).Draw(t, "fat")
		}
		r.Fats = append(r.Fats, l)
	}
	switch rapid.IntRange(0, 3).Draw(t, "alkali") {
	case 0:
		r.Alkali.NaOH = &engine.AlkaliStock{Solution: &engine.SolutionStrength{MassPct: engine.Some(50)}}
	case 1:
		r.Alkali.NaOH = &engine.AlkaliStock{
			Made:      &engine.MadeStock{Solid: engine.InGrams(500), Water: engine.Quantity{Value: 600, Unit: engine.Milliliter}},
			AlsoHolds: []engine.StockContent{{Name: "Sugar", Mass: engine.InGrams(10)}, {Name: "Sugar", OfStockPct: engine.Some(0.5)}},
		}
	case 2:
		r.Alkali.KOHOfMolesPct = engine.Some(20)
	}
	if rapid.Bool().Draw(t, "portions") {
		r.Portions = []engine.Portion{{ID: "p", BaseSharePct: 40}, {ID: "q", BaseSharePct: 60}}
	}
	for i := range rapid.IntRange(0, 3).Draw(t, "doses") {
		d := engine.Dose{ID: "dose-" + strconv.Itoa(i), Custom: &engine.CustomAdditive{Name: "White"}, OfFatsPct: engine.Some(1)}
		if len(r.Portions) > 0 && rapid.Bool().Draw(t, "in a portion") {
			d.PortionID = "p"
		}
		switch rapid.IntRange(0, 5).Draw(t, "carrier") {
		case 0:
			d.Carrier = &engine.Carrier{Water: true, GPerG: 2}
		case 1:
			d.Carrier = &engine.Carrier{Fat: "fat-0", GPerG: 1.5}
		case 2:
			d.Carrier = &engine.Carrier{Fat: "Olive Oil", GPerG: 2, Extra: true}
		case 3:
			d.Carrier = &engine.Carrier{Fat: "olive-oil", GPerG: 2, Premixed: true}
		case 4:
			d.Carrier = &engine.Carrier{Custom: &engine.CustomAdditive{Name: "Clay"}, GPerG: 0.5}
		}
		r.Doses = append(r.Doses, d)
	}
	return r
}

// drawBook draws prices for everything a drawn recipe may need, some twice, some
// by volume.
func drawBook(t *rapid.T) *cost.PriceBook {
	b := &cost.PriceBook{CurrencyCode: rapid.SampledFrom([]string{"EUR", "USD", "JPY", "BHD"}).Draw(t, "currency")}
	names := priced
	if rapid.Bool().Draw(t, "premix priced") {
		names = append([]string{"Blend"}, names...)
	}
	for _, name := range names {
		for range rapid.IntRange(1, 2).Draw(t, "packs") {
			p := cost.Pack{Material: name, Size: engine.Quantity{Value: float64(rapid.IntRange(1, 25).Draw(t, "size")), Unit: engine.Kilogram}, Price: money(t, 1, 900000)}
			switch rapid.IntRange(0, 3).Draw(t, "pack") {
			case 0:
				p.Freight = money(t, 0, 9000)
			case 1:
				p.WastePct = float64(rapid.IntRange(1, 20).Draw(t, "waste"))
			case 2:
				p.Size.Unit, p.DensityGPerML = engine.FluidOunceUS, engine.Some(0.913)
			}
			b.Packs = append(b.Packs, p)
		}
	}
	for i := range b.Packs { // two draws may be alike
		b.Packs[i].PriceDate = fmt.Sprintf("2025-01-%02d", 1+i%28)
	}
	return b
}

// money draws a sum between two numbers of hundredths.
func money(t *rapid.T, low, high int) string {
	n := rapid.IntRange(low, high).Draw(t, "money")
	return fmt.Sprintf("%d.%02d", n/100, n%100)
}

func drawTerms(t *rapid.T) cost.Terms {
	x := cost.Terms{SaleableBars: rapid.IntRange(1, 40).Draw(t, "bars"), LaborMinutes: float64(rapid.IntRange(0, 200).Draw(t, "minutes")), LaborPerHour: money(t, 0, 3000)}
	x.OverheadPerBatch = money(t, 500, 5000) // so that no bar is free
	share := func(label string, high int) float64 {
		return float64(rapid.IntRange(1, high).Draw(t, label))
	}
	if rapid.Bool().Draw(t, "more") {
		x.PackagingPerBar = money(t, 0, 100)
		x.OverheadPct, x.FeePct, x.FeePerBar = share("overhead", 60), share("fee", 15), money(t, 0, 90)
	}
	if rapid.Bool().Draw(t, "taxed") {
		x.TaxPct, x.PriceIncludesTax = share("tax", 25), rapid.Bool().Draw(t, "tax in")
	}
	switch rapid.IntRange(0, 4).Draw(t, "pricing") {
	case 0, 1:
		x.MarginPct = engine.Some(share("margin", 60))
	case 2:
		x.MarkupPct = engine.Some(share("markup", 300))
	case 3:
		price := strconv.Itoa(rapid.IntRange(1, 5000).Draw(t, "price"))
		x.Price = &price
	}
	return x
}

// formulated is a drawn batch with its answer.
func formulated(t *rapid.T, r *engine.Recipe, balances bool) *engine.Formulation {
	o := engine.Options{IncludeWorksheet: true}
	if balances {
		o.Balances = []engine.Balance{{Step: engine.InGrams(1)}, {Step: engine.InGrams(0.01), Capacity: engine.InGrams(200)}}
	}
	f, err := engine.New(nil).Formulate(context.Background(), r, o)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return f
}
