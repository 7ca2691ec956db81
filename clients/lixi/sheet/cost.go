package sheet

import (
	"fmt"
	"math/big"
	"strings"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// mostDoubled is how many materials are shown with a doubled price.
const mostDoubled = 5

// Costs writes what batches cost, one after the other and side by side at the
// end. The recipes are those that were asked for, in the same order.
func Costs(r *lixiviumv1.CostResponse, recipes []*lixiviumv1.CostedRecipe) string {
	p := &page{}
	for i, c := range r.GetCostings() {
		p.blank()
		var terms *lixiviumv1.CostTerms
		if i < len(recipes) {
			terms = recipes[i].GetTerms()
		}
		p.costing(c, terms)
	}
	if len(r.GetCostings()) > 1 {
		p.sideBySide(r.GetCostings())
	}
	return p.String()
}

func costName(c *lixiviumv1.Costing) string {
	if name := c.GetRecipeName(); name != "" {
		return name
	}
	return "Batch without a name"
}

// costing writes one batch.
func (p *page) costing(c *lixiviumv1.Costing, terms *lixiviumv1.CostTerms) {
	p.title(costName(c) + ", cost")
	if missing := c.GetMissingMaterials(); len(missing) > 0 {
		p.wrapf("", "  ", "INCOMPLETE: no price of %s. It costs more than this.", strings.Join(missing, ", "))
	}
	currency := c.GetCurrencyCode()
	p.wrapf("", "  ", "The batch costs %s %s; a bar, of %d that can be sold, %s %s.", currency, c.GetPerBatch(), terms.GetSaleableBars(), currency, c.GetPerBar())
	p.price(c, terms)
	for _, layer := range []string{"materials", "packaging", "labor", "overhead"} {
		p.layer(c, layer)
	}
	p.blank()
	p.wrapf("", "  ", "ALL TOGETHER %s %s", currency, c.GetPerBatch())
	p.doubled(c)
}

// layer writes the lines of one layer below their sum.
func (p *page) layer(c *lixiviumv1.Costing, layer string) {
	var amounts []string
	weighed := layer == "materials"
	cells := [][]string{{c.GetCurrencyCode(), "a bar", "what"}}
	if weighed {
		cells[0] = []string{c.GetCurrencyCode(), "a bar", "grams", "what"}
	}
	for _, l := range c.GetLines() {
		if l.GetLayer() != layer {
			continue
		}
		amounts = append(amounts, l.GetAmount())
		what := l.GetText()
		if l.GetPriceDate() != "" {
			what += ", price of " + l.GetPriceDate()
		}
		cell := []string{l.GetAmount(), l.GetPerBar(), what}
		if weighed {
			cell = []string{l.GetAmount(), l.GetPerBar(), decimal(l.GetMassG(), gramDecimals(l.GetMassG(), nil)), what}
		}
		cells = append(cells, cell)
	}
	if len(amounts) == 0 {
		return
	}
	p.heading(fmt.Sprintf("%s %s %s", strings.ToUpper(layer), c.GetCurrencyCode(), total(amounts)))
	p.table(cells)
}

// total adds printed sums up; they have as many decimals each.
func total(amounts []string) string {
	sum, decimals := new(big.Rat), 0
	for _, s := range amounts {
		if v, ok := new(big.Rat).SetString(s); ok {
			sum.Add(sum, v)
		}
		if _, after, _ := strings.Cut(s, "."); len(after) > decimals {
			decimals = len(after)
		}
	}
	return sum.FloatString(decimals)
}

// price writes the price and what is left of it.
func (p *page) price(c *lixiviumv1.Costing, terms *lixiviumv1.CostTerms) {
	if c.GetPriceBeforeTax() == "" {
		p.wrap("  ", "  ", "No price was asked for: terms can name margin_pct, markup_pct or price.")
		return
	}
	currency := c.GetCurrencyCode()
	price := "Price " + currency + " " + c.GetPriceBeforeTax()
	if tax := terms.GetTaxPct(); tax > 0 {
		price += fmt.Sprintf(" before tax, %s with %s of tax", c.GetPriceWithTax(), percent(tax))
	}
	p.wrapf("", "  ", "%s. Fees take %s and the cost %s; %s is left.", price, c.GetFeesPerBar(), c.GetPerBar(), c.GetMarginPerBar())
	p.wrapf("  ", "  ", "Margin %s of the price before tax, markup %s of the cost.", percent(c.GetMarginPct()), percent(c.GetMarkupPct()))
	if n := c.GetBreakEvenBars(); n > 0 {
		p.wrapf("  ", "  ", "Once %d of %d bars are sold, the batch has paid for itself.", n, terms.GetSaleableBars())
	} else {
		p.wrap("  ", "  ", "At this price the batch never pays for itself.")
	}
}

// doubled writes which prices hurt most if they double.
func (p *page) doubled(c *lixiviumv1.Costing) {
	list := c.GetSensitivity()
	if len(list) == 0 {
		return
	}
	p.heading("IF A PRICE DOUBLES, A BAR COSTS (what hurts most first)")
	cells := [][]string{{c.GetCurrencyCode(), "margin", "of"}}
	for _, s := range list[:min(mostDoubled, len(list))] {
		margin := "-"
		if c.GetPriceBeforeTax() != "" {
			margin = percent(s.GetMarginPct())
		}
		cells = append(cells, []string{s.GetPerBar(), margin, s.GetMaterial()})
	}
	p.table(cells)
}

// sideBySide writes the figures that recipes are compared by.
func (p *page) sideBySide(list []*lixiviumv1.Costing) {
	p.heading("SIDE BY SIDE (" + list[0].GetCurrencyCode() + ")")
	cells := [][]string{{"batch", "a bar", "price", "margin", "recipe"}}
	for _, c := range list {
		price, margin := "-", "-"
		if c.GetPriceBeforeTax() != "" {
			price, margin = c.GetPriceBeforeTax(), percent(c.GetMarginPct())
		}
		name := costName(c)
		if len(c.GetMissingMaterials()) > 0 {
			name += " (incomplete)"
		}
		cells = append(cells, []string{c.GetPerBatch(), c.GetPerBar(), price, margin, name})
	}
	p.table(cells)
}
