package translate

import (
	"math"
	"strconv"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"

	"lixivium.example/engine"
	"lixivium.example/engine/cost"
)

// CostRequest is what is asked of Cost, as far as it could be read.
type CostRequest struct {
	Recipes []CostedRecipe
	Prices  *cost.PriceBook // nil: the request holds none
	Options cost.Options
	// Wrong is what only the wire can get wrong.
	Wrong []engine.Violation
}

// CostedRecipe is a recipe to cost, not yet formulated.
type CostedRecipe struct {
	Recipe  *engine.Recipe // nil: there is none, which is in Wrong
	Options engine.Options
	Terms   cost.Terms
}

// CostPath is the path of a recipe in a request of Cost, with the point behind
// it that the paths of the recipe follow.
func CostPath(i int) string { return "recipes[" + strconv.Itoa(i) + "]." }

// Cost reads a request of Cost. Of one with more recipes than a call may hold no
// recipe is read; the count alone is refused.
func Cost(m *lixiviumv1.CostRequest) CostRequest {
	var r reader
	q := CostRequest{Prices: priceBook(m.GetPrices())}
	q.Options.AllowPartial = m.GetAllowPartial()
	q.Options.IncludeWorksheet = m.GetIncludeWorksheet()
	q.Recipes = make([]CostedRecipe, len(m.GetRecipes()))
	if len(q.Recipes) > cost.MaxRecipes {
		return q
	}
	for i, x := range m.GetRecipes() {
		known := len(r.wrong)
		c := &q.Recipes[i]
		c.Recipe = r.recipe(x.GetRecipe())
		c.Options.Balances = r.balances(x.GetBalances())
		c.Options.IncludeWorksheet = q.Options.IncludeWorksheet
		c.Terms = terms(x.GetTerms())
		Below(CostPath(i), r.wrong[known:])
	}
	q.Wrong = r.wrong
	return q
}

// Below puts a prefix before the paths of violations.
func Below(prefix string, list []engine.Violation) {
	for i := range list {
		list[i].Path = prefix + list[i].Path
	}
}

func priceBook(m *lixiviumv1.PriceBook) *cost.PriceBook {
	if m == nil {
		return nil
	}
	b := &cost.PriceBook{CurrencyCode: m.GetCurrencyCode(), Packs: make([]cost.Pack, len(m.GetPacks()))}
	for i, p := range m.GetPacks() {
		b.Packs[i] = cost.Pack{
			Material:      p.GetMaterial(),
			Size:          quantity(p.GetSize()),
			Price:         p.GetPrice(),
			Freight:       p.GetFreight(),
			WastePct:      p.GetWastePct(),
			PriceDate:     p.GetPriceDate(),
			DensityGPerML: optional(p.DensityGPerMl),
		}
	}
	return b
}

func terms(m *lixiviumv1.CostTerms) cost.Terms {
	t := cost.Terms{
		// More bars than an int may hold somewhere are too many anyway.
		SaleableBars:     int(min(m.GetSaleableBars(), math.MaxInt32)),
		PackagingPerBar:  m.GetPackagingPerBar(),
		LaborMinutes:     m.GetLaborMinutes(),
		LaborPerHour:     m.GetLaborPerHour(),
		OverheadPerBatch: m.GetOverheadPerBatch(),
		OverheadPct:      m.GetOverheadPct(),
		FeePerBar:        m.GetFeePerBar(),
		FeePct:           m.GetFeePct(),
		TaxPct:           m.GetTaxPct(),
		PriceIncludesTax: m.GetPriceIncludesTax(),
	}
	switch p := m.GetPricing().(type) {
	case *lixiviumv1.CostTerms_MarginPct:
		t.MarginPct = engine.Some(p.MarginPct)
	case *lixiviumv1.CostTerms_MarkupPct:
		t.MarkupPct = engine.Some(p.MarkupPct)
	case *lixiviumv1.CostTerms_Price:
		price := p.Price
		t.Price = &price
	}
	return t
}

// Costings writes the answer of Cost.
func Costings(list []cost.Costing) *lixiviumv1.CostResponse {
	return &lixiviumv1.CostResponse{Costings: each(list, fillCosting)}
}

func fillCosting(m *lixiviumv1.Costing, c *cost.Costing) {
	m.RecipeName = c.RecipeName
	m.CurrencyCode = c.CurrencyCode
	m.Lines = each(c.Lines, fillCostLine)
	m.PerBatch = c.PerBatch
	m.PerBar = c.PerBar
	m.PriceBeforeTax = c.PriceBeforeTax
	m.PriceWithTax = c.PriceWithTax
	m.FeesPerBar = c.FeesPerBar
	m.MarginPerBar = c.MarginPerBar
	m.MarginPct = float64(c.MarginPct)
	m.MarkupPct = float64(c.MarkupPct)
	m.BreakEvenBars = uint32(c.BreakEvenBars)
	m.MissingMaterials = append([]string(nil), c.MissingMaterials...)
	m.Sensitivity = each(c.Sensitivity, func(m *lixiviumv1.PriceSensitivity, s *cost.Sensitivity) {
		m.Material = s.Material
		m.PerBar = s.PerBar
		m.MarginPct = float64(s.MarginPct)
	})
	m.Worksheet = each(c.Worksheet, fillWorksheetLine)
}

func fillCostLine(m *lixiviumv1.CostLine, l *cost.Line) {
	m.Layer = string(l.Layer)
	m.LineId = l.LineID
	m.Text = l.Text
	m.MassG = float64(l.MassG)
	m.Amount = l.Amount
	m.PerBar = l.PerBar
	m.PriceDate = l.PriceDate
}
