package engine_test

import (
	"testing"

	"lixivium.example/engine"
)

// kindOfRecipe is something that a good part of the drawn recipes must have for
// the trial to mean anything.
type kindOfRecipe struct {
	name     string
	leastPct int
	has      func(*trial) bool
}

var kindsOfRecipe = []kindOfRecipe{
	{"round figures throughout", 45, func(x *trial) bool { return x.r.Name == roundName }},
	{"acids", 20, func(x *trial) bool { acid, _ := broughtTo(x.r); return acid }},
	{"brought fats", 15, func(x *trial) bool { _, fats := broughtTo(x.r); return fats }},
	{"held-back fat", 15, func(x *trial) bool { return holdsBack(x.r) }},
	{"portions", 40, func(x *trial) bool { return len(x.r.Portions) > 1 }},
	{"stock lye", 25, func(x *trial) bool { return usesStock(x) }},
	{"mixed alkali", 25, func(x *trial) bool { return grams(x.exact, "naoh") > 0 && grams(x.exact, "koh") > 0 }},
	{"alkali given", 15, func(x *trial) bool { return x.r.Alkali.Given != nil }},
	{"rounded to balances", 40, func(x *trial) bool { return onBalance(x.f) }},
}

// census counts the kinds among the answered recipes.
type census struct{ counts []int }

func newCensus() *census { return &census{make([]int, len(kindsOfRecipe))} }

func (c *census) count(x *trial) {
	for i := range kindsOfRecipe {
		if kindsOfRecipe[i].has(x) {
			c.counts[i]++
		}
	}
}

// judge prints the shares and fails where one is short.
func (c *census) judge(t *testing.T, answered int) {
	t.Helper()
	for i, k := range kindsOfRecipe {
		pct := 100 * float64(c.counts[i]) / float64(answered)
		t.Logf("%5.1f %% have %s (at least %d)", pct, k.name, k.leastPct)
		if !(pct >= float64(k.leastPct)) {
			t.Errorf("only %.1f %% of the recipes have %s, want %d %%", pct, k.name, k.leastPct)
		}
	}
}

// TestCensusFindsWhatIsShort: a population of one recipe is short of every other
// kind.
func TestCensusFindsWhatIsShort(t *testing.T) {
	r := bar()
	f := formulate(t, r)
	c := newCensus()
	c.count(&trial{r: r, exact: f, f: f})
	for i, n := range c.counts {
		if n != 0 {
			t.Errorf("an ordinary bar counts as one with %s", kindsOfRecipe[i].name)
		}
	}
}

// broughtTo tells whether doses bring acids and fats into the batter.
func broughtTo(r *engine.Recipe) (acid, fats bool) {
	for i := range r.Doses {
		d := &r.Doses[i]
		if d.Stage == engine.StageSurface {
			continue
		}
		a, f := takes(d.Custom)
		acid, fats = acid || a > 0, fats || f > 0
		if c := d.Carrier; c != nil {
			a, f = takes(c.Custom)
			acid, fats = acid || a > 0, fats || f > 0 || c.Fat != "" && (c.Extra || c.Premixed)
		}
	}
	return acid, fats
}

// usesStock tells whether any alkali of the batch comes as a solution.
func usesStock(x *trial) bool {
	return x.exact.Alkali.NaOHStockG > 0 || x.exact.Alkali.KOHStockG > 0
}

func holdsBack(r *engine.Recipe) bool {
	for i := range r.Doses {
		if c := r.Doses[i].Carrier; c != nil && c.Fat != "" && !c.Extra && !c.Premixed {
			return true
		}
	}
	return false
}
