package cost

import (
	"cmp"
	"slices"

	"github.com/cockroachdb/apd/v3"

	"lixivium.example/engine/unit"
)

// doubling is a costing with the price of one material doubled.
type doubling struct {
	name, key string
	lines     []int        // of this material
	more      *apd.Decimal // what its lines rise by, rounded as they are
	exact     *apd.Decimal // the same unrounded, to order those that cost a bar as much
	bar       *apd.Decimal
	marginPct float64
}

// sensitivity says for each material what a doubled price would do, the one that
// hurts most first.
func (k *costing) sensitivity() {
	k.doublings()
	base := k.base()
	for _, d := range k.doubled {
		k.costAgain(d, base)
	}
	slices.SortStableFunc(k.doubled, func(a, b *doubling) int { return cmp.Or(b.bar.Cmp(a.bar), b.exact.Cmp(a.exact)) })
	k.out.Sensitivity = make([]Sensitivity, len(k.doubled))
	for i, d := range k.doubled {
		k.out.Sensitivity[i] = Sensitivity{Material: d.name, PerBar: plain(d.bar), MarginPct: unit.Percent(d.marginPct)}
	}
}

// doublings gathers the lines of each material that is paid for.
func (k *costing) doublings() {
	at := make(map[string]int, len(k.lines))
	k.doubled = make([]*doubling, 0, len(k.lines))
	for i := range k.lines {
		l := &k.lines[i]
		if l.item == nil || l.item.pack == nil {
			continue
		}
		n, ok := at[l.item.key]
		if !ok {
			n = len(k.doubled)
			at[l.item.key] = n
			k.doubled = append(k.doubled, &doubling{name: l.item.name, key: l.item.key, more: zero, exact: zero})
		}
		d := k.doubled[n]
		d.lines = append(d.lines, i)
		d.more = plus(d.more, minus(halfUp(times(l.exact, two), k.book.minor), l.amount))
		d.exact = plus(d.exact, l.exact)
	}
}

// costAgain is the costing with a material's lines at their doubled price.
func (k *costing) costAgain(d *doubling, base *apd.Decimal) {
	batch := plus(k.batch, d.more)
	if !k.t.overheadPct.IsZero() {
		now := halfUp(percentOf(plus(base, d.more), k.t.overheadPct), k.book.minor)
		batch = plus(batch, minus(now, k.lines[len(k.lines)-1].amount)) // the last line is this overhead
	}
	d.bar = up(over(batch, k.t.bars), k.book.minor)
	if k.before != nil {
		d.marginPct = float(over(times(minus(minus(k.before, k.fees), d.bar), hundred), k.before))
	}
}
