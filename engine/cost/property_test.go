package cost_test

import (
	"flag"
	"math"
	"reflect"
	"strings"
	"sync"
	"testing"

	"github.com/cockroachdb/apd/v3"
	"pgregory.net/rapid"

	"lixivium.example/engine"
	"lixivium.example/engine/cost"
)

// The tests reckon with a decimal context of their own.
var exact = apd.BaseContext.WithPrecision(60)

func dec(t reporter, s string) *apd.Decimal {
	t.Helper()
	d, _, err := apd.NewFromString(s)
	if err != nil {
		t.Fatalf("%q is no sum: %v", s, err)
	}
	return d
}

func sum(t reporter, list ...string) *apd.Decimal {
	t.Helper()
	all := apd.New(0, 0)
	for _, s := range list {
		if _, err := exact.Add(all, all, dec(t, s)); err != nil {
			t.Fatalf("%v", err)
		}
	}
	return all
}

func costOne(t reporter, r *engine.Recipe, f *engine.Formulation, x cost.Terms, b *cost.PriceBook, o cost.Options) *cost.Costing {
	t.Helper()
	list, err := cost.Cost([]cost.Costed{{Recipe: r, Formulation: f, Terms: x}}, b, o)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return &list[0]
}

// statedFlags are those of the command line; setting a flag would count too.
var statedFlags = sync.OnceValue(func() map[string]bool {
	stated := map[string]bool{}
	flag.Visit(func(f *flag.Flag) { stated[f.Name] = true })
	return stated
})

// check tries a property from a fixed seed, so that a change elsewhere cannot
// make it fail by chance. Other numbers and seeds by flag.
func check(t *testing.T, property func(*rapid.T)) {
	t.Helper()
	for name, value := range map[string]string{"rapid.checks": "200", "rapid.seed": "1", "rapid.nofailfile": "true", "rapid.shrinktime": "5s"} {
		if statedFlags()[name] {
			continue
		}
		if err := flag.Set(name, value); err != nil {
			t.Fatal(err)
		}
	}
	rapid.Check(t, property)
}

// TestFiguresHangTogether: the batch is the sum of its lines, price less fees
// less cost is the margin to the cent, a wanted margin is held, every figure is
// explained, and asking for that changes none.
func TestFiguresHangTogether(t *testing.T) {
	check(t, func(t *rapid.T) {
		r, b, x := drawRecipe(t), drawBook(t), drawTerms(t)
		f := formulated(t, r, rapid.Bool().Draw(t, "balances"))
		c := costOne(t, r, f, x, b, cost.Options{IncludeWorksheet: true})
		decimals := map[string]int{"EUR": 2, "USD": 2, "JPY": 0, "BHD": 3}[b.CurrencyCode]
		var amounts []string
		for _, l := range c.Lines {
			amounts = append(amounts, l.Amount)
			if _, after, _ := strings.Cut(l.Amount, "."); len(after) != decimals {
				t.Errorf("%s of %s has %d decimals", l.Amount, b.CurrencyCode, len(after))
			}
		}
		if sum(t, amounts...).Cmp(dec(t, c.PerBatch)) != 0 {
			t.Errorf("lines %v, batch %s", amounts, c.PerBatch)
		}
		bars := dec(t, "0")
		if _, err := exact.Mul(bars, dec(t, c.PerBar), apd.New(int64(x.SaleableBars), 0)); err != nil || bars.Cmp(dec(t, c.PerBatch)) < 0 {
			t.Errorf("%d bars at %s do not pay for %s", x.SaleableBars, c.PerBar, c.PerBatch)
		}
		checkPrice(t, c, &x)
		checkSheet(t, c.Worksheet)
		checkCovered(t, c)
		plain := costOne(t, r, f, x, b, cost.Options{AllowPartial: true})
		c.Worksheet = nil
		if !reflect.DeepEqual(plain, c) {
			t.Errorf("worksheet or partial cost changed a figure:\n%+v\n%+v", plain, c)
		}
	})
}

func checkPrice(t *rapid.T, c *cost.Costing, x *cost.Terms) {
	if c.PriceBeforeTax == "" {
		if c.FeesPerBar != "" || c.MarginPerBar != "" || c.BreakEvenBars != 0 {
			t.Errorf("no price, but %+v", c)
		}
		return
	}
	if sum(t, c.FeesPerBar, c.PerBar, c.MarginPerBar).Cmp(dec(t, c.PriceBeforeTax)) != 0 {
		t.Errorf("%s - %s - %s is not %s", c.PriceBeforeTax, c.FeesPerBar, c.PerBar, c.MarginPerBar)
	}
	if want, ok := x.MarginPct.Get(); ok {
		if float64(c.MarginPct) < want-1e-12 {
			t.Errorf("a margin of %v %% was wanted, %v %% is held at %s", want, c.MarginPct, c.PriceBeforeTax)
		}
		// No more than the rounding of price, fee and tax asks for.
		unit := math.Pow10(-len(after(c.PerBar)))
		least := (float(t, c.PerBar) + float(t, orZero(x.FeePerBar))) / (1 - want/100 - x.FeePct/100)
		if most := least + unit*(3+0.5/(1-want/100-x.FeePct/100)); float(t, c.PriceBeforeTax) > most {
			t.Errorf("%s is dearer than %v", c.PriceBeforeTax, most)
		}
	}
	if n := c.BreakEvenBars; n > 0 {
		earned := float(t, c.PriceBeforeTax) - float(t, c.FeesPerBar)
		if batch := float(t, c.PerBatch); float64(n)*earned < batch-1e-6 || float64(n-1)*earned >= batch+1e-6 {
			t.Errorf("%d bars of %v for %v", n, earned, batch)
		}
	}
	for i := 1; i < len(c.Sensitivity); i++ {
		if dec(t, c.Sensitivity[i-1].PerBar).Cmp(dec(t, c.Sensitivity[i].PerBar)) < 0 {
			t.Errorf("not worst first: %+v", c.Sensitivity)
		}
	}
}

func after(s string) string { _, a, _ := strings.Cut(s, "."); return a }

func orZero(s string) string {
	if s == "" {
		return "0"
	}
	return s
}

func float(t reporter, s string) float64 {
	v, err := dec(t, s).Float64()
	if err != nil {
		t.Fatalf("%v", err)
	}
	return v
}

// TestTwiceTheBatch: without balances every mass doubles, and so does every line
// of the materials, as far as cents let it.
func TestTwiceTheBatch(t *testing.T) {
	check(t, func(t *rapid.T) {
		r, b := drawRecipe(t), drawBook(t)
		x := cost.Terms{SaleableBars: 10}
		small := costOne(t, r, formulated(t, r, false), x, b, cost.Options{})
		for i := range r.Fats {
			r.Fats[i].Mass.Value *= 2
		}
		large := costOne(t, r, formulated(t, r, false), x, b, cost.Options{})
		if len(large.Lines) != len(small.Lines) {
			t.Fatalf("%d lines became %d", len(small.Lines), len(large.Lines))
		}
		for i, l := range large.Lines {
			was := small.Lines[i]
			if off := math.Abs(float(t, l.Amount) - 2*float(t, was.Amount)); off > 1.5*math.Pow10(-len(after(l.Amount)))+1e-9 {
				t.Errorf("%s: %s, then %s", l.Text, was.Amount, l.Amount)
			}
		}
	})
}

// TestOneCurrency: the code is shown and converts nothing; currencies with as
// many decimals give the same figures, and no other code occurs anywhere.
func TestOneCurrency(t *testing.T) {
	check(t, func(t *rapid.T) {
		r, b, x := drawRecipe(t), drawBook(t), drawTerms(t)
		f := formulated(t, r, false)
		b.CurrencyCode = "EUR"
		euro := costOne(t, r, f, x, b, cost.Options{IncludeWorksheet: true})
		b.CurrencyCode = "USD"
		dollar := costOne(t, r, f, x, b, cost.Options{IncludeWorksheet: true})
		for _, l := range dollar.Worksheet {
			for _, in := range l.Inputs {
				l.Unit += " " + in.Unit
			}
			if strings.Contains(l.Unit, "EUR") {
				t.Errorf("%s is in %s", l.ID, l.Unit)
			}
		}
		if euro.CurrencyCode != "EUR" || dollar.CurrencyCode != "USD" {
			t.Errorf("%s, %s", euro.CurrencyCode, dollar.CurrencyCode)
		}
		euro.CurrencyCode, euro.Worksheet, dollar.Worksheet = "USD", nil, nil
		if !reflect.DeepEqual(euro, dollar) {
			t.Error("the name of the currency changed a figure")
		}
	})
}

// TestADearerPackChangesNothing: of several packs the cheapest per gram counts.
func TestADearerPackChangesNothing(t *testing.T) {
	check(t, func(t *rapid.T) {
		r, b, x := drawRecipe(t), drawBook(t), drawTerms(t)
		f := formulated(t, r, false)
		was := costOne(t, r, f, x, b, cost.Options{})
		dear := b.Packs[rapid.IntRange(0, len(b.Packs)-1).Draw(t, "pack")]
		dear.Freight = "99999999"
		b.Packs = append(b.Packs, dear)
		if now := costOne(t, r, f, x, b, cost.Options{}); !reflect.DeepEqual(was, now) {
			t.Errorf("a dearer pack of %s changed\n%+v\ninto\n%+v", dear.Material, was, now)
		}
	})
}
