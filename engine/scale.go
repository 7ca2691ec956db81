package engine

import (
	"context"
	"errors"
	"slices"

	"lixivium.example/engine/settle"
	"lixivium.example/engine/unit"
)

// Scale brings a recipe to a size. The factor is worked out on the exact batch
// with its own density; losses are added as masses. The answer holds a recipe in
// grams that Formulate answers, with the same balances, with the same figures.
//
// Errors are those of Formulate; *Violations may name fields of the fit, such as
// "fit.molds.molds[0].box.height_mm", and *Impossible may say that the shelf
// holds less than a balance shows.
func (e *Engine) Scale(ctx context.Context, r *Recipe, fit *Fit, o Options) (*Scaled, error) {
	q, base, err := e.fitted(ctx, r, fit, o)
	if err != nil {
		return nil, err
	}
	var c checker
	s := c.size(q, base)
	if err := c.err(); err != nil {
		return nil, err
	}
	recipe, w, err := e.sized(ctx, base, q, &s, o)
	if err != nil {
		return nil, err
	}
	out := &Scaled{
		Recipe: recipe, Balances: slices.Clone(o.Balances), Factor: s.k,
		Molds: s.molds, Bar: s.bar, Stock: q.left(w, s.scarcest),
	}
	if !w.p.waterUnknown {
		out.WantedBatterG = unit.Grams(s.k * (base.r.Mass - base.r.Surface))
	}
	if out.Formulation, err = e.finish(ctx, w, o); err != nil {
		return nil, err
	}
	out.Findings = sizeFindings(fit, out)
	return out, nil
}

// fitted checks a recipe and its size together, and settles the exact batch.
func (e *Engine) fitted(ctx context.Context, r *Recipe, fit *Fit, o Options) (*fitting, *work, error) {
	var c checker
	q := c.fit(fit)
	p, err := e.resolve(r, o.Balances)
	var wrong *Violations
	switch {
	case errors.As(err, &wrong):
		return nil, nil, &Violations{List: append(wrong.List, c.list...)}
	case err != nil:
		return nil, nil, err
	}
	if q != nil {
		c.inRecipe(q, p)
	}
	if err := c.err(); err != nil {
		return nil, nil, err
	}
	// Only a size in fats can do without the water of a missing owner.
	p.allowIncomplete = o.AllowIncomplete
	w, err := e.begin(ctx, p)
	if err == nil && p.waterUnknown && !fit.Fats.Given() {
		p.allowIncomplete, p.missing, p.waterUnknown = false, nil, false
		w, err = e.begin(ctx, p)
	}
	if err != nil {
		return nil, nil, err
	}
	if err := w.impossible(); err != nil {
		return nil, nil, err
	}
	w.exactWeights()
	return q, w, nil
}

// sized makes the batch of a size, smaller where rounding takes more than is on
// the shelf.
func (e *Engine) sized(ctx context.Context, base *work, q *fitting, s *size, o Options) (*Recipe, *work, error) {
	for range stockTries {
		recipe, w, err := e.resized(ctx, base, q, s.k, o)
		if err != nil {
			return nil, nil, err
		}
		k, smaller, err := q.withinStock(w, s.k)
		if err != nil {
			return nil, nil, err
		}
		if !smaller {
			return recipe, w, nil
		}
		s.k = k
	}
	return nil, nil, &Impossible{
		Reason: ImpossibleRounding,
		Text:   "What is on the shelf is too little for the steps of the balances. Name a finer balance.",
	}
}

// resized settles the batch times k. Its recipe states rounded masses where that
// leaves every line as it is, and exact ones where it would not.
func (e *Engine) resized(ctx context.Context, base *work, q *fitting, k float64, o Options) (*Recipe, *work, error) {
	m := base.times(k)
	if err := m.check(base, q.target); err != nil {
		return nil, nil, err
	}
	exact := base.p.inGrams(m)
	w, err := e.settled(ctx, exact, o)
	if err != nil || len(o.Balances) == 0 {
		return exact, w, err
	}
	even := w.p.inGrams(w.rounded())
	again, err := e.settled(ctx, even, o)
	var wrong *Violations
	var impossible *Impossible
	switch {
	case err == nil && again.weighsLike(w):
		return even, again, nil
	case err == nil, errors.As(err, &wrong), errors.As(err, &impossible):
		return exact, w, ctx.Err()
	}
	// An owner that fails says nothing about the rounded recipe.
	return nil, nil, err
}

// check refuses a size that no batch has, naming the line that says so.
func (m *masses) check(w *work, target where) error {
	var c checker
	one := func(name string, g float64) {
		if g != 0 && !(g >= leastGrams && g <= mostGrams) && len(c.list) == 0 {
			c.add(target, ReasonRange, "At this size the batch takes "+num(g)+" g of "+name+", outside what a batch can hold ("+num(leastGrams)+" to "+num(mostGrams)+" g). Look at the unit.")
		}
	}
	for i, g := range m.lines {
		one(lowerFirst(w.p.lines[i].name), g)
	}
	for i, g := range m.doses {
		one(lowerFirst(w.p.doses[i].name), g)
	}
	for k, g := range m.alkali {
		one(lowerFirst(w.p.alkali[k].name), g)
	}
	one("water", m.water)
	return c.err()
}

// inGrams is the recipe with its masses in grams: shares, volumes and spoons
// become grams; what is stated in percent of fats, water or lye stays.
func (p *plan) inGrams(m *masses) *Recipe {
	r := *p.recipe
	r.TotalFats = Quantity{}
	r.Fats = slices.Clone(r.Fats)
	for i := range r.Fats {
		r.Fats[i].Mass, r.Fats[i].SharePct = InGrams(m.lines[i]), Optional{}
	}
	r.Doses = slices.Clone(r.Doses)
	at := 0
	for i := range r.Doses {
		d := &r.Doses[i]
		for p.doses[at].spec != &p.recipe.Doses[i] || p.doses[at].carrierOf >= 0 {
			at++
		}
		if d.Mass.Given() || d.Spoons != nil {
			d.Mass, d.Spoons = InGrams(m.doses[at]), nil
		}
	}
	if g := r.Alkali.Given; g != nil {
		given := *g
		for k, q := range [settle.Kinds]*Quantity{&given.NaOH, &given.KOH} {
			if q.Given() {
				*q = InGrams(m.alkali[k])
			}
		}
		r.Alkali.Given = &given
	}
	if m.water > 0 && p.water.Ask == settle.AskGrams {
		r.Water = r.Water.inGrams(m.water)
	}
	return &r
}

// inGrams is the water with its mass, or that of its reference, in grams.
func (w *Water) inGrams(g float64) *Water {
	n := *w
	if w.Measure != nil {
		m := *w.Measure
		m.Mass = InGrams(g)
		n.Measure = &m
		return &n
	}
	d, m := *w.Discount, *w.Discount.Reference
	m.Mass = InGrams(g)
	d.Reference, n.Discount = &m, &d
	return &n
}
