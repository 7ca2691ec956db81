package cost

import (
	"github.com/cockroachdb/apd/v3"

	"lixivium.example/engine"
)

// terms are terms, checked.
type terms struct {
	at                                   place
	spec                                 *Terms
	bars                                 *apd.Decimal
	packaging, perHour, perBatch, feeBar *apd.Decimal
	minutes, overheadPct, feePct, taxPct *apd.Decimal
	margin, markup, price                *apd.Decimal // at most one is there
}

// Shares below these are more likely fractions of one than percent; nobody asks
// for half a percent of margin.
const (
	slipMargin = 1
	slipMarkup = 1
	slipShare  = 0.5
)

// terms checks the terms of one recipe.
func (c *checker) terms(at place, spec *Terms, minor int32) *terms {
	t := &terms{at: at, spec: spec}
	t.bars = one
	if spec.SaleableBars == 0 {
		c.add(at, "saleable_bars", engine.ReasonRequired, "State how many bars of the batch can be sold, such as 12.")
	} else {
		t.bars = c.within(at, "saleable_bars", float64(spec.SaleableBars), 1, maxBars, "", "Count the bars of the batch that can be sold.")
	}
	t.packaging = c.amount(at, "packaging_per_bar", spec.PackagingPerBar)
	t.minutes = c.within(at, "labor_minutes", spec.LaborMinutes, 0, 100000, " min", "It is the labor of the whole batch.")
	t.perHour = c.amount(at, "labor_per_hour", spec.LaborPerHour)
	if spec.LaborPerHour == "" && !t.minutes.IsZero() {
		c.add(at, "labor_per_hour", engine.ReasonRequired, "The labor has minutes and no price. State what an hour costs, or 0 for work that is not paid.")
	}
	t.perBatch = c.amount(at, "overhead_per_batch", spec.OverheadPerBatch)
	t.overheadPct = c.percent(at, "overhead_pct", spec.OverheadPct, 500, slipShare, "It is percent of materials, packaging and labor.")
	t.feeBar = c.amount(at, "fee_per_bar", spec.FeePerBar)
	t.feePct = c.percent(at, "fee_pct", spec.FeePct, 100, slipShare, "It is percent of the price before tax.")
	t.taxPct = c.percent(at, "tax_pct", spec.TaxPct, 100, slipShare, "It is the sales tax in percent of the price before tax.")
	c.pricing(t, minor)
	return t
}

// pricing checks how the price is to be found.
func (c *checker) pricing(t *terms, minor int32) {
	margin, byMargin := t.spec.MarginPct.Get()
	markup, byMarkup := t.spec.MarkupPct.Get()
	if byMargin && byMarkup || t.spec.Price != nil && (byMargin || byMarkup) {
		c.add(t.at, "", engine.ReasonConflict, "State one of margin_pct, markup_pct and price.")
		return
	}
	switch {
	case byMargin:
		t.margin = c.percent(t.at, "margin_pct", margin, 100, slipMargin, "It is what is left of the price before tax, in percent of it.")
		if both := plus(t.margin, t.feePct); both.Cmp(hundred) >= 0 {
			c.add(t.at, "margin_pct", engine.ReasonConflict, "Margin and fee come to "+plain(both)+" % of the price, so that no price pays for the bar. Together they must stay below 100.")
		}
		return
	case byMarkup:
		t.markup = c.percent(t.at, "markup_pct", markup, 10000, slipMarkup, "It is what is put on the cost, in percent of it.")
	case t.spec.Price != nil:
		d, ok := c.price(t.at, "price", *t.spec.Price, "Write what a bar is sold for, such as 6.50.")
		t.price = d
		if ok && halfUp(d, minor).Cmp(d) != 0 {
			c.add(t.at, "price", ReasonMoney, plain(d)+" cannot be paid: it has more decimals than the currency. Write "+plain(halfUp(d, minor))+".")
		}
	}
	if t.feePct.Cmp(hundred) == 0 {
		c.add(t.at, "fee_pct", engine.ReasonRange, "A fee of 100 % leaves nothing. It must stay below 100.")
	}
}
