package engine_test

import (
	"context"
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"slices"
	"strconv"
	"strings"
	"testing"

	"lixivium.example/engine"
)

// want is one violation: its place, its reason, and words of its text that say
// what to do next.
type want struct{ path, reason, next string }

// wants tells whether a request is refused for exactly these reasons, in this
// order.
func wants(t *testing.T, a engine.Additives, r *engine.Recipe, balances []engine.Balance, all ...want) []engine.Violation {
	t.Helper()
	_, err := engine.New(a).Formulate(context.Background(), r, engine.Options{Balances: balances})
	var v *engine.Violations
	if !errors.As(err, &v) {
		t.Errorf("got %T %v, want violations", err, err)
		return nil
	}
	if len(v.List) != len(all) {
		t.Errorf("%d violations, want %d:\n%v", len(v.List), len(all), v)
		return v.List
	}
	for i, x := range v.List {
		if x.Path != all[i].path || x.Reason != all[i].reason {
			t.Errorf("got %s %s, want %s %s (%s)", x.Path, x.Reason, all[i].path, all[i].reason, x.Text)
		}
		if !strings.Contains(x.Text, all[i].next) {
			t.Errorf("%s: %q does not say %q", x.Path, x.Text, all[i].next)
		}
		if !strings.Contains(v.Error(), x.Path+": "+x.Text) {
			t.Errorf("the error does not tell %q", x.Text)
		}
	}
	return v.List
}

// request is what a caller hands in.
type request struct {
	*engine.Recipe
	balances []engine.Balance
	rules    engine.Additives
}

// bad is the bar spoiled in one way.
type bad struct {
	name   string
	spoil  func(q *request)
	wanted []want
}

// badRequests is every table of spoiled requests.
var badRequests = slices.Concat(badFats, badQuantities, badAlkali, badWater, badDoses, badCarriers, badRest)

func TestBadInput(t *testing.T) {
	if len(badRequests) < 70 {
		t.Errorf("%d spoiled requests", len(badRequests))
	}
	for _, x := range badRequests {
		t.Run(x.name, func(t *testing.T) {
			defer func() {
				if p := recover(); p != nil {
					t.Errorf("panic: %v", p) // fails this row and lets the others run
				}
			}()
			q := &request{Recipe: bar()}
			x.spoil(q)
			wants(t, q.rules, q.Recipe, q.balances, x.wanted...)
		})
	}
}

// TestEveryReasonIsTried reads the reasons from the source, so that a new one
// cannot be forgotten here.
func TestEveryReasonIsTried(t *testing.T) {
	tried := map[string]bool{}
	for _, x := range badRequests {
		for _, w := range x.wanted {
			tried[w.reason] = true
		}
	}
	file, err := parser.ParseFile(token.NewFileSet(), "violations.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	reasons := 0
	ast.Inspect(file, func(n ast.Node) bool {
		spec, ok := n.(*ast.ValueSpec)
		if !ok || !strings.HasPrefix(spec.Names[0].Name, "Reason") {
			return true
		}
		reasons++
		value, err := strconv.Unquote(spec.Values[0].(*ast.BasicLit).Value)
		if err != nil {
			t.Fatal(err)
		}
		if !tried[value] {
			t.Errorf("no bad request has the reason %s (%s)", spec.Names[0].Name, value)
		}
		return true
	})
	if reasons < 15 {
		t.Errorf("only %d reasons read", reasons)
	}
}

// TestAllViolationsAtOnce: one answer names everything that is wrong, in the
// order of the fields.
func TestAllViolationsAtOnce(t *testing.T) {
	r := bar()
	r.Fats[0].ID, r.Fats[1].Fat = "", "cocoanutt"
	r.Alkali.SuperfatPct = engine.Some(-1)
	r.Water = concentration(0.33)
	r.Portions = []engine.Portion{{ID: "p", BaseSharePct: 40}, {ID: "q", BaseSharePct: 40}}
	r.Doses = []engine.Dose{{ID: "d", Custom: inert, OfFatsPct: engine.Some(1), PortionID: "r"}}
	r.Process.RoomC = engine.Some(68)
	wants(t, nil, r, []engine.Balance{{}},
		want{"recipe.fats[0].id", engine.ReasonBadID, "lower case"},
		want{"recipe.fats[1].fat", engine.ReasonUnknown, "catalog"},
		want{"recipe.alkali.superfat_pct", engine.ReasonRange, "0 or more"},
		want{"recipe.water.measure.lye_concentration_pct", engine.ReasonLikelySlip, "33"},
		want{"recipe.portions", engine.ReasonSum, "Change one by 20"},
		want{"recipe.doses[0].portion_id", engine.ReasonUnknown, "no portion"},
		want{"recipe.process.room_c", engine.ReasonRange, "Celsius"},
		want{"balances[0].step", engine.ReasonRequired, "unit"})
}

// TestViolationsAreBounded: a thousand wrong lines are wrong in one way.
func TestViolationsAreBounded(t *testing.T) {
	r := bar()
	r.Fats = nil
	for range 1000 {
		r.Fats = append(r.Fats, engine.FatLine{ID: "X", Fat: "nothing"})
	}
	_, err := engine.New(nil).Formulate(context.Background(), r, engine.Options{})
	var v *engine.Violations
	if !errors.As(err, &v) || len(v.List) != 100 {
		t.Fatalf("got %d violations", len(v.List))
	}
}

// TestThousandFats: the most that is accepted is answered.
func TestThousandFats(t *testing.T) {
	r := bar()
	r.Fats = nil
	for i := range 1000 {
		r.Fats = append(r.Fats, engine.FatLine{ID: fmt.Sprint("f", i), Fat: "olive-oil", Mass: engine.InGrams(1)})
	}
	f := formulate(t, r, scales(0.1)...)
	if len(f.Fats) != 1000 || !near(float64(f.Totals.FatsG), 1000, 1e-9) {
		t.Errorf("%d fats, %g g", len(f.Fats), f.Totals.FatsG)
	}
}
