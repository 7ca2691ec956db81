package engine_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"lixivium.example/engine"
)

// What must and must not move when a recipe changes in one way.

// TestGivenInvertsAsked: the alkali that an asked superfat works out, given back
// with its purity stated, has that superfat.
func TestGivenInvertsAsked(t *testing.T) {
	inverted := 0
	check(t, 3000, func(t *rapid.T) {
		r := askedRecipe.Draw(t, "recipe")
		f := settle(t, r, nil)
		if f == nil || ofWater(r) {
			return // a dose in percent of the asked water follows the alkali
		}
		inverted++
		back := *r
		back.Alkali = engine.Alkali{NaOH: stated(r.Alkali.NaOH, 98), KOH: stated(r.Alkali.KOH, 90), Given: &engine.GivenAlkali{}}
		if g := grams(f, "naoh"); g > 0 {
			back.Alkali.Given.NaOH = engine.InGrams(g)
		}
		if g := grams(f, "koh"); g > 0 {
			back.Alkali.Given.KOH = engine.InGrams(g)
		}
		back.Doses = slices.Clone(r.Doses)
		for i := range back.Doses {
			back.Doses[i].Treatment = engine.TreatmentAbsorb
		}
		g := settle(t, &back, nil)
		if !near(float64(f.Superfat.Pct), float64(g.Superfat.Pct), 1e-9) || !near(float64(f.BatchSuperfat.Pct), float64(g.BatchSuperfat.Pct), 1e-9) {
			t.Fatalf("%s\nsuperfat %.12g, given back %.12g", describe(r), f.Superfat.Pct, g.Superfat.Pct)
		}
	})
	if inverted < 1000 {
		t.Errorf("only %d recipes were turned round", inverted)
	}
}

func ofWater(r *engine.Recipe) bool {
	return slices.ContainsFunc(r.Doses, func(d engine.Dose) bool { return d.OfAskedWaterPct.Set() })
}

// stated is an alkali whose purity is said, as the design took it.
func stated(s *engine.AlkaliStock, unstated float64) *engine.AlkaliStock {
	switch {
	case s == nil:
		return purity(unstated)
	case s.Made != nil && !s.Made.PurityPct.Set():
		copied, made := *s, *s.Made
		made.PurityPct = engine.Some(unstated)
		copied.Made = &made
		return &copied
	case s.Made == nil && s.Solution == nil && !s.PurityPct.Set():
		copied := *s
		copied.PurityPct = engine.Some(unstated)
		return &copied
	}
	return s
}

// TestScaling: k times every stated mass is k times every mass of the answer,
// and no share, superfat or strength moves.
func TestScaling(t *testing.T) {
	check(t, 3000, func(t *rapid.T) {
		r := anyRecipe.Draw(t, "recipe")
		k := math.Exp(number(t, 0, 4) - 2)
		f := settle(t, r, nil)
		if f == nil {
			return
		}
		g := settle(t, scaled(r, k), nil)
		if g == nil || len(f.WeighOut) != len(g.WeighOut) {
			t.Fatalf("%s\n%g times as large is not the same batch", describe(r), k)
		}
		for i := range f.WeighOut {
			a, b := &f.WeighOut[i], &g.WeighOut[i]
			if a.LineID != b.LineID || !near(float64(a.WeighG)*k, float64(b.WeighG), 1e-9) {
				t.Fatalf("%s\n%s: %g g times %g is not %g g of %s", describe(r), a.LineID, a.WeighG, k, b.WeighG, b.LineID)
			}
		}
		for _, x := range [][2]float64{
			{float64(f.Superfat.Pct), float64(g.Superfat.Pct)},
			{float64(f.Water.JugStrengthPct), float64(g.Water.JugStrengthPct)},
			{float64(f.Water.BatchStrengthPct), float64(g.Water.BatchStrengthPct)},
			{float64(f.Totals.Density), float64(g.Totals.Density)},
			{float64(f.Water.FormedG) * k, float64(g.Water.FormedG)},
			{float64(f.Totals.BatterML) * k, float64(g.Totals.BatterML)},
		} {
			if !near(x[0], x[1], 1e-9) {
				t.Fatalf("%s\n%g became %g at %g times the size", describe(r), x[0], x[1], k)
			}
		}
		if !sameInterval(f, g) {
			t.Fatalf("%s\n%+v became %+v at %g times the size", describe(r), f.Superfat, g.Superfat, k)
		}
	})
}

// sameInterval compares intervals. Sources of one width may change places by the
// last bit, and the shape of the distribution is kept for the widest few only.
func sameInterval(f, g *engine.Formulation) bool {
	return near(float64(f.Superfat.LowPct), float64(g.Superfat.LowPct), 1e-3) && near(float64(f.Superfat.HighPct), float64(g.Superfat.HighPct), 1e-3)
}

// scaled is a recipe k times as large.
func scaled(r *engine.Recipe, k float64) *engine.Recipe {
	n := *r
	times := func(q engine.Quantity) engine.Quantity { q.Value *= k; return q }
	n.TotalFats, n.Fats, n.Doses = times(r.TotalFats), slices.Clone(r.Fats), slices.Clone(r.Doses)
	for i := range n.Fats {
		n.Fats[i].Mass = times(n.Fats[i].Mass)
	}
	for i := range n.Doses {
		n.Doses[i].Mass = times(n.Doses[i].Mass)
	}
	if g := r.Alkali.Given; g != nil {
		n.Alkali.Given = &engine.GivenAlkali{NaOH: times(g.NaOH), KOH: times(g.KOH)}
	}
	n.Water = changedWater(r.Water, func(m *engine.WaterMeasure) { m.Mass = times(m.Mass) })
	return &n
}

// changedWater is a water with its measure, or that of its reference, changed.
func changedWater(w *engine.Water, change func(*engine.WaterMeasure)) *engine.Water {
	n := *w
	if w.Discount != nil {
		d, m := *w.Discount, *w.Discount.Reference
		change(&m)
		d.Reference, n.Discount = &m, &d
		return &n
	}
	m := *w.Measure
	change(&m)
	n.Measure = &m
	return &n
}

// TestOrderIsIrrelevant: fats, doses and portions in another order weigh the
// same, exact and rounded.
func TestOrderIsIrrelevant(t *testing.T) {
	check(t, 3000, func(t *rapid.T) {
		r := anyRecipe.Draw(t, "recipe")
		balances := anyBalances.Draw(t, "balances")
		f := settle(t, r, balances)
		if f == nil {
			return
		}
		n := *r
		n.Fats = rapid.Permutation(r.Fats).Draw(t, "fats")
		n.Doses = rapid.Permutation(r.Doses).Draw(t, "doses")
		n.Portions = rapid.Permutation(r.Portions).Draw(t, "portions")
		g := settle(t, &n, balances)
		if g == nil || len(f.WeighOut) != len(g.WeighOut) {
			t.Fatalf("%s\nanother order is another batch", describe(r))
		}
		for i := range f.WeighOut {
			l := &f.WeighOut[i]
			if got := grams(g, l.LineID); !near(got, float64(l.WeighG), 1e-9) {
				if halfway(l, balances) {
					return // the last bit of a sum decides, and what follows from it
				}
				t.Fatalf("%s\n%s: %.12g g, in another order %.12g g", describe(r), l.LineID, l.WeighG, got)
			}
		}
		// Of portions that are equally lean either may be named.
		same := f.Superfat.PortionID != g.Superfat.PortionID || sameInterval(f, g)
		if !near(float64(f.Superfat.Pct), float64(g.Superfat.Pct), 1e-9) || !same {
			t.Fatalf("%s\nsuperfat %v, in another order %v", describe(r), f.Superfat, g.Superfat)
		}
	})
}

// halfway tells whether a line lies midway between two steps of its balance.
func halfway(l *engine.WeighLine, balances []engine.Balance) bool {
	for i := range balances {
		if balances[i].Name == l.Balance {
			_, part := math.Modf(float64(l.ExactG) / float64(balances[i].Step.Grams()))
			return math.Abs(part-0.5) < 1e-6
		}
	}
	return false
}

// TestMoreWaterIsWeaker: more asked water never makes the jug stronger. Doses in
// percent of the asked water stand aside: their acids grow with it.
func TestMoreWaterIsWeaker(t *testing.T) {
	compared := 0
	check(t, 3000, func(t *rapid.T) {
		r := anyRecipe.Draw(t, "recipe")
		if ofWater(r) {
			return
		}
		more := *r
		by := 1 + number(t, 0.01, 0.5)
		more.Water = changedWater(r.Water, func(m *engine.WaterMeasure) {
			m.Mass.Value *= by
			m.LyeConcentrationPct = times(m.LyeConcentrationPct, 1/by)
			m.WaterPerAlkali = times(m.WaterPerAlkali, by)
			m.OfFatsPct = times(m.OfFatsPct, by)
		})
		f, g := settle(t, r, nil), settle(t, &more, nil)
		switch {
		case f == nil:
			return // what cannot be made may become possible
		case g == nil:
			t.Fatalf("%s\nmore water made the batch impossible", describe(r))
		}
		compared++
		if g.Water.JugStrengthPct > f.Water.JugStrengthPct*(1+1e-12) || g.Water.JugPurePct > f.Water.JugPurePct*(1+1e-12) {
			t.Fatalf("%s\n%g times the water took the jug from %g to %g %%", describe(r), by, f.Water.JugStrengthPct, g.Water.JugStrengthPct)
		}
	})
	if compared < 1000 {
		t.Errorf("only %d recipes were compared", compared)
	}
}

func times(o engine.Optional, k float64) engine.Optional {
	if v, ok := o.Get(); ok {
		return engine.Some(v * k)
	}
	return o
}

// TestMoreSuperfatIsLessAlkali: a higher asked superfat never takes more alkali,
// exact or rounded.
func TestMoreSuperfatIsLessAlkali(t *testing.T) {
	check(t, 3000, func(t *rapid.T) {
		r := askedRecipe.Draw(t, "recipe")
		more := *r
		more.Alkali.SuperfatPct = engine.Some(r.Alkali.SuperfatPct.Or(0) + number(t, 0.1, 10))
		f, g := settle(t, r, nil), settle(t, &more, nil)
		if f == nil || g == nil {
			return
		}
		for _, id := range []string{"naoh", "koh"} {
			if grams(g, id) > grams(f, id)*(1+1e-12) {
				t.Fatalf("%s\nmore superfat took %s from %g to %g g", describe(r), id, grams(f, id), grams(g, id))
			}
		}
	})
}
