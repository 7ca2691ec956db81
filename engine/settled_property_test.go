package engine_test

import (
	"context"
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"lixivium.example/engine"
)

// settle formulates a drawn recipe. A recipe that cannot be made is no answer;
// any other refusal means that the draw is wrong.
func settle(t *rapid.T, r *engine.Recipe, balances []engine.Balance) *engine.Formulation {
	f, err := engine.New(nil).Formulate(context.Background(), r, engine.Options{Balances: balances})
	var impossible *engine.Impossible
	switch {
	case errors.As(err, &impossible):
		return nil
	case err != nil:
		t.Fatalf("refused: %v", err)
	}
	return f
}

// settledChecks is how many recipes the rules are tried on.
const settledChecks = 40000

// TestSettledBatches tries the rules of a settled batch on drawn recipes, exact
// and on balances: what the superfats are, that no portion falls below the asked
// one, what the lines weigh and what they add up to.
func TestSettledBatches(t *testing.T) {
	tried, answered, rounded, held := 0, 0, 0, 0
	check(t, settledChecks, func(t *rapid.T) {
		r := anyRecipe.Draw(t, "recipe")
		balances := anyBalances.Draw(t, "balances")
		tried++
		t.Logf("recipe:\n%s", describe(r))
		f := settle(t, r, balances)
		if f == nil {
			return
		}
		answered++
		if len(balances) > 0 {
			rounded++
		}
		if holdsBack(r) {
			held++
		}
		superfatsAgree(t, r, f)
		neverBelowAsked(t, r, f)
		linesAddUp(t, f)
		linesOnBalances(t, r, f, balances)
		intervalsHold(t, f)
		verdictsFollow(t, f)
	})
	if answered < tried*3/4 || rounded < tried/3 || held < tried/8 {
		t.Errorf("of %d drawn recipes %d were answered, %d on balances, %d with fat held back: the trial is thin", tried, answered, rounded, held)
	}
}

func holdsBack(r *engine.Recipe) bool {
	for i := range r.Doses {
		if c := r.Doses[i].Carrier; c != nil && c.Fat != "" && !c.Extra && !c.Premixed {
			return true
		}
	}
	return false
}

// absorbs tells whether any dose takes alkali, or brings fat, that is not added.
func absorbs(r *engine.Recipe) bool {
	for i := range r.Doses {
		d := &r.Doses[i]
		acid, fats := takes(d.Custom)
		if d.Stage == engine.StageSurface {
			continue
		}
		if d.Treatment != engine.TreatmentAdd && acid+fats > 0 {
			return true
		}
		if c := d.Carrier; c != nil {
			acid, fats := takes(c.Custom)
			if acid+fats > 0 || c.Fat != "" {
				return true
			}
		}
	}
	return false
}

// superfatsAgree compares with the second reckoning, and with what was asked
// where nothing moves it.
func superfatsAgree(t *rapid.T, r *engine.Recipe, f *engine.Formulation) {
	batch, portions := reckon(r, f)
	if got := float64(f.BatchSuperfat.Pct); !near(got, batch, 1e-9) {
		t.Fatalf("batch superfat %.12g, the weigh-out gives %.12g", got, batch)
	}
	lowest := math.Inf(1)
	for i := range portions {
		if got := float64(f.Portions[i].Superfat.Pct); !near(got, portions[i], 1e-9) {
			t.Fatalf("superfat of portion %d %.12g, the weigh-out gives %.12g", i, got, portions[i])
		}
		lowest = min(lowest, portions[i])
	}
	if got := float64(f.Superfat.Pct); !near(got, lowest, 1e-9) {
		t.Fatalf("superfat %.12g is not the lowest of the portions, %.12g", got, lowest)
	}
	asked, ok := r.Alkali.SuperfatPct.Get()
	if ok && !onBalance(f) && !absorbs(r) && !near(float64(f.Superfat.Pct), asked, 1e-9) {
		t.Fatalf("asked %.12g, answered %.12g, and nothing absorbs", asked, f.Superfat.Pct)
	}
}

func onBalance(f *engine.Formulation) bool {
	for i := range f.WeighOut {
		if f.WeighOut[i].Balance != "" {
			return true
		}
	}
	return false
}

// neverBelowAsked: neither acids nor brought or held-back fat nor rounding makes
// a portion leaner than asked.
func neverBelowAsked(t *rapid.T, r *engine.Recipe, f *engine.Formulation) {
	asked, ok := r.Alkali.SuperfatPct.Get()
	for i := range f.Portions {
		if got := float64(f.Portions[i].Superfat.Pct); ok && got < asked-1e-9 {
			t.Fatalf("portion %d has a superfat of %.12g, asked %.12g", i, got, asked)
		}
	}
}

// linesAddUp: what is weighed is the batter, and the portions with what goes on
// the surface are the batter.
func linesAddUp(t *rapid.T, f *engine.Formulation) {
	sum, surface, portions := 0.0, 0.0, 0.0
	for i := range f.WeighOut {
		l := &f.WeighOut[i]
		sum += float64(l.WeighG)
		if l.Vessel == engine.MoldVessel {
			surface += float64(l.WeighG)
		}
	}
	for i := range f.Portions {
		portions += float64(f.Portions[i].BatterG)
	}
	if batter := float64(f.Totals.BatterG); !near(sum/batter, 1, 1e-9) {
		t.Fatalf("the lines weigh %.12g g, the batter %.12g g", sum, batter)
	} else if !near((portions+surface)/batter, 1, 1e-9) {
		t.Fatalf("portions %.12g g and surface %.12g g are not the batter %.12g g", portions, surface, batter)
	}
}

// linesOnBalances: each line is whole steps of the balance it names and fits it;
// fats are never rounded down, alkali never up, given alkali never at all.
func linesOnBalances(t *rapid.T, r *engine.Recipe, f *engine.Formulation, balances []engine.Balance) {
	byName := map[string]*engine.Balance{}
	for i := range balances {
		byName[balances[i].Name] = &balances[i]
	}
	for i := range f.WeighOut {
		l := &f.WeighOut[i]
		alkali := l.LineID == "naoh" || l.LineID == "koh"
		b := byName[l.Balance]
		switch {
		case alkali && r.Alkali.Given != nil:
			if l.Balance != "" || l.WeighG != l.ExactG {
				t.Fatalf("given alkali was rounded: %+v", l)
			}
			continue
		case len(balances) == 0:
			if l.Balance != "" || l.WeighG != l.ExactG {
				t.Fatalf("rounded without a balance: %+v", l)
			}
			continue
		case b == nil:
			t.Fatalf("line %s is on no balance: %+v", l.LineID, l)
		}
		step, part := float64(b.Step.Grams()), float64(l.WeighG)/float64(l.Parts)
		if n := part / step; math.Abs(n-math.Round(n)) > 1e-6 {
			t.Fatalf("%s: %.12g g in %d parts is no whole number of steps of %g g", l.LineID, l.WeighG, l.Parts, step)
		}
		slack := 2e-9 * step * float64(l.Parts) // how near to a step counts as on it
		if b.Capacity.Given() && part > float64(b.Capacity.Grams())*(1+1e-12) {
			t.Fatalf("%s: a part of %g g is above the capacity of %q", l.LineID, part, b.Name)
		}
		if l.Stage == engine.StageFats && l.Vessel == engine.FatPot && isFat(r, l.LineID) && float64(l.WeighG) < float64(l.ExactG)-slack {
			t.Fatalf("fat %s was rounded down: %+v", l.LineID, l)
		}
		if alkali && float64(l.WeighG) > float64(l.ExactG)+slack {
			t.Fatalf("alkali was rounded up: %+v", l)
		}
	}
}

func isFat(r *engine.Recipe, id string) bool {
	for i := range r.Fats {
		if r.Fats[i].ID == id {
			return true
		}
	}
	return false
}

// intervalsHold: the worst case, the interval and the best estimate lie in order
// and probabilities are percent.
func intervalsHold(t *rapid.T, f *engine.Formulation) {
	all := []engine.Superfat{f.BatchSuperfat, f.Superfat}
	for i := range f.Portions {
		all = append(all, f.Portions[i].Superfat)
	}
	for _, s := range all {
		if !(s.WorstPct <= s.LowPct+1e-9 && s.LowPct <= s.Pct+1e-9 && s.Pct <= s.HighPct+1e-9) {
			t.Fatalf("worst, low, best and high are out of order: %+v", s)
		}
		for _, p := range []float64{float64(s.ExcessPct), float64(s.FreeCausticPct), float64(s.DominatedSharePct)} {
			if !(p >= 0 && p <= 100+1e-9) {
				t.Fatalf("%g is no probability in percent: %+v", p, s)
			}
		}
		if s.FreeCausticPct > s.ExcessPct+1e-9 || s.UncertaintyPct < 0 {
			t.Fatalf("free caustic likelier than any excess, or a negative uncertainty: %+v", s)
		}
	}
}

// verdictsFollow: danger from a best estimate below zero, 25 % for any excess or
// 10 % for more than 0.05 % of free caustic; caution from 2.5 %.
func verdictsFollow(t *rapid.T, f *engine.Formulation) {
	for i := range f.Portions {
		s, want := f.Portions[i].Superfat, engine.Silent
		switch {
		case s.Pct < 0 || s.ExcessPct >= 25 || s.FreeCausticPct >= 10:
			want = engine.Danger
		case s.ExcessPct >= 2.5:
			want = engine.Caution
		}
		if s.Verdict != want {
			t.Fatalf("%s, want %s: %+v", s.Verdict, want, s)
		}
	}
}
