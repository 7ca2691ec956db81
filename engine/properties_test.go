package engine_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"lixivium.example/engine"
	"lixivium.example/engine/unit"
)

// trial is a drawn recipe with what the engine answers to it.
type trial struct {
	t        *rapid.T
	r        *engine.Recipe
	balances []engine.Balance
	exact    *engine.Formulation
	f        *engine.Formulation // on the balances, when there are any
	k        float64             // size of kTimes
}

// answer settles the recipe, exact and on its balances; false when it cannot be
// made.
func (x *trial) answer() bool {
	x.exact = settle(x.t, x.r, nil)
	if x.f = x.exact; len(x.balances) > 0 {
		x.f = settle(x.t, x.r, x.balances)
	}
	return x.exact != nil && x.f != nil
}

// asked is the asked superfat, if one is asked.
func (x *trial) asked() (float64, bool) { return x.r.Alkali.SuperfatPct.Get() }

// property is a rule that every answer keeps.
type property struct {
	name string
	// applies tells whether the rule says anything about a trial. Nil: always.
	applies func(*trial) bool
	// other is a second answer that the rule compares with; nil: the rule is
	// about one answer, or the trial offers none.
	other func(*trial) *engine.Formulation
	holds func(x *trial, g *engine.Formulation) error
	// tamper moves one figure of an answer just past the rule, and tells whether
	// this trial has room for it.
	tamper func(x *trial, g *engine.Formulation) bool
}

var properties = []property{
	{"the superfat is what the weights give", nil, nil, superfatsAgree, raised},
	{"the asked superfat is met where nothing absorbs and nothing is rounded", nothingAbsorbs, nil, askedIsMet, raised},
	{"no portion lies below the asked superfat", isAsked, nil, exactNotBelow, leaned},
	{"no portion of a rounded batch lies below the asked superfat", roundedAsked, nil, roundedNotBelow, leaned},
	{"the lines add up to the batter", nil, nil, linesAddUp, raised},
	{"lines are whole steps of their balance, fats up and alkali down", nil, nil, linesOnBalances, raised},
	{"worst, low, best and high are in order", nil, nil, intervalsHold, crossed},
	{"verdicts follow the probabilities", nil, nil, verdictsFollow, reassured},
	{"the order of lines moves no mass", nil, permuted, sameMasses, raisedOther},
	{"masses in other units are the same batch", nil, inOtherUnits, sameMassesExactly, raisedOther},
	{"given alkali inverts asked superfat", invertible, givenBack, sameSuperfat, givenMore},
	{"k times the recipe is k times the batch", nil, kTimes, linear, raisedOther},
	{"more water never makes the lye stronger", followsWater, withMoreWater, noStronger, strengthened},
	{"more superfat never takes more alkali", isAsked, withMoreSuperfat, noMoreAlkali, alkaliOverFirst},
	{"a worksheet changes no bit", nil, withWorksheet, sameBits, movedOneBit},
}

// tamperEvery is how often a tampered answer is put to a rule.
const tamperEvery = 25

// TestProperties tries the rules on drawn recipes, half of them of round
// figures. A rule that overlooks a tampered answer fails like a broken one, and
// so does a population that is short of a kind of recipe.
func TestProperties(t *testing.T) {
	var drawn, answered int
	applied, caught := make([]int, len(properties)), make([]int, len(properties))
	population := newCensus()
	check(t, propertyRecipes, func(t *rapid.T) {
		x := &trial{t: t, r: anyRecipe.Draw(t, "recipe"), balances: anyBalances.Draw(t, "balances")}
		drawn++
		if !x.answer() {
			return
		}
		answered++
		population.count(x)
		for i := range properties {
			p := &properties[i]
			var g *engine.Formulation
			if p.applies != nil && !p.applies(x) {
				continue
			}
			if p.other != nil {
				if g = p.other(x); g == nil {
					continue
				}
			}
			if err := p.holds(x, g); err != nil {
				t.Fatalf("%s\nbroken: %s: %v", describe(x.r), p.name, err)
			}
			if applied[i]++; applied[i]%tamperEvery != 0 || !p.tamper(x, g) {
				continue
			}
			if p.holds(x, g) == nil {
				t.Fatalf("%s\noverlooks a tampered answer: %s", describe(x.r), p.name)
			}
			caught[i]++
			x.answer()
		}
	})
	t.Logf("%d recipes drawn, %d answered", drawn, answered)
	for i := range properties {
		t.Logf("%6d answers, %4d of them tampered with and caught: %s", applied[i], caught[i], properties[i].name)
		if applied[i] < drawn/12 || caught[i] < applied[i]/tamperEvery/5 {
			t.Errorf("%s: the trial is thin", properties[i].name)
		}
	}
	population.judge(t, answered)
	if answered < drawn*3/4 {
		t.Errorf("only %d of %d recipes were answered", answered, drawn)
	}
}

// TestRecipeIsLeftAlone: answering changes nothing of the question.
func TestRecipeIsLeftAlone(t *testing.T) {
	check(t, 300, func(t *rapid.T) {
		r := anyRecipe.Draw(t, "recipe")
		before := describe(r)
		settle(t, r, anyBalances.Draw(t, "balances"))
		if after := describe(r); after != before {
			t.Fatalf("the recipe was\n%s\nand became\n%s", before, after)
		}
	})
}

// settle formulates a drawn recipe. A recipe that cannot be made is no answer;
// any other refusal means that the draw is wrong.
func settle(t *rapid.T, r *engine.Recipe, balances []engine.Balance) *engine.Formulation {
	f, err := formulated(r, balances)
	var impossible *engine.Impossible
	switch {
	case errors.As(err, &impossible):
		return nil
	case err != nil:
		t.Fatalf("refused: %v", err)
	}
	return f
}

// past is by how much a tampered figure is moved: a millionth.
const past = 1e-6

// timesAlkali makes the alkali of an answer's weigh-out k times as heavy.
func timesAlkali(f *engine.Formulation, k float64) {
	for i := range f.WeighOut {
		if l := &f.WeighOut[i]; isAlkali(l.LineID) {
			l.WeighG *= unit.Grams(k)
		}
	}
}

func isAlkali(id string) bool { return id == "naoh" || id == "koh" }

func raised(x *trial, _ *engine.Formulation) bool {
	timesAlkali(x.f, 1+past)
	return true
}

func raisedOther(x *trial, g *engine.Formulation) bool {
	timesAlkali(g, 1+past)
	return !anyHalfway(x.f, x.balances)
}

// leaned gives both answers the alkali that takes the leanest portion a
// millionth of a point below the asked superfat. A portion's superfat is linear
// in the alkali.
func leaned(x *trial, _ *engine.Formulation) bool {
	asked, _ := x.asked()
	for _, f := range []*engine.Formulation{x.exact, x.f} {
		_, once := reckon(x.r, f)
		timesAlkali(f, 2)
		_, twice := reckon(x.r, f)
		k := math.Inf(1)
		for i := range once {
			k = min(k, 1+(asked-past-once[i])/(twice[i]-once[i]))
		}
		timesAlkali(f, k/2)
		if x.f == x.exact {
			break
		}
	}
	return true
}
