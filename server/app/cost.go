package app

import (
	"context"
	"errors"
	"strconv"

	"lixivium.example/engine"
	"lixivium.example/engine/cost"
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
	"lixivium.example/server/policy"
	"lixivium.example/server/translate"
)

// mostViolations is how many violations of many recipes are gathered before the
// rest of the recipes is left alone.
const mostViolations = 100

func (s *service) Cost(ctx context.Context, q *lixiviumv1.CostRequest) (*lixiviumv1.CostResponse, error) {
	return policy.Run(ctx, &s.policy, "Cost", q, s.cost)
}

// cost formulates each recipe and costs them together. Everything wrong with any
// of them, the terms and the prices comes back at once; only then does a batch
// that cannot be made refuse the call.
func (s *service) cost(ctx context.Context, m *lixiviumv1.CostRequest) (*lixiviumv1.CostResponse, error) {
	q := translate.Cost(m)
	recipes := make([]cost.Costed, len(q.Recipes))
	wrong := q.Wrong
	var failed error
	for i := range q.Recipes {
		x := &q.Recipes[i]
		recipes[i] = cost.Costed{Recipe: x.Recipe, Terms: x.Terms}
		if x.Recipe == nil || len(wrong) >= mostViolations {
			continue
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		f, err := s.engine.Formulate(ctx, x.Recipe, x.Options)
		var violations *engine.Violations
		switch {
		case errors.As(err, &violations):
			translate.Below(translate.CostPath(i), violations.List)
			wrong = append(wrong, violations.List...)
		case err != nil && failed == nil:
			failed = ofRecipe(i, x.Recipe.Name, err)
		case err == nil:
			recipes[i].Formulation = f
		}
	}
	answer, err := cost.Cost(recipes, q.Prices, q.Options)
	switch {
	case len(wrong) > 0:
		return nil, translate.WithViolations(wrong, err)
	case err != nil:
		return nil, err
	case failed != nil:
		return nil, failed
	}
	return translate.Costings(answer), nil
}

// ofRecipe says which recipe of a call cannot be made.
func ofRecipe(i int, name string, err error) error {
	var missing *engine.MissingOwner
	if errors.As(err, &missing) {
		at := *missing
		at.Path = translate.CostPath(i) + at.Path
		return &at
	}
	var impossible *engine.Impossible
	if !errors.As(err, &impossible) {
		return err
	}
	what := "Recipe " + strconv.Itoa(i+1)
	if name != "" {
		what += " (" + strconv.Quote(name) + ")"
	}
	return &engine.Impossible{Reason: impossible.Reason, Text: what + ": " + impossible.Text, Numbers: impossible.Numbers}
}
