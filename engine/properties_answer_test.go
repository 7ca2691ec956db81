package engine_test

import (
	"fmt"
	"math"
	"slices"

	"lixivium.example/engine"
)

// Rules about one answer.

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

// superfatsAgree compares every superfat with the second reckoning.
func superfatsAgree(x *trial, _ *engine.Formulation) error {
	batch, portions := reckon(x.r, x.f)
	if got := float64(x.f.BatchSuperfat.Pct); !near(got, batch, 1e-9) {
		return fmt.Errorf("batch superfat %.12g, the weigh-out gives %.12g", got, batch)
	}
	lowest := math.Inf(1)
	for i := range portions {
		if got := float64(x.f.Portions[i].Superfat.Pct); !near(got, portions[i], 1e-9) {
			return fmt.Errorf("superfat of portion %d %.12g, the weigh-out gives %.12g", i, got, portions[i])
		}
		lowest = min(lowest, portions[i])
	}
	if got := float64(x.f.Superfat.Pct); !near(got, lowest, 1e-9) {
		return fmt.Errorf("superfat %.12g is not the lowest of the portions, %.12g", got, lowest)
	}
	return nil
}

func isAsked(x *trial) bool { _, ok := x.asked(); return ok }

func nothingAbsorbs(x *trial) bool { return isAsked(x) && !onBalance(x.f) && !absorbs(x.r) }

// askedIsMet: the superfat that the weights give is the asked one.
func askedIsMet(x *trial, _ *engine.Formulation) error {
	asked, _ := x.asked()
	_, portions := reckon(x.r, x.f)
	if got := slices.Min(portions); !near(got, asked, 1e-9) || !near(float64(x.f.Superfat.Pct), asked, 1e-9) {
		return fmt.Errorf("asked %.12g, the weigh-out gives %.12g, answered %.12g", asked, got, x.f.Superfat.Pct)
	}
	return nil
}

func onBalance(f *engine.Formulation) bool {
	return slices.ContainsFunc(f.WeighOut, func(l engine.WeighLine) bool { return l.Balance != "" })
}

func roundedAsked(x *trial) bool { return isAsked(x) && onBalance(x.f) }

func exactNotBelow(x *trial, _ *engine.Formulation) error   { return neverBelowAsked(x, x.exact) }
func roundedNotBelow(x *trial, _ *engine.Formulation) error { return neverBelowAsked(x, x.f) }

// neverBelowAsked: neither acids nor brought or held-back fat nor rounding makes
// a portion leaner than asked, as answered and as the weights give it.
func neverBelowAsked(x *trial, f *engine.Formulation) error {
	asked, _ := x.asked()
	_, portions := reckon(x.r, f)
	for i := range f.Portions {
		if got := min(portions[i], float64(f.Portions[i].Superfat.Pct)); got < asked-1e-9 {
			return fmt.Errorf("portion %d has a superfat of %.12g, asked %.12g", i, got, asked)
		}
	}
	return nil
}

// linesAddUp: what is weighed is the batter, and the portions with what goes on
// the surface are the batter.
func linesAddUp(x *trial, _ *engine.Formulation) error {
	f := x.f
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
		return fmt.Errorf("the lines weigh %.12g g, the batter %.12g g", sum, batter)
	} else if !near((portions+surface)/batter, 1, 1e-9) {
		return fmt.Errorf("portions %.12g g and surface %.12g g are not the batter %.12g g", portions, surface, batter)
	}
	return nil
}

// linesOnBalances: each line is whole steps of the balance it names and fits it;
// fats are never rounded down, alkali never up, given alkali never at all.
func linesOnBalances(x *trial, _ *engine.Formulation) error {
	r, f, balances := x.r, x.f, x.balances
	byName := map[string]*engine.Balance{}
	for i := range balances {
		byName[balances[i].Name] = &balances[i]
	}
	for i := range f.WeighOut {
		l := &f.WeighOut[i]
		alkali := isAlkali(l.LineID)
		b := byName[l.Balance]
		switch {
		case alkali && r.Alkali.Given != nil:
			if l.Balance != "" || l.WeighG != l.ExactG {
				return fmt.Errorf("given alkali was rounded: %+v", l)
			}
			continue
		case len(balances) == 0:
			if l.Balance != "" || l.WeighG != l.ExactG {
				return fmt.Errorf("rounded without a balance: %+v", l)
			}
			continue
		case b == nil:
			return fmt.Errorf("line %s is on no balance: %+v", l.LineID, l)
		}
		step, part := float64(b.Step.Grams()), float64(l.WeighG)/float64(l.Parts)
		if n := part / step; math.Abs(n-math.Round(n)) > 1e-6 {
			return fmt.Errorf("%s: %.12g g in %d parts is no whole number of steps of %g g", l.LineID, l.WeighG, l.Parts, step)
		}
		slack := 2e-9 * step * float64(l.Parts) // how near to a step counts as on it
		if b.Capacity.Given() && part > float64(b.Capacity.Grams())*(1+1e-12) {
			return fmt.Errorf("%s: a part of %g g is above the capacity of %q", l.LineID, part, b.Name)
		}
		if l.Stage == engine.StageFats && l.Vessel == engine.FatPot && isFat(r, l.LineID) && float64(l.WeighG) < float64(l.ExactG)-slack {
			return fmt.Errorf("fat %s was rounded down: %+v", l.LineID, l)
		}
		if alkali && float64(l.WeighG) > float64(l.ExactG)+slack {
			return fmt.Errorf("alkali was rounded up: %+v", l)
		}
	}
	return nil
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
func intervalsHold(x *trial, _ *engine.Formulation) error {
	f := x.f
	all := []engine.Superfat{f.BatchSuperfat, f.Superfat}
	for i := range f.Portions {
		all = append(all, f.Portions[i].Superfat)
	}
	for _, s := range all {
		if !(s.WorstPct <= s.LowPct+1e-9 && s.LowPct <= s.Pct+1e-9 && s.Pct <= s.HighPct+1e-9) {
			return fmt.Errorf("worst, low, best and high are out of order: %+v", s)
		}
		for _, p := range []float64{float64(s.ExcessPct), float64(s.FreeCausticPct), float64(s.DominatedSharePct)} {
			if !(p >= 0 && p <= 100+1e-9) {
				return fmt.Errorf("%g is no probability in percent: %+v", p, s)
			}
		}
		if s.FreeCausticPct > s.ExcessPct+1e-9 || s.UncertaintyPct < 0 {
			return fmt.Errorf("free caustic likelier than any excess, or a negative uncertainty: %+v", s)
		}
	}
	return nil
}

// verdictsFollow: danger from a best estimate below zero, 25 % for any excess or
// 10 % for more than 0.05 % of free caustic; caution from 2.5 %.
func verdictsFollow(x *trial, _ *engine.Formulation) error {
	f := x.f
	for i := range f.Portions {
		s, want := f.Portions[i].Superfat, engine.Silent
		switch {
		case s.Pct < 0 || s.ExcessPct >= 25 || s.FreeCausticPct >= 10:
			want = engine.Danger
		case s.ExcessPct >= 2.5:
			want = engine.Caution
		}
		if s.Verdict != want {
			return fmt.Errorf("%s, want %s: %+v", s.Verdict, want, s)
		}
	}
	return nil
}

// crossed makes the interval begin above the best estimate.
func crossed(x *trial, _ *engine.Formulation) bool {
	x.f.Superfat.LowPct = x.f.Superfat.Pct + past
	return true
}

// reassured makes a verdict milder, or one that says nothing a caution.
func reassured(x *trial, _ *engine.Formulation) bool {
	s := &x.f.Portions[0].Superfat
	if s.Verdict == engine.Silent {
		s.Verdict = engine.Caution
	} else {
		s.Verdict = engine.Silent
	}
	return true
}
