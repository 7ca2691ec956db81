package cost

import (
	"strconv"
	"strings"

	"github.com/cockroachdb/apd/v3"

	"lixivium.example/engine"
	"lixivium.example/engine/unit"
)

// perBarDecimals of the amounts for one bar: they are shown to compare lines,
// not to be added up.
const perBarDecimals = 4

// put adds a line, rounded to the currency.
func (k *costing) put(layer int, it *item, exact *apd.Decimal, text, date string) {
	amount := halfUp(exact, k.book.minor)
	k.lines = append(k.lines, line{layer: layer, item: it, exact: exact, amount: amount})
	k.layer[layer] = plus(k.layer[layer], amount)
	l := Line{Layer: layers[layer], Text: text, Amount: plain(amount), PerBar: plain(halfUp(over(amount, k.t.bars), perBarDecimals)), PriceDate: date}
	if it != nil {
		l.LineID, l.MassG = it.lineID, unit.Grams(it.g)
	}
	k.out.Lines = append(k.out.Lines, l)
}

// material puts the line of one material.
func (k *costing) material(it *item) {
	if it.pack == nil {
		k.put(0, it, zero, it.text+" (no price: counted as free)", "")
		return
	}
	// One division, of exact figures: a quotient per gram would turn half a cent
	// into a little less.
	exact := over(times(it.pack.paid, decimal(it.g)), it.pack.usableG)
	k.put(0, it, exact, it.text+" ("+it.pack.inWords(k.book.minor)+")", it.pack.spec.PriceDate)
}

// inWords says what a pack is: "5 kg at 31.90 + 4.50".
func (p *pack) inWords(minor int32) string {
	if p.words != "" {
		return p.words
	}
	s := num(p.spec.Size.Value) + " " + unitWords[p.spec.Size.Unit] + " at " + shown(p.spec.Price, minor)
	if p.spec.Freight != "" {
		if f := shown(p.spec.Freight, minor); strings.Trim(f, "0.") != "" {
			s += " + " + f
		}
	}
	p.words = s
	return s
}

var unitWords = map[engine.QuantityUnit]string{
	engine.Gram: "g", engine.Kilogram: "kg", engine.Ounce: "oz", engine.Pound: "lb", engine.Milliliter: "mL",
	engine.Liter: "L", engine.FluidOunceUS: "fl oz", engine.CupUS: "cups", engine.TeaspoonUS: "teaspoons",
}

// shown writes a stated sum with the decimals of the currency, or with its own
// where it has more.
func shown(s string, minor int32) string {
	d, wrong := parse(s)
	if wrong != "" {
		return s
	}
	if r := halfUp(d, minor); r.Cmp(d) == 0 {
		return plain(r)
	}
	return plain(d)
}

// rest puts packaging, labor and overhead. A layer that was not stated has no
// line.
func (k *costing) rest() {
	t, minor := k.t, k.book.minor
	bars := strconv.Itoa(t.spec.SaleableBars)
	if t.spec.PackagingPerBar != "" {
		k.put(1, nil, times(t.packaging, t.bars), "Packaging, "+bars+" bars at "+shown(t.spec.PackagingPerBar, minor), "")
	}
	if !t.minutes.IsZero() {
		k.put(2, nil, over(times(t.minutes, t.perHour), whole(60)), "Labor, "+num(t.spec.LaborMinutes)+" min at "+shown(t.spec.LaborPerHour, minor)+" an hour", "")
	}
	if t.spec.OverheadPerBatch != "" {
		k.put(3, nil, t.perBatch, "Overhead of a batch", "")
	}
	if !t.overheadPct.IsZero() {
		k.put(3, nil, percentOf(k.base(), t.overheadPct), "Overhead, "+num(t.spec.OverheadPct)+" % of materials, packaging and labor", "")
	}
}

// base is what overhead in percent is taken of.
func (k *costing) base() *apd.Decimal {
	return plus(plus(k.layer[0], k.layer[1]), k.layer[2])
}

// total adds the lines up.
func (k *costing) total() {
	k.batch = halfUp(plus(k.base(), k.layer[3]), k.book.minor)
	k.bar = up(over(k.batch, k.t.bars), k.book.minor)
	k.out.PerBatch, k.out.PerBar = plain(k.batch), plain(k.bar)
}
