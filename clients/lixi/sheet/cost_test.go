package sheet

import (
	"testing"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

func TestCosts(t *testing.T) {
	terms := func(bars uint32, tax float64) *lixiviumv1.CostedRecipe {
		return &lixiviumv1.CostedRecipe{Terms: &lixiviumv1.CostTerms{SaleableBars: bars, TaxPct: tax}}
	}
	got := Costs(&lixiviumv1.CostResponse{Costings: []*lixiviumv1.Costing{
		{
			RecipeName: "Sea\x1b[31m bar", CurrencyCode: "EUR", PerBatch: "9.75", PerBar: "0.82", PriceBeforeTax: "0.60", PriceWithTax: "0.72",
			FeesPerBar: "0.05", MarginPerBar: "-0.27", MarginPct: -45, MarkupPct: -26.829,
			Lines: []*lixiviumv1.CostLine{
				{Layer: "materials", LineId: "oil", Text: "Olive oil (5 L at 42.50)", MassG: 1000, Amount: "9.29", PerBar: "0.7742", PriceDate: "2025-01-14"},
				{Layer: "materials", LineId: "salt", Text: "Salt (1 kg at 1.10)", MassG: 0.25, Amount: "0.01", PerBar: "0.0008"},
				{Layer: "packaging", Text: "Packaging, 12 bars at 0.0375", Amount: "0.45", PerBar: "0.0375"},
			},
			Sensitivity: []*lixiviumv1.PriceSensitivity{{Material: "olive-oil", PerBar: "1.59", MarginPct: -173.3}},
		},
		{
			CurrencyCode: "EUR", PerBatch: "3.00", PerBar: "1.00", MissingMaterials: []string{"koh", "White"},
			Lines:       []*lixiviumv1.CostLine{{Layer: "overhead", Text: "Overhead of a batch", Amount: "3.00", PerBar: "1.0000"}},
			Sensitivity: []*lixiviumv1.PriceSensitivity{{Material: "a", PerBar: "1.00"}, {}, {}, {}, {}, {Material: "the sixth"}},
		},
	}}, []*lixiviumv1.CostedRecipe{terms(12, 20), terms(3, 0)})
	const want = `Sea?[31m bar, cost
==================
The batch costs EUR 9.75; a bar, of 12 that can be sold, EUR 0.82.
Price EUR 0.60 before tax, 0.72 with 20.0 % of tax. Fees take 0.05 and the cost
  0.82; -0.27 is left.
  Margin -45.0 % of the price before tax, markup -26.8 % of the cost.
  At this price the batch never pays for itself.

MATERIALS EUR 9.30
   EUR   a bar   grams  what
  9.29  0.7742  1000.0  Olive oil (5 L at 42.50), price of 2025-01-14
  0.01  0.0008    0.25  Salt (1 kg at 1.10)

PACKAGING EUR 0.45
   EUR   a bar  what
  0.45  0.0375  Packaging, 12 bars at 0.0375

ALL TOGETHER EUR 9.75

IF A PRICE DOUBLES, A BAR COSTS (what hurts most first)
   EUR    margin  of
  1.59  -173.3 %  olive-oil

Batch without a name, cost
==========================
INCOMPLETE: no price of koh, White. It costs more than this.
The batch costs EUR 3.00; a bar, of 3 that can be sold, EUR 1.00.
  No price was asked for: terms can name margin_pct, markup_pct or price.

OVERHEAD EUR 3.00
   EUR   a bar  what
  3.00  1.0000  Overhead of a batch

ALL TOGETHER EUR 3.00

IF A PRICE DOUBLES, A BAR COSTS (what hurts most first)
   EUR  margin  of
  1.00       -  a
             -
             -
             -
             -

SIDE BY SIDE (EUR)
  batch  a bar  price   margin  recipe
   9.75   0.82   0.60  -45.0 %  Sea?[31m bar
   3.00   1.00      -        -  Batch without a name (incomplete)
`
	if got != want {
		t.Errorf("got\n%s", got)
	}
	if s := total([]string{"1000", "24"}); s != "1024" {
		t.Error(s)
	}
}
