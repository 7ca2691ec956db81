package cost_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"lixivium.example/engine"
	"lixivium.example/engine/cost"
)

// whole is a request that is fine: an oil, lye and free water, twelve bars.
func whole() ([]cost.Costed, *cost.PriceBook) {
	kg := func(v float64) engine.Quantity { return engine.Quantity{Value: v, Unit: engine.Kilogram} }
	return []cost.Costed{{
			Recipe: &engine.Recipe{Name: "Plain", Fats: []engine.FatLine{{ID: "oil", Fat: "olive-oil"}}},
			Formulation: &engine.Formulation{
				Fats: []engine.FatAnswer{{LineID: "oil", FatID: "olive-oil", Name: "Olive oil"}},
				WeighOut: []engine.WeighLine{
					{LineID: "water", Material: "Water", WeighG: 250}, {LineID: "naoh", Material: "Sodium hydroxide", WeighG: 125}, {LineID: "oil", Material: "Olive oil", WeighG: 1000},
				},
			},
			Terms: cost.Terms{SaleableBars: 12, MarginPct: engine.Some(40)},
		}}, &cost.PriceBook{CurrencyCode: "EUR", Packs: []cost.Pack{
			{Material: "olive-oil", Size: kg(5), Price: "42.50"}, {Material: "naoh", Size: kg(1), Price: "9.80"},
		}}
}

func violations(t *testing.T, recipes []cost.Costed, b *cost.PriceBook) []engine.Violation {
	t.Helper()
	list, err := cost.Cost(recipes, b, cost.Options{})
	var wrong *engine.Violations
	if err == nil || !errors.As(err, &wrong) || list != nil {
		t.Fatalf("%v, %v", list, err)
	}
	return wrong.List
}

func TestBadInput(t *testing.T) {
	type change = func(x *cost.Terms, b *cost.PriceBook)
	text := func(s string) *string { return &s }
	price := func(s string) change { return func(_ *cost.Terms, b *cost.PriceBook) { b.Packs[0].Price = s } }
	pack := func(f func(*cost.Pack)) change {
		return func(_ *cost.Terms, b *cost.PriceBook) { f(&b.Packs[0]) }
	}
	terms := func(f func(*cost.Terms)) change { return func(x *cost.Terms, _ *cost.PriceBook) { f(x) } }
	for name, c := range map[string]struct {
		change             change
		path, reason, says string
	}{
		"no price":               {price(""), "prices.packs[0].price", engine.ReasonRequired, "There is no price."},
		"zero":                   {price("0.00"), "prices.packs[0].price", engine.ReasonRange, "The price is zero."},
		"negative":               {price("-3"), "prices.packs[0].price", cost.ReasonMoney, "is negative"},
		"decimal comma":          {price("12,50"), "prices.packs[0].price", cost.ReasonMoney, "decimal comma. Write 12.50."},
		"comma or thousands":     {price("1,234"), "prices.packs[0].price", cost.ReasonMoney, "Write 1.234 for a decimal, 1234 for thousands."},
		"grouped, American":      {price("1,234.50"), "prices.packs[0].price", cost.ReasonMoney, "in groups. Write 1234.50."},
		"grouped, European":      {price("1.234,50"), "prices.packs[0].price", cost.ReasonMoney, "in groups. Write 1234.50."},
		"grouped, no decimals":   {price("1.234.567"), "prices.packs[0].price", cost.ReasonMoney, "Write 1234567."},
		"grouped by spaces":      {price("1 234.50"), "prices.packs[0].price", cost.ReasonMoney, "Write 1234.50;"},
		"with a sign":            {price("€12"), "prices.packs[0].price", cost.ReasonMoney, "Write 12; currency_code says the currency."},
		"with a code":            {price("12,5 EUR"), "prices.packs[0].price", cost.ReasonMoney, "Write 12.5."},
		"no digit before":        {price(".5"), "prices.packs[0].price", cost.ReasonMoney, "Write 0.5."},
		"no digit after":         {price("5."), "prices.packs[0].price", cost.ReasonMoney, "Write 5."},
		"exponent":               {price("1e3"), "prices.packs[0].price", cost.ReasonMoney, "plain digits"},
		"no number":              {price("cheap"), "prices.packs[0].price", cost.ReasonMoney, "plain digits"},
		"infinite":               {price("Infinity"), "prices.packs[0].price", cost.ReasonMoney, "plain digits"},
		"long text":              {price(strings.Repeat("9,", 5000)), "prices.packs[0].price", cost.ReasonMoney, "plain digits"},
		"too many digits":        {price("1234567890123"), "prices.packs[0].price", cost.ReasonMoney, "more digits"},
		"too many decimals":      {price("1.1234567"), "prices.packs[0].price", cost.ReasonMoney, "more digits"},
		"freight":                {pack(func(p *cost.Pack) { p.Freight = "4,50" }), "prices.packs[0].freight", cost.ReasonMoney, "Write 4.50."},
		"no material":            {pack(func(p *cost.Pack) { p.Material = " " }), "prices.packs[0].material", engine.ReasonRequired, "Say what the pack holds"},
		"long name":              {pack(func(p *cost.Pack) { p.Material = strings.Repeat("x", 201) }), "prices.packs[0].material", engine.ReasonTooMany, "200"},
		"no size":                {pack(func(p *cost.Pack) { p.Size = engine.Quantity{} }), "prices.packs[0].size", engine.ReasonRequired, "State the size"},
		"unknown unit":           {pack(func(p *cost.Pack) { p.Size.Unit = 99 }), "prices.packs[0].size", engine.ReasonRequired, "State the size"},
		"size zero":              {pack(func(p *cost.Pack) { p.Size.Value = 0 }), "prices.packs[0].size.kg", engine.ReasonRange, "Look at the size"},
		"size negative":          {pack(func(p *cost.Pack) { p.Size.Value = -1 }), "prices.packs[0].size.kg", engine.ReasonRange, "Look at the size"},
		"size not finite":        {pack(func(p *cost.Pack) { p.Size.Value = math.Inf(1) }), "prices.packs[0].size.kg", engine.ReasonNotFinite, "finite"},
		"waste not a number":     {pack(func(p *cost.Pack) { p.WastePct = math.NaN() }), "prices.packs[0].waste_pct", engine.ReasonNotFinite, "finite"},
		"waste too large":        {pack(func(p *cost.Pack) { p.WastePct = 91 }), "prices.packs[0].waste_pct", engine.ReasonRange, "0 to 90 %"},
		"waste as a fraction":    {pack(func(p *cost.Pack) { p.WastePct = 0.07 }), "prices.packs[0].waste_pct", engine.ReasonLikelySlip, "write 7 if that is meant"},
		"volume of a hard fat":   {pack(func(p *cost.Pack) { p.Material, p.Size.Unit = "shea-butter", engine.Liter }), "prices.packs[0].density_g_per_ml", cost.ReasonDensity, "no density of it is known"},
		"volume of a custom one": {pack(func(p *cost.Pack) { p.Material, p.Size.Unit = "White", engine.CupUS }), "prices.packs[0].density_g_per_ml", cost.ReasonDensity, "no density of it is known"},
		"density too large":      {pack(func(p *cost.Pack) { p.Size.Unit, p.DensityGPerML = engine.Liter, engine.Some(915) }), "prices.packs[0].density_g_per_ml", engine.ReasonRange, "0.2 to 8 g/mL"},
		"density not a number":   {pack(func(p *cost.Pack) { p.Size.Unit, p.DensityGPerML = engine.Liter, engine.Some(math.NaN()) }), "prices.packs[0].density_g_per_ml", engine.ReasonNotFinite, "finite"},
		"date in words":          {pack(func(p *cost.Pack) { p.PriceDate = "31 March" }), "prices.packs[0].price_date", cost.ReasonDate, "2025-03-31"},
		"no such day":            {pack(func(p *cost.Pack) { p.PriceDate = "2023-02-29" }), "prices.packs[0].price_date", cost.ReasonDate, "no day"},
		"day with a sign":        {pack(func(p *cost.Pack) { p.PriceDate = "2023-02--1" }), "prices.packs[0].price_date", cost.ReasonDate, "no day"},
		"the same pack twice":    {func(_ *cost.Terms, b *cost.PriceBook) { b.Packs = append(b.Packs, b.Packs[1]) }, "prices.packs[2]", engine.ReasonDuplicate, "packs[1] once more"},
		"too many packs":         {func(_ *cost.Terms, b *cost.PriceBook) { b.Packs = make([]cost.Pack, 2001) }, "prices.packs", engine.ReasonTooMany, "at most 2000"},
		"no currency":            {func(_ *cost.Terms, b *cost.PriceBook) { b.CurrencyCode = "" }, "prices.currency_code", engine.ReasonRequired, "ISO 4217"},
		"currency by sign":       {func(_ *cost.Terms, b *cost.PriceBook) { b.CurrencyCode = "€" }, "prices.currency_code", cost.ReasonCurrency, "three letters"},
		"currency of digits":     {func(_ *cost.Terms, b *cost.PriceBook) { b.CurrencyCode = "978" }, "prices.currency_code", cost.ReasonCurrency, "three letters"},
		"currency in small":      {func(_ *cost.Terms, b *cost.PriceBook) { b.CurrencyCode = "eur" }, "prices.currency_code", cost.ReasonCurrency, "not in capitals"},
		"no bars":                {terms(func(x *cost.Terms) { x.SaleableBars = 0 }), "recipes[0].terms.saleable_bars", engine.ReasonRequired, "State how many bars"},
		"fewer than none":        {terms(func(x *cost.Terms) { x.SaleableBars = -1 }), "recipes[0].terms.saleable_bars", engine.ReasonRange, "Count the bars"},
		"too many bars":          {terms(func(x *cost.Terms) { x.SaleableBars = 100001 }), "recipes[0].terms.saleable_bars", engine.ReasonRange, "1 to 100000"},
		"negative packaging":     {terms(func(x *cost.Terms) { x.PackagingPerBar = "-0.30" }), "recipes[0].terms.packaging_per_bar", cost.ReasonMoney, "negative"},
		"negative minutes":       {terms(func(x *cost.Terms) { x.LaborMinutes = -1 }), "recipes[0].terms.labor_minutes", engine.ReasonRange, "0 to 100000 min"},
		"minutes without a wage": {terms(func(x *cost.Terms) { x.LaborMinutes = 30 }), "recipes[0].terms.labor_per_hour", engine.ReasonRequired, "or 0 for work"},
		"overhead":               {terms(func(x *cost.Terms) { x.OverheadPct = 501 }), "recipes[0].terms.overhead_pct", engine.ReasonRange, "0 to 500 %"},
		"overhead per batch":     {terms(func(x *cost.Terms) { x.OverheadPerBatch = "3,5" }), "recipes[0].terms.overhead_per_batch", cost.ReasonMoney, "Write 3.5."},
		"negative fee":           {terms(func(x *cost.Terms) { x.FeePerBar = "-1" }), "recipes[0].terms.fee_per_bar", cost.ReasonMoney, "negative"},
		"negative share of fee":  {terms(func(x *cost.Terms) { x.FeePct = -2 }), "recipes[0].terms.fee_pct", engine.ReasonRange, "0 to 100 %"},
		"fee as a fraction":      {terms(func(x *cost.Terms) { x.FeePct = 0.03 }), "recipes[0].terms.fee_pct", engine.ReasonLikelySlip, "write 3 if"},
		"margin and fee":         {terms(func(x *cost.Terms) { x.MarginPct, x.FeePct = engine.Some(90), 10 }), "recipes[0].terms.margin_pct", engine.ReasonConflict, "come to 100 %"},
		"margin of all":          {terms(func(x *cost.Terms) { x.MarginPct = engine.Some(100) }), "recipes[0].terms.margin_pct", engine.ReasonConflict, "stay below 100"},
		"margin as a fraction":   {terms(func(x *cost.Terms) { x.MarginPct = engine.Some(0.4) }), "recipes[0].terms.margin_pct", engine.ReasonLikelySlip, "write 40 if"},
		"negative margin":        {terms(func(x *cost.Terms) { x.MarginPct = engine.Some(-5) }), "recipes[0].terms.margin_pct", engine.ReasonRange, "0 to 100 %"},
		"tax":                    {terms(func(x *cost.Terms) { x.TaxPct = 101 }), "recipes[0].terms.tax_pct", engine.ReasonRange, "sales tax"},
		"two ways to a price":    {terms(func(x *cost.Terms) { x.MarkupPct = engine.Some(50) }), "recipes[0].terms", engine.ReasonConflict, "State one of"},
		"negative markup":        {terms(func(x *cost.Terms) { x.MarginPct, x.MarkupPct = engine.Optional{}, engine.Some(-1) }), "recipes[0].terms.markup_pct", engine.ReasonRange, "put on the cost"},
		"price of zero":          {terms(func(x *cost.Terms) { x.MarginPct, x.Price = engine.Optional{}, text("0") }), "recipes[0].terms.price", engine.ReasonRange, "The price is zero."},
		"price empty":            {terms(func(x *cost.Terms) { x.MarginPct, x.Price = engine.Optional{}, text("") }), "recipes[0].terms.price", engine.ReasonRequired, "There is no price."},
		"price of half a cent":   {terms(func(x *cost.Terms) { x.MarginPct, x.Price = engine.Optional{}, text("6.505") }), "recipes[0].terms.price", cost.ReasonMoney, "Write 6.51."},
		"all of it a fee":        {terms(func(x *cost.Terms) { x.MarginPct, x.MarkupPct, x.FeePct = engine.Optional{}, engine.Some(50), 100 }), "recipes[0].terms.fee_pct", engine.ReasonRange, "below 100"},
	} {
		t.Run(name, func(t *testing.T) {
			recipes, b := whole()
			c.change(&recipes[0].Terms, b)
			list := violations(t, recipes, b)
			if v := list[0]; len(list) != 1 || v.Path != c.path || v.Reason != c.reason || !strings.Contains(v.Text, c.says) {
				t.Errorf("got %+v", list)
			}
		})
	}
}

func TestNothingToCost(t *testing.T) {
	recipes, b := whole()
	if v := violations(t, nil, b); v[0].Path != "recipes" || v[0].Reason != engine.ReasonRequired {
		t.Errorf("%+v", v)
	}
	if v := violations(t, make([]cost.Costed, 501), b); v[0].Path != "recipes" || v[0].Reason != engine.ReasonTooMany {
		t.Errorf("%+v", v)
	}
	if v := violations(t, recipes, nil); v[0].Path != "prices" || v[0].Reason != engine.ReasonRequired {
		t.Errorf("%+v", v)
	}
}

// TestAllAtOnce: everything wrong with prices and terms comes back together, and
// a recipe that was refused elsewhere does not hide it.
func TestAllAtOnce(t *testing.T) {
	recipes, b := whole()
	recipes = append(recipes, cost.Costed{Recipe: &engine.Recipe{}})
	b.CurrencyCode, b.Packs[1].Price = "euro", "9,80"
	recipes[0].Terms.FeePct = 60
	var paths []string
	for _, v := range violations(t, recipes, b) {
		paths = append(paths, v.Path)
	}
	if want := []string{"prices.currency_code", "prices.packs[1].price", "recipes[0].terms.margin_pct", "recipes[1].terms.saleable_bars"}; !slices.Equal(paths, want) {
		t.Errorf("got %q", paths)
	}
}

// TestMissingPrices: each material without a price once, over all recipes, with
// names of the book that may have been meant.
func TestMissingPrices(t *testing.T) {
	recipes, b := whole()
	recipes[0].Terms.SaleableBars, b.Packs[1].Material = 0, "soda"
	if list := violations(t, recipes, b); len(list) != 2 || list[0].Path != "recipes[0].terms.saleable_bars" || list[1].Reason != cost.ReasonNoPrice {
		t.Errorf("got %+v", list)
	}
	recipes, b = whole()
	recipes = append(recipes, recipes[0], recipes[0])
	b.Packs[0].Material, b.Packs[1].Material = "Extra virgin olive oil", "NaOH solution"
	list := violations(t, recipes, b)
	if len(list) != 2 || list[0].Path != "prices.packs" || list[0].Reason != cost.ReasonNoPrice ||
		list[0].Text != `No pack of "naoh" (the line "naoh" of "Plain", and 2 more recipes). Add a pack of it, or ask for a partial cost.` ||
		!slices.Equal(list[0].Suggestions, []string{"NaOH solution"}) || !slices.Equal(list[1].Suggestions, []string{"Extra virgin olive oil"}) {
		t.Errorf("got %+v", list)
	}
	for i := range recipes {
		recipes[i].Terms.OverheadPerBatch = "1"
	}
	answer, err := cost.Cost(recipes, b, cost.Options{AllowPartial: true})
	if err != nil || !slices.Equal(answer[2].MissingMaterials, []string{"naoh", "olive-oil"}) {
		t.Errorf("%+v, %v", answer, err)
	}
}

// TestNothingCostsNothing: a margin on a cost of zero is no price.
func TestNothingCostsNothing(t *testing.T) {
	recipes, b := whole()
	b.Packs = nil
	_, err := cost.Cost(recipes, b, cost.Options{AllowPartial: true})
	if err == nil || !strings.Contains(err.Error(), "recipes[0].terms.margin_pct: The price before tax comes to zero") {
		t.Error(err)
	}
}
