package engine_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"

	"pgregory.net/rapid"

	"lixivium.example/engine"
	"lixivium.example/engine/unit"
)

// Rules about two answers: what must and must not move when a recipe changes in
// one way.

// permuted is the answer with fats, doses and portions in another order.
func permuted(x *trial) *engine.Formulation {
	n := *x.r
	n.Fats = rapid.Permutation(x.r.Fats).Draw(x.t, "fats")
	n.Doses = rapid.Permutation(x.r.Doses).Draw(x.t, "doses")
	n.Portions = rapid.Permutation(x.r.Portions).Draw(x.t, "portions")
	return sure(x, settle(x.t, &n, x.balances))
}

// sure fails where a change makes a batch impossible that must not.
func sure(x *trial, g *engine.Formulation) *engine.Formulation {
	if g == nil {
		x.t.Fatalf("%s\nsaid in another way it cannot be made", describe(x.r))
	}
	return g
}

// sameMasses: every line weighs the same, and so is the superfat.
func sameMasses(x *trial, g *engine.Formulation) error {
	f := x.f
	if len(f.WeighOut) != len(g.WeighOut) {
		return fmt.Errorf("%d lines became %d", len(f.WeighOut), len(g.WeighOut))
	}
	for i := range f.WeighOut {
		l := &f.WeighOut[i]
		if got := grams(g, l.LineID); !near(got, float64(l.WeighG), 1e-9) {
			if anyHalfway(f, x.balances) {
				return nil // the last bit of a sum decides, and what follows from it
			}
			return fmt.Errorf("%s: %.12g g became %.12g g", l.LineID, l.WeighG, got)
		}
	}
	// Of portions that are equally lean either may be named.
	same := f.Superfat.PortionID != g.Superfat.PortionID || sameInterval(f, g)
	if !near(float64(f.Superfat.Pct), float64(g.Superfat.Pct), 1e-9) || !same {
		return fmt.Errorf("superfat %+v became %+v", f.Superfat, g.Superfat)
	}
	return nil
}

// anyHalfway tells whether a line lies midway between two steps of its balance.
func anyHalfway(f *engine.Formulation, balances []engine.Balance) bool {
	return slices.ContainsFunc(f.WeighOut, func(l engine.WeighLine) bool { return halfway(&l, balances) })
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

// sameInterval compares intervals. Sources of one width may change places by the
// last bit, and the shape of the distribution is kept for the widest few only.
func sameInterval(f, g *engine.Formulation) bool {
	return near(float64(f.Superfat.LowPct), float64(g.Superfat.LowPct), 1e-3) && near(float64(f.Superfat.HighPct), float64(g.Superfat.HighPct), 1e-3)
}

// inOtherUnits is the exact answer with every mass in a unit of chance.
func inOtherUnits(x *trial) *engine.Formulation {
	restate := func(q engine.Quantity) engine.Quantity { return inUnit(q, massUnit.Draw(x.t, "unit")) }
	n := *x.r
	n.TotalFats, n.Fats, n.Doses = restate(x.r.TotalFats), slices.Clone(x.r.Fats), slices.Clone(x.r.Doses)
	for i := range n.Fats {
		n.Fats[i].Mass = restate(n.Fats[i].Mass)
	}
	for i := range n.Doses {
		d := &n.Doses[i]
		d.Mass = restate(d.Mass)
		if s := d.Spoons; s != nil {
			d.Spoons = &engine.Spoons{TeaspoonsUS: s.TeaspoonsUS, PerFats: restate(s.PerFats)}
		}
	}
	for _, s := range []**engine.AlkaliStock{&n.Alkali.NaOH, &n.Alkali.KOH} {
		if *s == nil || (*s).Made == nil {
			continue
		}
		stock, made := **s, *(*s).Made
		made.Solid, made.Water = restate(made.Solid), restate(made.Water)
		stock.Made, stock.AlsoHolds, *s = &made, slices.Clone(stock.AlsoHolds), &stock
		for i := range stock.AlsoHolds {
			stock.AlsoHolds[i].Mass = restate(stock.AlsoHolds[i].Mass)
		}
	}
	if g := x.r.Alkali.Given; g != nil {
		n.Alkali.Given = &engine.GivenAlkali{NaOH: restate(g.NaOH), KOH: restate(g.KOH)}
	}
	n.Water = changedWater(x.r.Water, func(m *engine.WaterMeasure) { m.Mass = restate(m.Mass) })
	return sure(x, settle(x.t, &n, nil))
}

// massUnits are the masses in which a quantity may be stated. Ounce and pound
// are those of the international yard and pound agreement of 1959.
var massUnits = map[engine.QuantityUnit]float64{engine.Gram: 1, engine.Kilogram: 1000, engine.Ounce: 28.349523125, engine.Pound: 453.59237}

var massUnit = rapid.SampledFrom([]engine.QuantityUnit{engine.Kilogram, engine.Ounce, engine.Pound, engine.Gram})

// inUnit restates grams; what is not stated stays so.
func inUnit(q engine.Quantity, u engine.QuantityUnit) engine.Quantity {
	if !q.Given() {
		return q
	}
	return engine.Quantity{Value: q.Value / massUnits[u], Unit: u}
}

// sameMassesExactly: every line weighs the same, and its mass in each unit is
// that mass.
func sameMassesExactly(x *trial, g *engine.Formulation) error {
	for i := range x.exact.WeighOut {
		l := &x.exact.WeighOut[i]
		for u := range massUnits {
			if back := inUnit(engine.InGrams(float64(l.WeighG)), u).Grams(); math.Abs(float64(back-l.WeighG)) > 4e-16*float64(l.WeighG) {
				return fmt.Errorf("%.17g g in %s and back are %.17g g", l.WeighG, u, back)
			}
		}
	}
	plain := *x
	plain.f, plain.balances = x.exact, nil
	return sameMasses(&plain, g)
}

// invertible: a dose in percent of the asked water follows the alkali.
func invertible(x *trial) bool { return isAsked(x) && !ofWater(x.r) }

// givenBack is the answer to the exact alkali of the first, given back with its
// purity stated.
func givenBack(x *trial) *engine.Formulation {
	back := *x.r
	back.Alkali = engine.Alkali{NaOH: stated(x.r.Alkali.NaOH, 98), KOH: stated(x.r.Alkali.KOH, 90), Given: &engine.GivenAlkali{}}
	if g := grams(x.exact, "naoh"); g > 0 {
		back.Alkali.Given.NaOH = engine.InGrams(g)
	}
	if g := grams(x.exact, "koh"); g > 0 {
		back.Alkali.Given.KOH = engine.InGrams(g)
	}
	back.Doses = slices.Clone(x.r.Doses)
	for i := range back.Doses {
		back.Doses[i].Treatment = engine.TreatmentAbsorb
	}
	return sure(x, settle(x.t, &back, nil))
}

func sameSuperfat(x *trial, g *engine.Formulation) error {
	f := x.exact
	if !near(float64(f.Superfat.Pct), float64(g.Superfat.Pct), 1e-9) || !near(float64(f.BatchSuperfat.Pct), float64(g.BatchSuperfat.Pct), 1e-9) {
		return fmt.Errorf("superfat %.12g, given back %.12g", f.Superfat.Pct, g.Superfat.Pct)
	}
	return nil
}

// givenMore gives a millionth more back.
func givenMore(x *trial, g *engine.Formulation) bool {
	timesAlkali(x.exact, 1+past)
	*g = *givenBack(x)
	return true
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

// kTimes is the answer to the recipe in another size.
func kTimes(x *trial) *engine.Formulation {
	x.k = math.Exp(number(x.t, 0, 4) - 2)
	return sure(x, settle(x.t, scaled(x.r, x.k), nil))
}

// linear: every mass is k times as large, and no share, superfat or strength
// moves.
func linear(x *trial, g *engine.Formulation) error {
	f, k := x.exact, x.k
	if len(f.WeighOut) != len(g.WeighOut) {
		return fmt.Errorf("%d lines became %d", len(f.WeighOut), len(g.WeighOut))
	}
	for i := range f.WeighOut {
		a, b := &f.WeighOut[i], &g.WeighOut[i]
		if a.LineID != b.LineID || !near(float64(a.WeighG)*k, float64(b.WeighG), 1e-9) {
			return fmt.Errorf("%s: %g g times %g is not %g g of %s", a.LineID, a.WeighG, k, b.WeighG, b.LineID)
		}
	}
	for _, v := range [][2]float64{
		{float64(f.Superfat.Pct), float64(g.Superfat.Pct)},
		{float64(f.Water.JugStrengthPct), float64(g.Water.JugStrengthPct)},
		{float64(f.Water.BatchStrengthPct), float64(g.Water.BatchStrengthPct)},
		{float64(f.Totals.Density), float64(g.Totals.Density)},
		{float64(f.Water.FormedG) * k, float64(g.Water.FormedG)},
		{float64(f.Totals.BatterML) * k, float64(g.Totals.BatterML)},
	} {
		if !near(v[0], v[1], 1e-9) {
			return fmt.Errorf("%g became %g at %g times the size", v[0], v[1], k)
		}
	}
	if !sameInterval(f, g) {
		return fmt.Errorf("%+v became %+v at %g times the size", f.Superfat, g.Superfat, k)
	}
	return nil
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

// followsWater: doses in percent of the asked water stand aside, for their acids
// grow with it.
func followsWater(x *trial) bool { return !ofWater(x.r) }

func withMoreWater(x *trial) *engine.Formulation {
	more := *x.r
	by := 1 + number(x.t, 0.01, 0.5)
	more.Water = changedWater(x.r.Water, func(m *engine.WaterMeasure) {
		m.Mass.Value *= by
		m.LyeConcentrationPct = times(m.LyeConcentrationPct, 1/by)
		m.WaterPerAlkali = times(m.WaterPerAlkali, by)
		m.OfFatsPct = times(m.OfFatsPct, by)
	})
	return sure(x, settle(x.t, &more, nil))
}

func times(o engine.Optional, k float64) engine.Optional {
	if v, ok := o.Get(); ok {
		return engine.Some(v * k)
	}
	return o
}

// noStronger: neither the jug nor the batter is stronger.
func noStronger(x *trial, g *engine.Formulation) error {
	for _, v := range [][2]unit.Percent{
		{x.exact.Water.JugStrengthPct, g.Water.JugStrengthPct},
		{x.exact.Water.JugPurePct, g.Water.JugPurePct},
		{x.exact.Water.BatchStrengthPct, g.Water.BatchStrengthPct},
	} {
		if v[1] > v[0]*(1+1e-12) {
			return fmt.Errorf("more water took a strength from %g to %g %%", v[0], v[1])
		}
	}
	return nil
}

func strengthened(x *trial, g *engine.Formulation) bool {
	g.Water.JugStrengthPct = x.exact.Water.JugStrengthPct * (1 + past)
	return true
}

func withMoreSuperfat(x *trial) *engine.Formulation {
	asked, _ := x.asked()
	more := *x.r
	more.Alkali.SuperfatPct = engine.Some(asked + number(x.t, 0.1, 10))
	return settle(x.t, &more, nil)
}

func noMoreAlkali(x *trial, g *engine.Formulation) error {
	for _, id := range []string{"naoh", "koh"} {
		if before, after := grams(x.exact, id), grams(g, id); after > before*(1+1e-12) {
			return fmt.Errorf("more superfat took %s from %g to %g g", id, before, after)
		}
	}
	return nil
}

func alkaliOverFirst(x *trial, g *engine.Formulation) bool {
	g.WeighOut = slices.Clone(x.exact.WeighOut)
	timesAlkali(g, 1+past)
	return true
}

func withWorksheet(x *trial) *engine.Formulation {
	g, err := engine.New(nil).Formulate(context.Background(), x.r, engine.Options{Balances: x.balances, IncludeWorksheet: true})
	if err != nil || len(g.Worksheet) == 0 {
		x.t.Fatalf("%s\nrefused with a worksheet, or without a line: %v", describe(x.r), err)
	}
	g.Worksheet = nil
	return g
}

// sameBits compares every figure of two answers by its bits, and every word.
func sameBits(x *trial, g *engine.Formulation) error {
	if !reflect.DeepEqual(x.f, g) {
		return errors.New("the answers differ")
	}
	a, b := figures(x.f), figures(g)
	for i := range a {
		if math.Float64bits(a[i].value) != math.Float64bits(b[i].value) {
			return fmt.Errorf("%s: %v and %v", a[i].path, a[i].value, b[i].value)
		}
	}
	return nil
}

func movedOneBit(_ *trial, g *engine.Formulation) bool {
	g.Alkali.TotalMol = unit.Moles(math.Nextafter(float64(g.Alkali.TotalMol), 1000))
	return true
}
