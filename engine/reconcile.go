package engine

import "context"

// Reconcile compares weighed masses with the plan of a recipe and says how to
// put them right before lye and fats are combined.
func (e *Engine) Reconcile(ctx context.Context, r *Recipe, o Options, actual []ActualWeight) (*Reconciliation, error) {
	return nil, nil
}
