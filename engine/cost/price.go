package cost

import (
	"github.com/cockroachdb/apd/v3"

	"lixivium.example/engine"
	"lixivium.example/engine/unit"
)

// price finds the price of a bar and what is left of it. False: there is no
// such price, which is noted.
//
//	margin:  price = (cost + fixed fee) / (1 - margin - fee)
//	markup:  price = cost * (1 + markup)
//	stated:  before tax, or with tax in: price = stated / (1 + tax)
func (k *costing) price(c *checker) bool {
	t := k.t
	switch {
	case t.margin != nil:
		k.asked = over(plus(k.bar, t.feeBar), k.share())
		k.hold()
	case t.markup != nil:
		k.asked = plus(k.bar, percentOf(k.bar, t.markup))
		k.held = up(k.asked, k.book.minor)
		k.fit()
	case t.price != nil && t.spec.PriceIncludesTax:
		k.with = halfUp(t.price, k.book.minor)
		k.before = k.untaxed(k.with)
	case t.price != nil:
		k.before = halfUp(t.price, k.book.minor)
		k.with = k.taxed(k.before)
	default:
		return true
	}
	if k.before.IsZero() {
		field := "price"
		switch {
		case t.margin != nil:
			field = "margin_pct"
		case t.markup != nil:
			field = "markup_pct"
		}
		c.add(t.at, field, engine.ReasonRange, "The price before tax comes to zero: the bar costs nothing, or the price is below the smallest coin. Look at the prices of the materials.")
		return false
	}
	k.result()
	return true
}

// share is what is left of the price after margin and fee, a fraction.
func (k *costing) share() *apd.Decimal {
	d := minus(minus(hundred, k.t.margin), k.t.feePct)
	d.Exponent -= 2
	return d
}

// hold finds a price that holds the wanted margin once all is rounded. Rounding
// takes at most half a cent through the fees, so a price worked out with that
// on top always holds; it is taken only where the next cent does not.
func (k *costing) hold() {
	k.held = up(k.asked, k.book.minor)
	k.fit()
	left := minus(minus(k.before, k.fee(k.before)), k.bar)
	if left.Cmp(percentOf(k.before, k.t.margin)) >= 0 {
		return
	}
	half := apd.New(5, -k.book.minor-1)
	k.bumped = true
	k.held = up(over(plus(plus(k.bar, k.t.feeBar), half), k.share()), k.book.minor)
	k.fit()
}

// fit makes the price one that can be asked: with tax in, it is the taxed price
// that must be whole cents.
func (k *costing) fit() {
	if !k.t.spec.PriceIncludesTax {
		k.before, k.with = k.held, k.taxed(k.held)
		return
	}
	k.with = up(plus(k.held, percentOf(k.held, k.t.taxPct)), k.book.minor)
	k.before = k.untaxed(k.with)
}

func (k *costing) taxed(before *apd.Decimal) *apd.Decimal {
	return halfUp(plus(before, percentOf(before, k.t.taxPct)), k.book.minor)
}

func (k *costing) untaxed(with *apd.Decimal) *apd.Decimal {
	return halfUp(over(times(with, hundred), plus(hundred, k.t.taxPct)), k.book.minor)
}

// fee is what selling a bar at a price costs.
func (k *costing) fee(before *apd.Decimal) *apd.Decimal {
	return halfUp(k.exactFee(before), k.book.minor)
}

func (k *costing) exactFee(before *apd.Decimal) *apd.Decimal {
	return plus(k.t.feeBar, percentOf(before, k.t.feePct))
}

// result writes what follows from the price.
func (k *costing) result() {
	k.fees = k.fee(k.before)
	earned := minus(k.before, k.fees)
	left := minus(earned, k.bar)
	o := k.out
	o.PriceBeforeTax, o.PriceWithTax = plain(k.before), plain(k.with)
	o.FeesPerBar, o.MarginPerBar = plain(k.fees), plain(left)
	o.MarginPct = unit.Percent(float(over(times(left, hundred), k.before)))
	if !k.bar.IsZero() {
		o.MarkupPct = unit.Percent(float(over(times(minus(k.before, k.bar), hundred), k.bar)))
	}
	if earned.Sign() <= 0 {
		return
	}
	bars := up(over(k.batch, earned), 0)
	if bars.Cmp(k.t.bars) > 0 {
		return
	}
	n, err := bars.Int64()
	done(0, err)
	o.BreakEvenBars = int(n)
}
