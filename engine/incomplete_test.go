package engine_test

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"

	"lixivium.example/engine"
)

// failing is pulp whose owner holds these rights and does not answer.
func failing(rights ...engine.Grant) *rules {
	a := pulp()
	a.adjust = func(*engine.AdjustQuestion) (*engine.AdjustAnswer, error) {
		return &engine.AdjustAnswer{Failures: []engine.Failure{{
			Plugin: "fruit", Grants: rights, DoseIDs: []string{"plum"}, Reason: "PLUGIN_CRASHED", Text: "exit status 2 of /secret/path",
		}}}, nil
	}
	return a
}

// Without its owner a dose is answered only when the caller allows it and neither
// alkali nor fat depends on that owner.
func TestOwnerThatFails(t *testing.T) {
	for name, x := range map[string]struct {
		rights   []engine.Grant
		allow    bool
		answered bool
	}{
		"not allowed":       {[]engine.Grant{engine.GrantTrace}, false, false},
		"moves alkali":      {[]engine.Grant{engine.GrantTrace, engine.GrantAlkali}, true, false},
		"brings fat":        {[]engine.Grant{engine.GrantFats}, true, false},
		"only trace":        {[]engine.Grant{engine.GrantTrace}, true, true},
		"water and trace":   {[]engine.Grant{engine.GrantWater, engine.GrantTrace}, true, true},
		"findings and heat": {[]engine.Grant{engine.GrantFindings, engine.GrantHeat}, true, true},
	} {
		t.Run(name, func(t *testing.T) {
			f, err := engine.New(failing(x.rights...)).Formulate(context.Background(), pulped(), engine.Options{AllowIncomplete: x.allow})
			if !x.answered {
				var failed *engine.OwnerFailed
				if !errors.As(err, &failed) || failed.Failure.Reason != "PLUGIN_CRASHED" {
					t.Fatalf("got %v, %v", f, err)
				}
				if text := failed.Error(); strings.Contains(text, "secret") || !strings.Contains(text, "fruit") || !strings.Contains(text, "plum") {
					t.Errorf("text for callers: %q", text)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			if !slices.Equal(f.MissingPlugins, []string{"fruit"}) {
				t.Errorf("missing plugins: %v", f.MissingPlugins)
			}
			plain := formulate(t, bar())
			if f.Alkali.NaOHG != plain.Alkali.NaOHG || f.Superfat != plain.Superfat {
				t.Errorf("alkali %v, superfat %v", f.Alkali, f.Superfat)
			}
			noWater := slices.Contains(x.rights, engine.GrantWater)
			if withheld := f.Water.AskedG == 0 && f.Totals.BatterG == 0 && grams(f, "water") == 0; withheld != noWater {
				t.Errorf("water withheld: %v, want %v; %+v", withheld, noWater, f.Water)
			}
			if grams(f, "naoh") == 0 || grams(f, "olive") == 0 {
				t.Errorf("lost lines: %+v", f.WeighOut)
			}
		})
	}
}

// A failed review loses findings only: it can be allowed and is named.
func TestReviewThatFails(t *testing.T) {
	a := pulp()
	a.review = func(*engine.ReviewBatch) (*engine.ReviewAnswer, error) {
		return &engine.ReviewAnswer{
			Findings: []engine.Finding{{Code: "fruit/note", Severity: engine.Note}},
			Failures: []engine.Failure{{Plugin: "spice", Grants: []engine.Grant{engine.GrantFindings}}},
		}, nil
	}
	e := engine.New(a)
	var failed *engine.OwnerFailed
	if _, err := e.Formulate(context.Background(), pulped(), engine.Options{}); !errors.As(err, &failed) {
		t.Errorf("got %v", err)
	}
	f, err := e.Formulate(context.Background(), pulped(), engine.Options{AllowIncomplete: true})
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(f.MissingPlugins, []string{"spice"}) || found(f, "fruit/note") == nil {
		t.Errorf("missing %v, findings %+v", f.MissingPlugins, f.Findings)
	}
}

// What an owner rejects is said at the caller's place, all of it at once.
func TestRejectedDoses(t *testing.T) {
	a := pulp()
	a.adjust = func(q *engine.AdjustQuestion) (*engine.AdjustAnswer, error) {
		return &engine.AdjustAnswer{Rejections: []engine.Rejection{
			{DoseID: "plum", Field: "of_fats_pct", Reason: "FRUIT_TOO_MUCH", Text: "Use 3 % at most."},
			{DoseID: "prune", Reason: "FRUIT_UNRIPE", Text: "Wait."},
		}}, nil
	}
	r := pulped()
	r.Doses = append(r.Doses, engine.Dose{ID: "prune", Additive: "pulp", OfFatsPct: engine.Some(1)})
	wants(t, a, r, nil,
		want{"recipe.doses[0].of_fats_pct", "FRUIT_TOO_MUCH", "3 %"},
		want{"recipe.doses[1]", "FRUIT_UNRIPE", "Wait"})
}

// Watched fats bring factors that stand beside those of doses.
func TestFatFactors(t *testing.T) {
	a := pulp()
	plain := a.adjust
	a.adjust = func(q *engine.AdjustQuestion) (*engine.AdjustAnswer, error) {
		out, err := plain(q)
		out.FatFactors = []engine.FatFactor{{Fat: "olive-oil", TraceTime: engine.Band{Low: 1.1, Typical: 1.2, High: 1.5}, Firmness: engine.Band{Low: 1, Typical: 1.1, High: 1.2}}}
		return out, err
	}
	f := with(t, a, pulped())
	if len(f.Behavior.TraceTime) != 2 || len(f.Behavior.Firmness) != 2 || !near(f.Behavior.TraceTimeFactor, 0.8*1.2, 1e-12) {
		t.Errorf("behavior %+v", f.Behavior)
	}
	if f.Superfat != with(t, pulp(), pulped()).Superfat {
		t.Error("a factor moved the superfat")
	}
}
