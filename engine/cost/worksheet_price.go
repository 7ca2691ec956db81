package cost

import (
	"strconv"

	"lixivium.example/engine"
)

// price writes how the price was found and what is left of it.
func (s *sheet) price() {
	s.asked()
	k, t := s.k, s.k.t
	price, bar := func() engine.WorksheetInput { return s.of("price", "cost.price_before_tax") }, s.of("cost", "cost.per_bar")
	fixed := s.term("fixed", t.feeBar, s.currency(), "fee_per_bar")
	s.rounded("cost.fees_per_bar", "Fees of selling a bar", k.exactFee(k.before), k.fees, "fixed + price * fee_pct / 100", fixed, price(), s.feePct())
	left := minus(minus(k.before, k.fees), k.bar)
	s.put("cost.margin_per_bar", "Left of a bar", s.currency(), left, "price - fees - cost", price(), s.of("fees", "cost.fees_per_bar"), bar)
	s.put("cost.margin_pct", "Margin, of the price before tax", "percent", over(times(left, hundred), k.before), "100 * left / price", s.of("left", "cost.margin_per_bar"), price())
	if !k.bar.IsZero() {
		s.put("cost.markup_pct", "Markup, of the cost", "percent", over(times(minus(k.before, k.bar), hundred), k.bar), "100 * (price - cost) / cost", price(), bar)
	}
	s.by(MethodWholeBars, "cost.break_even_bars", "Bars that pay for the batch; 0: all of them do not", "bars", whole(k.out.BreakEvenBars),
		s.of("batch", "cost.per_batch"), price(), s.of("fees", "cost.fees_per_bar"), s.bars())
}

func (s *sheet) feePct() engine.WorksheetInput {
	return s.term("fee_pct", s.k.t.feePct, "percent", "fee_pct")
}

func (s *sheet) taxPct() engine.WorksheetInput {
	return s.term("tax_pct", s.k.t.taxPct, "percent", "tax_pct")
}

// asked writes the price before and after tax.
func (s *sheet) asked() {
	k, t := s.k, s.k.t
	bar := s.of("cost", "cost.per_bar")
	from := "" // the line that the price before tax is read off, when it is worked out
	switch {
	case t.margin != nil:
		s.put("cost.price_exact", "Price that holds the margin, before rounding", s.currency(), k.asked, "(cost + fixed) / (1 - margin_pct / 100 - fee_pct / 100)",
			bar, s.term("fixed", t.feeBar, s.currency(), "fee_per_bar"), s.term("margin_pct", t.margin, "percent", "margin_pct"), s.feePct())
		from = "cost.price_exact"
	case t.markup != nil:
		s.put("cost.price_exact", "Cost and markup, before rounding", s.currency(), k.asked, "cost * (1 + markup_pct / 100)", bar, s.term("markup_pct", t.markup, "percent", "markup_pct"))
		from = "cost.price_exact"
	}
	label := "Price before tax, rounded up"
	if k.bumped {
		label += " until the margin holds with the fees rounded"
	}
	const before, with = "cost.price_before_tax", "cost.price_with_tax"
	switch {
	case from == "" && t.spec.PriceIncludesTax:
		s.put(with, "Price with tax, as stated", s.currency(), k.with, "price", s.term("price", t.price, s.currency(), "price"))
		s.untaxed()
	case from == "":
		s.put(before, "Price before tax, as stated", s.currency(), k.before, "price", s.term("price", t.price, s.currency(), "price"))
		s.taxed(before, with, "Price with tax")
	case t.spec.PriceIncludesTax:
		s.by(MethodCent, "cost.price_held", label+", before it is fitted to the tax", s.currency(), k.held, s.of("exact", from))
		s.taxed("cost.price_held", with, "Price with tax, rounded up")
		s.untaxed()
	default:
		s.by(MethodCent, before, label, s.currency(), k.before, s.of("exact", from))
		s.taxed(before, with, "Price with tax")
	}
}

// taxed writes a price with tax from one without.
func (s *sheet) taxed(from, id, label string) {
	base := s.k.before
	if from != "cost.price_before_tax" {
		base = s.k.held
	}
	s.rounded(id, label, plus(base, percentOf(base, s.k.t.taxPct)), s.k.with, "price * (1 + tax_pct / 100)", s.of("price", from), s.taxPct())
}

// untaxed writes the price before tax from the one with it.
func (s *sheet) untaxed() {
	k := s.k
	s.rounded("cost.price_before_tax", "Price before tax", over(times(k.with, hundred), plus(hundred, k.t.taxPct)), k.before,
		"price / (1 + tax_pct / 100)", s.of("price", "cost.price_with_tax"), s.taxPct())
}

// sensitivity writes what doubled prices would do.
func (s *sheet) sensitivity() {
	k := s.k
	for i, d := range k.doubled {
		id := "cost.doubled." + strconv.Itoa(i+1)
		inputs := []engine.WorksheetInput{s.of("batch", "cost.per_batch"), s.bars()}
		for n, l := range d.lines {
			inputs = append(inputs, s.of("line_"+strconv.Itoa(n+1), s.lineID(l)+"_exact"))
		}
		if !k.t.overheadPct.IsZero() {
			inputs = append(inputs, s.term("overhead_pct", k.t.overheadPct, "percent", "overhead_pct"), s.of("base", "cost.base"), s.of("overhead", overheadShare))
		}
		s.by(MethodDoubled, id+".per_bar", "Cost of a bar if "+strconv.Quote(d.name)+" cost twice as much", s.currency(), d.bar, inputs...)
		if k.before != nil {
			left, price := minus(minus(k.before, k.fees), d.bar), s.of("price", "cost.price_before_tax")
			s.put(id+".margin_per_bar", "Left of a bar then", s.currency(), left, "price - fees - cost", price, s.of("fees", "cost.fees_per_bar"), s.of("cost", id+".per_bar"))
			s.put(id+".margin_pct", "Margin then, of the price before tax", "percent", over(times(left, hundred), k.before), "100 * left / price", s.of("left", id+".margin_per_bar"), price)
		}
	}
}
