package engine_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"lixivium.example/engine"
	"lixivium.example/engine/mold"
)

// drawFit draws a size of any kind for a recipe whose exact batch is known.
func drawFit(t *rapid.T, f *engine.Formulation) *engine.Fit {
	q := &engine.Fit{}
	if coin.Draw(t, "loss") {
		q.PotLoss = engine.InGrams(number(t, 0.1, 30))
	}
	switch kind(t, 5) {
	case 0:
		q.Molds = &engine.Molds{TextureAllowancePct: float64(kind(t, 4))}
		for range 1 + kind(t, 3) {
			q.Molds.Molds = append(q.Molds.Molds, drawMold(t))
		}
	case 1:
		q.Batter = engine.InGrams(number(t, 60, 20000))
	case 2:
		q.Fats = engine.InGrams(number(t, 60, 20000))
	case 3:
		q.Bars = &engine.Bars{Count: 1 + kind(t, 60), Mass: engine.InGrams(number(t, 60, 150)), Cured: coin.Draw(t, "cured")}
		if coin.Draw(t, "stated") {
			q.Bars.CureLossPct = engine.Some(number(t, 1, 20))
		}
	case 4:
		q.Stock = &engine.Stock{}
		taken := map[string]bool{}
		for _, l := range f.WeighOut {
			if l.OfLineID == "" && l.TeaspoonsUS >= 0 && chance(t, 40) && !taken[l.LineID] && stockable(l.LineID) {
				taken[l.LineID] = true
				q.Stock.OnHand = append(q.Stock.OnHand, engine.OnHand{LineID: l.LineID, Mass: engine.InGrams(number(t, 50, 5000))})
			}
		}
		if len(q.Stock.OnHand) == 0 {
			q.Stock.OnHand = []engine.OnHand{{LineID: "f0", Mass: engine.InGrams(number(t, 50, 5000))}}
		}
	}
	return q
}

// stockable: grants and carriers are no things of their own on the shelf.
func stockable(id string) bool {
	for _, r := range id {
		if r == '/' {
			return false
		}
	}
	return true
}

func drawMold(t *rapid.T) engine.Mold {
	m := engine.Mold{Count: 1 + kind(t, 4), Material: engine.MoldMaterial(kind(t, 7))}
	switch kind(t, 6) {
	case 0:
		m.Box, m.LinerMM = &mold.Box{LengthMM: number(t, 100, 400), WidthMM: number(t, 60, 300), HeightMM: number(t, 30, 100)}, float64(kind(t, 5))
	case 1:
		m.TaperedBox = &mold.TaperedBox{TopLengthMM: number(t, 100, 400), TopWidthMM: number(t, 60, 300), BottomLengthMM: number(t, 90, 380), BottomWidthMM: number(t, 50, 280), HeightMM: number(t, 30, 100)}
		m.FillHeightMM = engine.Some(m.TaperedBox.HeightMM * number(t, 0.5, 1))
	case 2:
		m.Cylinder, m.FillPct = &mold.Cylinder{DiameterMM: number(t, 50, 120), HeightMM: number(t, 50, 300)}, engine.Some(number(t, 60, 100))
	case 3:
		m.Cavities = &mold.Cavities{Count: 1 + kind(t, 12), MLEach: number(t, 60, 150)}
	case 4:
		m.Water = engine.Quantity{Value: number(t, 0.4, 4), Unit: engine.Liter}
	case 5:
		m.BatterLastTime = engine.InGrams(number(t, 400, 4000))
	}
	return m
}

// scaling brings a drawn recipe to a drawn size. A batch that cannot be made is
// no answer; any other refusal means that the draw is wrong.
func scaling(t *rapid.T, r *engine.Recipe, q *engine.Fit, balances []engine.Balance) *engine.Scaled {
	s, err := engine.New(nil).Scale(context.Background(), r, q, engine.Options{Balances: balances})
	var impossible *engine.Impossible
	var wrong *engine.Violations
	switch {
	case errors.As(err, &impossible):
		return nil
	case errors.As(err, &wrong) && wrong.List[0].Reason == engine.ReasonConflict && (wrong.List[0].Path == "fit.pot_loss" || wrong.List[0].Path == "fit.stock.on_hand"):
		return nil // a loss larger than a tiny batch; nothing of the batch on the shelf
	case err != nil:
		t.Fatalf("refused: %v", err)
	}
	return s
}

// TestScaledRecipeIsAnsweredAlike: what Scale returns, Formulate answers with
// the same balances with the same figures, all of them, to the last bit. Nothing
// but masses changed, and every mass is in grams.
func TestScaledRecipeIsAnsweredAlike(t *testing.T) {
	answered, rounded, even := 0, 0, 0
	check(t, 4000, func(t *rapid.T) {
		r := anyRecipe.Draw(t, "recipe")
		balances := anyBalances.Draw(t, "balances")
		f := settle(t, r, nil)
		if f == nil {
			return
		}
		q := drawFit(t, f)
		s := scaling(t, r, q, balances)
		if s == nil {
			return
		}
		answered++
		again, err := engine.New(nil).Formulate(context.Background(), s.Recipe, engine.Options{Balances: s.Balances})
		if err != nil {
			t.Fatalf("%s\nthe scaled recipe is refused: %v", describe(s.Recipe), err)
		}
		if !reflect.DeepEqual(again, s.Formulation) {
			t.Fatalf("%s\nanswered otherwise than Scale did", describe(s.Recipe))
		}
		statedInGrams(t, s.Recipe)
		if len(balances) > 0 {
			rounded++
			if onSteps(s) {
				even++
			}
		}
	})
	if answered < 2500 || even < rounded*9/10 {
		t.Errorf("%d answered; of %d rounded ones %d state what is weighed", answered, rounded, even)
	}
}

// onSteps tells whether the recipe states the fats as they are weighed, apart
// from what is held back.
func onSteps(s *engine.Scaled) bool {
	for i := range s.Recipe.Fats {
		id := s.Recipe.Fats[i].ID
		held := false
		for _, l := range s.Formulation.WeighOut {
			held = held || l.OfLineID == id
		}
		if g := grams(s.Formulation, id); !held && g != s.Recipe.Fats[i].Mass.Value {
			return false
		}
	}
	return true
}

func statedInGrams(t *rapid.T, r *engine.Recipe) {
	for i := range r.Fats {
		if r.Fats[i].Mass.Unit != engine.Gram || r.Fats[i].SharePct.Set() {
			t.Fatalf("fat %d is %+v", i, r.Fats[i])
		}
	}
	for i := range r.Doses {
		d := &r.Doses[i]
		if d.Spoons != nil || d.Mass.Given() && d.Mass.Unit != engine.Gram {
			t.Fatalf("dose %d is %+v", i, d)
		}
	}
	if r.TotalFats.Given() {
		t.Fatal("a total beside masses")
	}
}

// TestScaleIsLinear: without balances every mass of the answer is the factor
// times that of the recipe, and no share or strength moves.
func TestScaleIsLinear(t *testing.T) {
	answered := 0
	check(t, 3000, func(t *rapid.T) {
		r := anyRecipe.Draw(t, "recipe")
		f := settle(t, r, nil)
		if f == nil {
			return
		}
		s := scaling(t, r, drawFit(t, f), nil)
		if s == nil {
			return
		}
		answered++
		g := s.Formulation
		if len(g.WeighOut) != len(f.WeighOut) {
			t.Fatalf("%s\n%d lines became %d", describe(r), len(f.WeighOut), len(g.WeighOut))
		}
		for i := range f.WeighOut {
			a, b := &f.WeighOut[i], &g.WeighOut[i]
			if a.LineID != b.LineID || !near(float64(b.WeighG)/s.Factor, float64(a.WeighG), 1e-9) {
				t.Fatalf("%s\n%s: %g g times %g is not %g g", describe(r), a.LineID, a.WeighG, s.Factor, b.WeighG)
			}
		}
		for _, x := range [][2]float64{
			{float64(f.Superfat.Pct), float64(g.Superfat.Pct)},
			{float64(f.Water.JugStrengthPct), float64(g.Water.JugStrengthPct)},
			{float64(f.Water.BatchStrengthPct), float64(g.Water.BatchStrengthPct)},
			{float64(f.Totals.Density), float64(g.Totals.Density)},
		} {
			if !near(x[0], x[1], 1e-9) {
				t.Fatalf("%s\n%g became %g at %g times the size", describe(r), x[0], x[1], s.Factor)
			}
		}
	})
	if answered < 2000 {
		t.Errorf("only %d answered", answered)
	}
}

// pouredOf is the batter of an answer that goes into molds: the portions, or all
// that is weighed but for what goes on the surface.
func pouredOf(f *engine.Formulation) float64 {
	g := 0.0
	for i := range f.Portions {
		g += float64(f.Portions[i].BatterG)
	}
	return g
}

func pouredML(f *engine.Formulation) float64 {
	ml := 0.0
	for i := range f.Portions {
		ml += float64(f.Portions[i].BatterML)
	}
	return ml
}

// TestSizeIsReached: molds are filled to the stated level within 0.5 %, and
// every other size is met, losses on top.
func TestSizeIsReached(t *testing.T) {
	tried := map[string]int{}
	check(t, 4000, func(t *rapid.T) {
		r := anyRecipe.Draw(t, "recipe")
		f := settle(t, r, nil)
		if f == nil {
			return
		}
		q := drawFit(t, f)
		s := scaling(t, r, q, nil)
		if s == nil {
			return
		}
		g, loss := s.Formulation, float64(q.PotLoss.Grams())
		batter := pouredOf(g)
		if !near(float64(s.WantedBatterG)/batter, 1, 1e-9) {
			t.Fatalf("wanted %g g of batter, made %g", s.WantedBatterG, batter)
		}
		switch {
		case q.Molds != nil:
			tried["molds"]++
			want := 0.0
			for i, m := range s.Molds {
				want += float64(m.FilledML) * float64(m.Count) * (1 + q.Molds.TextureAllowancePct/100)
				if m.BrimML != 0 && m.FilledML > m.BrimML*(1+1e-12) || m.Count != q.Molds.Molds[i].Count {
					t.Fatalf("%+v of %+v", m, q.Molds.Molds[i])
				}
			}
			lost := loss * pouredML(g) / batter
			if got := pouredML(g) - lost; math.Abs(got-want) > 0.005*want {
				t.Fatalf("%s\nthe molds hold %g mL and get %g", describe(r), want, got)
			}
		case q.Batter.Given():
			tried["batter"]++
			if want := q.Batter.Value + loss; !near(batter/want, 1, 1e-9) {
				t.Fatalf("%g g of batter, wanted %g", batter, want)
			}
		case q.Fats.Given():
			tried["fats"]++
			if !near(float64(g.Totals.FatsG)/q.Fats.Value, 1, 1e-9) {
				t.Fatalf("%g g of fats, wanted %g", g.Totals.FatsG, q.Fats.Value)
			}
		case q.Bars != nil:
			tried["bars"]++
			barsReached(t, q.Bars, s, loss)
		default:
			tried["stock"]++
			shelfLasts(t, s)
		}
	})
	for _, size := range []string{"molds", "batter", "fats", "bars", "stock"} {
		if tried[size] < 300 {
			t.Errorf("%d sizes by %s: %v", tried[size], size, tried)
		}
	}
}

func barsReached(t *rapid.T, b *engine.Bars, s *engine.Scaled, loss float64) {
	n := float64(b.Count)
	if got, want := float64(s.Formulation.Totals.BatterG), n*float64(s.Bar.FreshG)+loss; !near(got/want, 1, 1e-9) {
		t.Fatalf("%g g make %d bars of %g", got, b.Count, s.Bar.FreshG)
	}
	mass, wanted := s.Bar.FreshG, b.Mass.Value
	if b.Cured {
		mass = s.Bar.CuredG
	}
	if !near(float64(mass)/wanted, 1, 1e-12) || !near(float64(s.Bar.FreshG)*(1-float64(s.Bar.CureLossPct)/100), float64(s.Bar.CuredG), 1e-9) {
		t.Fatalf("%+v for bars of %g g", s.Bar, wanted)
	}
}

// shelfLasts: nothing is used beyond what is on hand, and the scarcest thing is
// used up.
func shelfLasts(t *rapid.T, s *engine.Scaled) {
	scarcest := 0
	for _, x := range s.Stock {
		if x.UsedG > x.OnHandG*(1+1e-12) || !near(float64(x.OnHandG-x.UsedG), float64(x.LeftG), 1e-6) {
			t.Fatalf("%+v", x)
		}
		if x.Scarcest {
			scarcest++
			if x.LeftG > x.OnHandG*1e-9 {
				t.Fatalf("the scarcest thing is not used up: %+v", x)
			}
		}
	}
	if scarcest != 1 || !s.Stock[0].Scarcest {
		t.Fatalf("%d scarcest things: %+v", scarcest, s.Stock)
	}
}

// TestShelfLastsOnBalances: rounding up fats never takes more than there is.
func TestShelfLastsOnBalances(t *testing.T) {
	answered := 0
	check(t, 3000, func(t *rapid.T) {
		r := anyRecipe.Draw(t, "recipe")
		f := settle(t, r, nil)
		if f == nil {
			return
		}
		q := drawFit(t, f)
		balances := anyBalances.Draw(t, "balances")
		if q.Stock == nil || len(balances) == 0 {
			return
		}
		s := scaling(t, r, q, balances)
		if s == nil {
			return
		}
		answered++
		for _, x := range s.Stock {
			if x.UsedG > x.OnHandG*(1+1e-12) {
				t.Fatalf("%s\n%+v", describe(r), x)
			}
		}
	})
	if answered < 200 {
		t.Errorf("only %d answered", answered)
	}
}

// TestThereAndBack: scaling to another size and back gives the masses back.
func TestThereAndBack(t *testing.T) {
	check(t, 1500, func(t *rapid.T) {
		r := anyRecipe.Draw(t, "recipe")
		f := settle(t, r, nil)
		if f == nil {
			return
		}
		there := scaling(t, r, &engine.Fit{Batter: engine.InGrams(number(t, 100, 9000))}, nil)
		back := scaling(t, there.Recipe, &engine.Fit{Fats: engine.InGrams(float64(f.Totals.FatsG))}, nil)
		for i := range f.WeighOut {
			if a, b := f.WeighOut[i], back.Formulation.WeighOut[i]; a.LineID != b.LineID || !near(float64(a.WeighG), float64(b.WeighG), 1e-9) {
				t.Fatalf("%s\n%s: %g g came back as %g", describe(r), a.LineID, a.WeighG, b.WeighG)
			}
		}
		if !near(there.Factor*back.Factor, 1, 1e-9) {
			t.Fatalf("there %g, back %g", there.Factor, back.Factor)
		}
	})
}

// TestUnitsOfASizeAreAlike: one size in every unit it can be stated in.
func TestUnitsOfASizeAreAlike(t *testing.T) {
	const g = 1360.77711
	var first *engine.Scaled
	for _, q := range []engine.Quantity{engine.InGrams(g), {Value: g / 1000, Unit: engine.Kilogram}, {Value: g / 28.349523125, Unit: engine.Ounce}, {Value: g / 453.59237, Unit: engine.Pound}} {
		for i, fit := range []*engine.Fit{{Batter: q}, {Molds: &engine.Molds{Molds: []engine.Mold{{Count: 1, BatterLastTime: q}}}}, {Bars: &engine.Bars{Count: 1, Mass: q}}} {
			s, err := engine.New(nil).Scale(context.Background(), bar(), fit, engine.Options{})
			if err != nil {
				t.Fatal(err)
			}
			if first == nil {
				first = s
			}
			if !near(s.Factor, first.Factor, 1e-12) {
				t.Errorf("%s, size %d: factor %.15g, want %.15g", fmt.Sprint(q.Unit), i, s.Factor, first.Factor)
			}
		}
	}
}
