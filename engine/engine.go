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
	return nil, nil
}

// Reconcile compares weighed masses with the plan of a recipe and says how to
// put them right before lye and fats are combined.
func (e *Engine) Reconcile(ctx context.Context, r *Recipe, o Options, actual []ActualWeight) (*Reconciliation, error) {
	return nil, nil
}

// FindingCodes lists every finding the engine can answer, by code.
func FindingCodes() []FindingCode { return nil }

// WaterReferences lists the ways to ask for water and the meanings of discount.
func WaterReferences() []WaterReference { return nil }

// Version is the version of the engine.
const Version = "0.1.0"

// DataDigest is the digest over every embedded table, "sha256:" and hex.
func DataDigest() string { return "" }
