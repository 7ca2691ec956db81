package inprocess_test

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"lixivium.example/engine"
	"lixivium.example/plugins/acids"
	"lixivium.example/plugins/clays"
	"lixivium.example/plugins/lactate"
	"lixivium.example/plugins/pigments"
	"lixivium.example/plugins/sdk"
	"lixivium.example/plugins/sdk/inprocess"
	"lixivium.example/plugins/sugars"
)

func five(t *testing.T) *inprocess.Set {
	t.Helper()
	s, err := inprocess.New(lactate.Plugin(), pigments.Plugin(), clays.Plugin(), sugars.Plugin(), acids.Plugin())
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// design is a bar in three portions: one white, one with clay, one with honey;
// lactate in the lye and a little citric acid.
func design() *engine.Recipe {
	pct := func(id, additive string, of float64, portion string) engine.Dose {
		return engine.Dose{ID: id, Additive: additive, OfFatsPct: engine.Some(of), PortionID: portion}
	}
	white := pct("white", "titanium-dioxide", 0.7, "top")
	white.Carrier = &engine.Carrier{Fat: "olive-oil", GPerG: 4}
	clay := pct("clay", "rose-clay", 0.8, "middle")
	clay.Carrier = &engine.Carrier{Water: true, GPerG: 2}
	return &engine.Recipe{
		Name: "three layers",
		Fats: []engine.FatLine{
			{ID: "olive", Fat: "olive-oil", SharePct: engine.Some(70)},
			{ID: "coconut", Fat: "coconut-oil", SharePct: engine.Some(30)},
		},
		TotalFats: engine.InGrams(1000),
		Alkali:    engine.Alkali{SuperfatPct: engine.Some(5)},
		Water:     &engine.Water{Measure: &engine.WaterMeasure{LyeConcentrationPct: engine.Some(33)}},
		Doses:     []engine.Dose{pct("lactate", "sodium-lactate", 1.4, ""), pct("citric", "citric-acid", 0.5, ""), white, clay, pct("honey", "honey", 1.5, "base")},
		Portions:  []engine.Portion{{ID: "top", BaseSharePct: 30}, {ID: "middle", BaseSharePct: 40}, {ID: "base", BaseSharePct: 30}},
		Process:   engine.Process{Gel: engine.GelForce},
	}
}

// The five plugins move the figures of a real batch by what a gram of each does.
func TestDesignedBar(t *testing.T) {
	e := engine.New(five(t))
	f, err := e.Formulate(t.Context(), design(), engine.Options{})
	if err != nil {
		t.Fatal(err)
	}
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-9*math.Max(1, math.Abs(want)) {
			t.Errorf("%s: %v, want %v", what, got, want)
		}
	}
	// By hand: 14 g lactate solution holds 5.6 g water; 5 g citric acid takes
	// 3 x 5/192.124 mol; 3.2 g rose clay binds half its weight.
	near("water on top", float64(f.Water.OnTopG), 14*0.4)
	near("alkali for the acid", float64(f.Alkali.AcidsMol), 3*5/192.124)
	near("water bound", float64(f.Water.BoundG), 0.008*400*0.5)
	if f.Superfat.Pct < 5-1e-9 {
		t.Errorf("the lowest superfat is %v, asked was 5", f.Superfat.Pct)
	}
	if f.Superfat.HighPct <= f.Superfat.Pct {
		t.Error("honey does not widen the superfat upward")
	}
	for _, x := range f.Findings {
		if strings.HasPrefix(x.Code, "engine/") {
			continue
		}
		if x.Severity >= engine.Caution {
			t.Errorf("an ordinary bar gets %s: %s", x.Code, x.Text)
		}
	}
	if len(f.Origin.Plugins) != 5 {
		t.Errorf("the answer names %v, want five plugins", f.Origin.Plugins)
	}
}

// Findings of two plugins about each other come from review, and the figures do
// not move.
func TestInteractionsAreFindings(t *testing.T) {
	e := engine.New(five(t))
	r := design()
	r.Doses = append(r.Doses, engine.Dose{ID: "more-honey", Additive: "honey", OfFatsPct: engine.Some(1), PortionID: "top"})
	f, err := e.Formulate(t.Context(), r, engine.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range f.Findings {
		if x.Code == "sugars/browns-white" {
			return
		}
	}
	t.Errorf("honey in the white portion is not told: %+v", f.Findings)
}

// A remedy is a change of the recipe that the engine takes.
func TestRemedyIsAChange(t *testing.T) {
	e := engine.New(five(t))
	r := design()
	r.Doses[0].OfFatsPct = engine.Some(5)
	f, err := e.Formulate(t.Context(), r, engine.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range f.Findings {
		if x.Code != "lactate/crumble" {
			continue
		}
		r.Doses[0] = *x.Remedies[0].Dose
		again, err := e.Formulate(t.Context(), r, engine.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, y := range again.Findings {
			if y.Code == x.Code {
				t.Errorf("with the remedy it still says: %s", y.Text)
			}
		}
		return
	}
	t.Error("5 % of lactate is not told")
}

func TestRejectionStandsAtItsField(t *testing.T) {
	r := design()
	r.Doses[1].Parameters = map[string]float64{"monohydrate": 0.5}
	_, err := engine.New(five(t)).Formulate(t.Context(), r, engine.Options{})
	var v *engine.Violations
	if !errors.As(err, &v) || !strings.Contains(err.Error(), "recipe.doses[1].parameters.monohydrate") {
		t.Errorf("got %v, want a violation at recipe.doses[1].parameters.monohydrate", err)
	}
}

// broken is a plugin that answers beyond its rights.
func broken(adjust func(context.Context, sdk.Question) sdk.Answer) *sdk.Plugin {
	return &sdk.Plugin{
		Name: "broken", Version: "1", Wants: []sdk.Grant{sdk.GrantTrace},
		Owns:   []sdk.Additive{{ID: "broken-one", Name: "One", HighOfFatsPct: 1, UsualStage: sdk.StageTrace}},
		Adjust: adjust,
	}
}

func TestBreachFailsClosed(t *testing.T) {
	for reason, adjust := range map[string]func(context.Context, sdk.Question) sdk.Answer{
		"CONTRACT_BROKEN": func(_ context.Context, q sdk.Question) sdk.Answer {
			return q.Each(func(sdk.Dose) (sdk.Adjustment, *sdk.Rejection) {
				return sdk.Adjustment{AlkaliMolPerG: 0.01, DensityGPerML: 1, Basis: sdk.Estimate, Source: "x"}, nil
			})
		},
		"PLUGIN_CRASHED": func(context.Context, sdk.Question) sdk.Answer { panic("no") },
	} {
		s, err := inprocess.New(lactate.Plugin(), broken(adjust))
		if err != nil {
			t.Fatal(err)
		}
		q := &engine.AdjustQuestion{Doses: []engine.DoseView{
			{ID: "a", Additive: "broken-one", Stage: engine.StageTrace, OfFatsPct: 1, OfPortionFatsPct: 1},
			{ID: "b", Additive: "sodium-lactate", Stage: engine.StageCooledLye, OfFatsPct: 1, OfPortionFatsPct: 1, Parameters: map[string]float64{"strength_pct": 60}},
		}}
		a, err := s.Adjust(t.Context(), q)
		if err != nil {
			t.Fatal(err)
		}
		if len(a.Failures) != 1 || a.Failures[0].Reason != reason || a.Failures[0].Plugin != "broken" || a.Failures[0].DoseIDs[0] != "a" {
			t.Errorf("%s: failures %+v", reason, a.Failures)
		}
		if len(a.Adjustments) != 1 || a.Adjustments[0].DoseID != "b" {
			t.Errorf("%s: adjustments %+v, want the other plugin's alone", reason, a.Adjustments)
		}
	}
}

func TestTwoOwnersAreRefused(t *testing.T) {
	other := lactate.Plugin()
	other.Name = "rival"
	_, err := inprocess.New(lactate.Plugin(), other)
	if err == nil || !strings.Contains(err.Error(), "lactate") || !strings.Contains(err.Error(), "rival") {
		t.Errorf("got %v, want both named", err)
	}
}
