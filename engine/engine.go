package engine

import (
	"context"
	"slices"
)

// Engine answers recipes with the additive rules it was given. It holds no
// state and may be used by any number of goroutines.
type Engine struct {
	additives Additives
}

// New makes an engine. Nil additives: no additive is owned by anybody, and a
// dose needs the caller's own figures.
func New(additives Additives) *Engine { return &Engine{additives: additives} }

// Options are what a call may ask beside the recipe.
type Options struct {
	// Balances of the shop. None: exact masses.
	Balances []Balance
	// AllowIncomplete: answer without an additive's owner where neither alkali
	// nor fats depend on it. Water figures are withheld when they do.
	AllowIncomplete bool
	// IncludeWorksheet adds the reckoning. It changes no other figure.
	IncludeWorksheet bool
}

// Formulate settles a recipe, or judges it when its alkali is given. Errors:
// *Violations, *Impossible, *MissingOwner, or what the additives returned.
func (e *Engine) Formulate(ctx context.Context, r *Recipe, o Options) (*Formulation, error) {
	w, err := e.settled(ctx, r, o)
	if err != nil {
		return nil, err
	}
	return e.finish(ctx, w, o)
}

// settled takes a recipe to its settled, weighed batch.
func (e *Engine) settled(ctx context.Context, r *Recipe, o Options) (*work, error) {
	p, err := e.resolve(r, o.Balances)
	if err != nil {
		return nil, err
	}
	p.allowIncomplete = o.AllowIncomplete
	w, err := e.begin(ctx, p)
	if err != nil {
		return nil, err
	}
	if err := w.impossible(); err != nil {
		return nil, err
	}
	if len(p.balances) > 0 {
		if err := w.round(); err != nil {
			return nil, err
		}
		if err := w.impossible(); err != nil {
			return nil, err
		}
	} else {
		w.exactWeights()
	}
	w.superfats()
	return w, nil
}

// finish writes the answer, lets owners look at it, and adds the reckoning.
func (e *Engine) finish(ctx context.Context, w *work, o Options) (*Formulation, error) {
	f := w.answer()
	f.Behavior.Trace = w.traceTimes(f)
	f.Origin = e.origin(w.p)
	f.Findings = w.findings(f)
	if err := e.review(ctx, w, f); err != nil {
		return nil, err
	}
	f.MissingPlugins = w.p.missing
	if w.p.waterUnknown {
		f.withholdWater()
	}
	if o.IncludeWorksheet {
		f.Worksheet = w.worksheet(f)
	}
	return f, nil
}

// complete fills a remedy of an owner up from the recipe: an owner sees shares
// and conditions only, and what it cannot see must not get lost.
func (p *plan) complete(r *Remedy) {
	if r.Process != nil {
		q := p.recipe.Process
		q.Gel = r.Process.Gel
		for _, t := range []struct{ to, from *Optional }{
			{&q.FatsC, &r.Process.FatsC}, {&q.LyeC, &r.Process.LyeC}, {&q.RoomC, &r.Process.RoomC},
		} {
			if t.from.Set() {
				*t.to = *t.from
			}
		}
		r.Process = &q
	}
	if r.Dose == nil || !r.Dose.OfFatsPct.Set() {
		return
	}
	for i := range p.recipe.Doses {
		if p.recipe.Doses[i].ID != r.Dose.ID {
			continue
		}
		d := p.recipe.Doses[i]
		d.Mass, d.Spoons, d.OfAskedWaterPct = Quantity{}, nil, Optional{}
		d.OfFatsPct, d.Basis = r.Dose.OfFatsPct, r.Dose.Basis
		r.Dose = &d
	}
}

// copyForReview is an answer that owners may scribble on.
func (f *Formulation) copyForReview() *Formulation {
	c := *f
	c.WeighOut = slices.Clone(f.WeighOut)
	c.SuperfatIf = slices.Clone(f.SuperfatIf)
	c.Water.Shares = slices.Clone(f.Water.Shares)
	c.Portions = slices.Clone(f.Portions)
	c.Fats = slices.Clone(f.Fats)
	c.Doses = slices.Clone(f.Doses)
	for i := range c.Doses {
		c.Doses[i].Steps = slices.Clone(f.Doses[i].Steps)
	}
	c.Profile.Acids = slices.Clone(f.Profile.Acids)
	c.Profile.Groups = slices.Clone(f.Profile.Groups)
	c.Behavior.TraceTime = slices.Clone(f.Behavior.TraceTime)
	c.Behavior.Firmness = slices.Clone(f.Behavior.Firmness)
	c.Findings, c.Safety, c.Worksheet = nil, nil, nil
	return &c
}

// review lets every owner look at the settled batch. Findings are added; no
// gram and no factor can move.
func (e *Engine) review(ctx context.Context, w *work, f *Formulation) error {
	b := &ReviewBatch{Conditions: w.p.conditions()}
	owned := false
	for i := range w.p.doses {
		if d := &w.p.doses[i]; d.carrierOf < 0 {
			b.Doses = append(b.Doses, w.p.view(i, &w.in, w.doseG))
			owned = owned || d.owned
		}
	}
	if !owned && !e.watched(w.p) || w.p.waterUnknown {
		// Without its water there is no batch to look at.
		return nil
	}
	b.Formulation = f.copyForReview()
	a, err := e.additives.Review(ctx, b)
	if err != nil {
		return err
	}
	for _, x := range a.Failures {
		if !w.p.allowIncomplete || grants(x.Grants, GrantAlkali, GrantFats) {
			return &OwnerFailed{Failure: x}
		}
		if !slices.Contains(w.p.missing, x.Plugin) {
			w.p.missing = append(w.p.missing, x.Plugin)
		}
	}
	for i := range a.Findings {
		for j := range a.Findings[i].Remedies {
			w.p.complete(&a.Findings[i].Remedies[j])
		}
	}
	f.Findings = byHarm(append(f.Findings, a.Findings...))
	return nil
}
