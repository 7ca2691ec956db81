package cost_test

import (
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"lixivium.example/engine"
	"lixivium.example/engine/cost"
)

// worked reads an example's inputs into a batch of one bar: an oil where a price
// is given, and free water.
func worked(t *testing.T, inputs string) (cost.Costed, *cost.PriceBook) {
	t.Helper()
	in := cost.Costed{Recipe: &engine.Recipe{}, Terms: cost.Terms{SaleableBars: 1}, Formulation: &engine.Formulation{
		WeighOut: []engine.WeighLine{{LineID: "water", Material: "Water", WeighG: 100}},
	}}
	b := &cost.PriceBook{CurrencyCode: "EUR"}
	p, mass := cost.Pack{Material: "olive-oil"}, 0.0
	for _, pair := range strings.Fields(inputs) {
		name, value, _ := strings.Cut(pair, "=")
		v, err := strconv.ParseFloat(value, 64)
		if err != nil && name != "currency" {
			t.Fatal(err)
		}
		x := &in.Terms
		switch name {
		case "currency":
			b.CurrencyCode = value
		case "price":
			p.Price = value
		case "freight":
			p.Freight = value
		case "kg":
			p.Size = engine.Quantity{Value: v, Unit: engine.Kilogram}
		case "l":
			p.Size = engine.Quantity{Value: v, Unit: engine.Liter}
		case "density":
			p.DensityGPerML = engine.Some(v)
		case "waste":
			p.WastePct = v
		case "mass":
			mass = v
		case "overhead":
			x.OverheadPerBatch = value
		case "overhead_pct":
			x.OverheadPct = v
		case "bars":
			x.SaleableBars = int(v)
		case "packaging":
			x.PackagingPerBar = value
		case "minutes":
			x.LaborMinutes = v
		case "per_hour":
			x.LaborPerHour = value
		case "fixed":
			x.FeePerBar = value
		case "fee":
			x.FeePct = v
		case "margin":
			x.MarginPct = engine.Some(v)
		case "markup":
			x.MarkupPct = engine.Some(v)
		case "price_of_bar":
			x.Price = &value
		case "tax":
			x.TaxPct = v
		case "tax_in":
			x.PriceIncludesTax = true
		default:
			t.Fatalf("no input is called %s", name)
		}
	}
	if p.Price != "" {
		b.Packs = []cost.Pack{p}
		in.Recipe.Fats = []engine.FatLine{{ID: "oil", Fat: "olive-oil"}}
		in.Formulation.Fats = []engine.FatAnswer{{LineID: "oil", FatID: "olive-oil", Name: "Olive oil"}}
		in.Formulation.WeighOut = append(in.Formulation.WeighOut, engine.WeighLine{LineID: "oil", Material: "Olive oil", WeighG: engine.InGrams(mass).Grams()})
	}
	return in, b
}

func figure(t *testing.T, c *cost.Costing, name string) string {
	t.Helper()
	number := func(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
	switch name {
	case "amount":
		return c.Lines[len(c.Lines)-1].Amount
	case "per_batch":
		return c.PerBatch
	case "per_bar":
		return c.PerBar
	case "price_before_tax":
		return c.PriceBeforeTax
	case "price_with_tax":
		return c.PriceWithTax
	case "fees_per_bar":
		return c.FeesPerBar
	case "margin_per_bar":
		return c.MarginPerBar
	case "margin_pct":
		return number(float64(c.MarginPct))
	case "markup_pct":
		return number(float64(c.MarkupPct))
	case "break_even_bars":
		return strconv.Itoa(c.BreakEvenBars)
	case "doubled_margin_pct":
		return number(float64(c.Sensitivity[0].MarginPct))
	}
	t.Fatalf("no figure is called %s", name)
	return ""
}

// TestWorkedExamples compares with the examples of testdata/published/cost.tsv,
// each reckoned by hand there. Sums of money must agree to the letter.
func TestWorkedExamples(t *testing.T) {
	data, err := os.ReadFile("../../testdata/published/cost.tsv")
	if err != nil {
		t.Fatal(err)
	}
	rows := strings.Split(strings.TrimSuffix(string(data), "\n"), "\n")[1:]
	if len(rows) < 15 {
		t.Fatalf("%d rows", len(rows))
	}
	for _, row := range rows {
		cells := strings.Split(row, "\t")
		t.Run(cells[0], func(t *testing.T) {
			in, b := worked(t, cells[2])
			list, err := cost.Cost([]cost.Costed{in}, b, cost.Options{})
			if err != nil {
				t.Fatal(err)
			}
			got, want := figure(t, &list[0], cells[1]), cells[3]
			if strings.HasSuffix(cells[1], "_pct") {
				if math.Abs(float(t, got)-float(t, want)) > 5e-5 {
					t.Errorf("%s = %s, by hand %s (%s)", cells[1], got, want, cells[7])
				}
			} else if got != want {
				t.Errorf("%s = %s, by hand %s (%s)", cells[1], got, want, cells[7])
			}
		})
	}
}
