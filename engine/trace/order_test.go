package trace_test

import (
	"testing"

	"lixivium.example/engine/trace"
)

// The orderings of common practice (trade tutorials and practitioner threads,
// no address): sooner before later, by typical minutes to thin trace.
func TestOrderOfCommonPractice(t *testing.T) {
	base := trace.Reference()
	only := func(id string) trace.Batch { return of(t, grams{id: 1000}) }
	// half of the olive oil of an olive-rich batch gives way to another fat
	olive := grams{"olive-oil": 800, "coconut-oil": 200}
	instead := func(id string, g float64) trace.Batch {
		fats := grams{"olive-oil": 800 - g, "coconut-oil": 200}
		fats[id] += g
		return of(t, fats)
	}
	for _, c := range []struct {
		name          string
		sooner, later trace.Batch
	}{
		{"hotter", with(base, hot(48)), base},
		{"room temperature is later", base, with(base, hot(26))},
		{"less water", with(base, strong(38)), base},
		{"more water is later", base, with(base, strong(28))},
		{"blender before hand", base, with(base, hand)},
		{"stearic acid", with(base, acid(2)), base},
		{"old or pomace oil", with(only("olive-pomace-oil"), acid(1)), only("olive-oil")},
		{"superfat", base, with(base, func(b *trace.Batch) { b.SuperfatPct = 12 })},
		{"cocoa butter for olive", instead("cocoa-butter", 150), of(t, olive)},
		{"shea butter for olive", instead("shea-butter", 150), of(t, olive)},
		{"mango butter for olive", instead("mango-butter", 150), of(t, olive)},
		{"more butter", instead("shea-butter", 300), instead("shea-butter", 150)},
		{"palm for olive", instead("palm-oil", 300), of(t, olive)},
		{"more coconut for olive", instead("coconut-oil", 300), of(t, olive)},
		{"some castor for olive", instead("castor-oil", 80), of(t, olive)},
		{"palm before lard", only("palm-oil"), only("lard")},
		{"tallow before lard", only("tallow"), only("lard")},
		{"coconut before lard", only("coconut-oil"), only("lard")},
		{"lard is later than the reference", base, only("lard")},
		{"olive is later than the reference", base, only("olive-oil")},
		{"high-oleic sunflower is later still", only("sunflower-oil"), only("sunflower-oil-high-oleic")},
		{"high-oleic safflower", only("safflower-oil"), only("safflower-oil-high-oleic")},
		{"rice bran less so than olive", only("rice-bran-oil"), only("olive-oil")},
		{"rice bran is later than the reference", base, only("rice-bran-oil")},
		{"linoleic after saturated", only("palm-oil"), only("sunflower-oil")},
		{"linoleic before oleic", only("sunflower-oil"), only("olive-oil")},
		// one run of stirred tubes at 40 °C, 25 % potash (trade forum, 2021)
		{"babassu before castor", only("babassu-oil"), only("castor-oil")},
		{"mango butter before castor", only("mango-butter"), only("castor-oil")},
		{"castor before sesame", only("castor-oil"), only("sesame-oil")},
		{"castor before high-oleic sunflower", only("castor-oil"), only("sunflower-oil-high-oleic")},
	} {
		a, b := trace.Estimate(c.sooner).Thin.Typical, trace.Estimate(c.later).Thin.Typical
		if a >= b {
			t.Errorf("%s: %.3g minutes is not sooner than %.3g", c.name, a, b)
		}
	}
}

func TestStearicAcidIsMuchSooner(t *testing.T) {
	base, b := trace.Estimate(trace.Reference()).Thin, trace.Estimate(with(trace.Reference(), acid(3))).Thin
	if b.Typical > base.Typical/2 {
		t.Errorf("3 %% stearic acid: %v, want less than half of %v", b, base)
	}
}

// One measured pair (trade forum, 2020): lard, coconut and olive at 40 % lye
// came to trace later than at 27 %. The band of the stronger batch must reach
// past the typical time of the reference, and that of the weaker below it, but
// less far than practice carries it the other way.
func TestLessWaterIsDisputed(t *testing.T) {
	find := func(b trace.Batch) trace.Factor { return factor(t, trace.Estimate(b), "strength") }
	less, more := find(with(trace.Reference(), strong(40))), find(with(trace.Reference(), strong(27)))
	if !(less.Typical < 1 && less.High > 1 && less.High < 1/less.Typical) {
		t.Errorf("40 %%: %v", less.Band)
	}
	if !(more.Typical > 1 && more.Low < 1 && more.Low > 1/more.Typical) {
		t.Errorf("27 %%: %v", more.Band)
	}
}

func factor(t *testing.T, times trace.Times, id string) trace.Factor {
	t.Helper()
	for _, f := range times.Factors {
		if f.ID == id {
			return f
		}
	}
	t.Fatalf("no factor %q among %v", id, times.Factors)
	return trace.Factor{}
}
