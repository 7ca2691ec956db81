package engine

import (
	"cmp"
	"slices"
	"strconv"

	"lixivium.example/engine/settle"
	"lixivium.example/engine/unit"
)

// stockKind tells where a thing on the shelf is used.
type stockKind int

const (
	stockOfLine stockKind = iota
	stockOfDose
	stockOfAlkali
	stockOfWater
)

// stockRef finds the use of a thing on the shelf in a batch.
type stockRef struct {
	kind  stockKind
	index int
}

// stockRefs are the things of a recipe that can run out, by id. What a line
// gives to carriers counts with the line, and every water from the tap as water.
func (p *plan) stockRefs() (map[string]stockRef, []string) {
	refs := map[string]stockRef{}
	var ids []string
	take := func(id string, r stockRef) { refs[id], ids = r, append(ids, id) }
	for i := range p.lines {
		take(p.lines[i].id, stockRef{stockOfLine, i})
	}
	for i := range p.doses {
		if d := &p.doses[i]; d.heldBack < 0 && !d.tapWater() && !(d.carrierOf >= 0 && d.premixed) {
			take(d.id, stockRef{stockOfDose, i})
		}
	}
	for k := range p.alkali {
		if p.alkali[k].used {
			take(alkaliField[k], stockRef{stockOfAlkali, k})
		}
	}
	take(lineWater, stockRef{kind: stockOfWater})
	return refs, ids
}

// tapWater tells whether an entry is plain water that carries a dose.
func (d *planDose) tapWater() bool { return d.carrierOf >= 0 && d.spec.Carrier.Water && !d.premixed }

// inRecipe finds what is on the shelf in the recipe.
func (c *checker) inRecipe(q *fitting, p *plan) {
	if len(q.stock) == 0 {
		return
	}
	refs, ids := p.stockRefs()
	for i := range q.stock {
		x := &q.stock[i]
		ref, ok := refs[x.id]
		if !ok {
			c.unknown(x.at.at("line_id"), ReasonUnknown, "The recipe uses nothing called "+strconv.Quote(x.id)+". Name a line or dose by its id, or naoh, koh or water.", x.id, ids)
			continue
		}
		x.ref = ref
	}
}

// used is how much of a thing a weighed batch takes, g, and the balance it is
// weighed on, -1 for none.
func (w *work) used(r stockRef) (g float64, scale int) {
	switch r.kind {
	case stockOfLine:
		return w.in.Lines[r.index].G, w.weigh.lines[r.index].scale
	case stockOfDose:
		return w.weigh.doses[r.index].g, w.weigh.doses[r.index].scale
	case stockOfAlkali:
		return w.weigh.alkali[r.index].g, w.weigh.alkali[r.index].scale
	}
	g = w.weigh.water.g
	for i := range w.p.doses {
		d := &w.p.doses[i]
		if d.tapWater() {
			g += w.weigh.doses[i].g
		}
		if d.portion != settle.Whole && w.in.Doses[i].Granted > 0 {
			g += w.weigh.grants[i].g
		}
	}
	return g, w.weigh.water.scale
}

// stockFactor is the factor that the scarcest thing allows, and its index; -1
// when the recipe takes none of them.
func (q *fitting) stockFactor(w *work) (k float64, scarcest int) {
	scarcest = -1
	for i := range q.stock {
		g, _ := w.used(q.stock[i].ref)
		if g <= 0 {
			continue
		}
		if f := q.stock[i].g / g; scarcest < 0 || f < k {
			k, scarcest = f, i
		}
	}
	return k, scarcest
}

// stockTries bounds how often a batch is made smaller because rounding takes
// more than is on the shelf. Two or three times do.
const stockTries = 40

// withinStock brings a batch down to what is on the shelf once it is rounded:
// the balance may show only part of what is there, and fats are rounded up.
// False: it fits as it is. An error: the balance shows nothing of what is left.
func (q *fitting) withinStock(w *work, k float64) (float64, bool, error) {
	smaller := k
	for i := range q.stock {
		x := &q.stock[i]
		g, scale := w.used(x.ref)
		if g <= x.g*(1+1e-12) {
			continue
		}
		left := x.g
		if scale >= 0 {
			left = toStep(x.g, w.p.balances[scale].step, down)
		}
		if left <= 0 {
			return 0, false, &Impossible{
				Reason:  ImpossibleRounding,
				Text:    "The balance shows nothing of the " + num(x.g) + " g of " + x.id + " that are on hand. Name a finer balance, or buy more.",
				Numbers: []Figure{{x.id, x.g, "g"}},
			}
		}
		smaller = min(smaller, k*left/g)
	}
	return smaller, smaller < k, nil
}

// left answers what stays on the shelf, first what runs out first.
func (q *fitting) left(w *work, scarcest int) []StockLeft {
	if len(q.stock) == 0 {
		return nil
	}
	out := make([]StockLeft, len(q.stock))
	for i := range q.stock {
		x := &q.stock[i]
		g, _ := w.used(x.ref)
		// A remainder within the rounding of the sums is none.
		rest := x.g - g
		if rest < 1e-9*x.g {
			rest = 0
		}
		out[i] = StockLeft{LineID: x.id, OnHandG: unit.Grams(x.g), UsedG: unit.Grams(g), LeftG: unit.Grams(rest), Scarcest: i == scarcest}
	}
	slices.SortStableFunc(out, func(a, b StockLeft) int {
		return cmp.Or(compareBool(b.Scarcest, a.Scarcest), cmp.Compare(a.OnHandG*b.UsedG, b.OnHandG*a.UsedG))
	})
	return out
}

// compareBool orders false before true.
func compareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}
