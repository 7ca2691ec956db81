package engine_test

import (
	"context"
	"errors"
	"reflect"
	"testing"

	"lixivium.example/engine"
)

// TestOwnerThatFailsMidway lets an owner fail at one of the questions of a call,
// one after the other. The call is then refused, or its answer is the one that it
// has when nobody fails: never another that only looks like it.
func TestOwnerThatFailsMidway(t *testing.T) {
	scales := scales(1, 0.1)
	onHand := &engine.Fit{Stock: &engine.Stock{OnHand: []engine.OnHand{{LineID: "olive", Mass: engine.InGrams(333.3)}}}}
	calls := map[string]func(*engine.Engine) (any, error){
		"formulate": func(e *engine.Engine) (any, error) {
			return e.Formulate(context.Background(), pulped(), engine.Options{Balances: scales})
		},
		"scale": func(e *engine.Engine) (any, error) {
			return e.Scale(context.Background(), pulped(), &engine.Fit{Batter: engine.InGrams(1234.5)}, engine.Options{Balances: scales})
		},
		"scale to the shelf": func(e *engine.Engine) (any, error) {
			return e.Scale(context.Background(), pulped(), onHand, engine.Options{Balances: scales})
		},
		"swap": func(e *engine.Engine) (any, error) {
			return e.SwapFat(context.Background(), pulped(), "olive", []engine.FatLine{{ID: "rice", Fat: "rice-bran-oil", SharePct: engine.Some(100)}}, engine.Options{Balances: scales})
		},
		"reconcile": func(e *engine.Engine) (any, error) {
			return e.Reconcile(context.Background(), pulped(), engine.Options{Balances: scales}, []engine.ActualWeight{{LineID: "olive", Mass: engine.InGrams(720)}})
		},
	}
	for name, call := range calls {
		t.Run(name, func(t *testing.T) {
			right, err := call(engine.New(pulp()))
			if err != nil {
				t.Fatal(err)
			}
			refused := 0
			for at := 1; ; at++ {
				a := pulp()
				honest := a.adjust
				a.adjust = func(q *engine.AdjustQuestion) (*engine.AdjustAnswer, error) {
					if len(a.asked) != at {
						return honest(q)
					}
					return &engine.AdjustAnswer{Failures: []engine.Failure{{Plugin: "fruit", Grants: []engine.Grant{engine.GrantAlkali}, DoseIDs: []string{"plum"}}}}, nil
				}
				got, err := call(engine.New(a))
				var failed *engine.OwnerFailed
				switch {
				case errors.As(err, &failed):
					refused++
				case err != nil:
					t.Errorf("failing at question %d: %v", at, err)
				case !reflect.DeepEqual(got, right):
					t.Errorf("failing at question %d gives another answer", at)
				}
				if len(a.asked) < at {
					break // it was not asked that often
				}
			}
			if refused == 0 {
				t.Error("no failure was noticed")
			}
		})
	}
}
