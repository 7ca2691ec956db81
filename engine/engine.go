package engine

import "context"

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
	// IncludeWorksheet adds the reckoning. It changes no other figure.
	IncludeWorksheet bool
}

// Formulate settles a recipe, or judges it when its alkali is given. Errors:
// *Violations, *Impossible, *MissingOwner, or what the additives returned.
func (e *Engine) Formulate(ctx context.Context, r *Recipe, o Options) (*Formulation, error) {
	w, err := e.settled(ctx, r, o.Balances)
	if err != nil {
		return nil, err
	}
	return e.finish(ctx, w, o)
}

// settled takes a recipe to its settled, weighed batch.
func (e *Engine) settled(ctx context.Context, r *Recipe, balances []Balance) (*work, error) {
	p, err := e.resolve(r, balances)
	if err != nil {
		return nil, err
	}
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
	f.Origin = e.origin(w.p)
	f.Findings = w.findings(f)
	if err := e.review(ctx, w, f); err != nil {
		return nil, err
	}
	if o.IncludeWorksheet {
		f.Worksheet = w.worksheet(f)
	}
	return f, nil
}

// review lets every owner look at the settled batch. Findings are added; no
// gram and no factor can move.
func (e *Engine) review(ctx context.Context, w *work, f *Formulation) error {
	b := ReviewBatch{Conditions: w.p.conditions()}
	for i := range w.p.doses {
		if w.p.doses[i].owned {
			b.Doses = append(b.Doses, w.p.view(i, &w.in, w.doseG))
		}
	}
	if len(b.Doses) == 0 {
		return nil
	}
	seen := *f
	b.Formulation = &seen
	more, err := e.additives.Review(ctx, b)
	if err != nil {
		return err
	}
	f.Findings = byHarm(append(f.Findings, more...))
	return nil
}
