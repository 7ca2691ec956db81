package trace_test

import (
	"fmt"
	"math"
	"testing"

	"lixivium.example/engine/trace"
	"pgregory.net/rapid"
)

// batches draws batches a kitchen may hold.
func batches(t *rapid.T) trace.Batch {
	pct := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
	b := trace.Batch{
		KnownPct: pct("known", 0, 100), FreeAcidPct: pct("acid", 0, 30), SuperfatPct: pct("superfat", -20, 60),
		StrengthPct: pct("strength", 5, 51), MixC: pct("mix", 0, 100),
		MixKnown: rapid.Bool().Draw(t, "mixKnown"), HandStirred: rapid.Bool().Draw(t, "hand"),
	}
	for i := range b.GroupPct {
		b.GroupPct[i] = pct("group", 0, 100)
	}
	for i := range rapid.IntRange(0, 6).Draw(t, "additives") {
		typical := pct("typical", 0.05, 20)
		b.Additives = append(b.Additives, trace.Factor{ID: fmt.Sprintf("dose-%d", i), Band: trace.Band{
			Low: typical * pct("low", 0.1, 1), Typical: typical, High: typical * pct("high", 1, 10),
		}})
	}
	return b
}

func bands(a trace.Times) map[string]trace.Band {
	return map[string]trace.Band{"thin": a.Thin, "medium": a.Medium, "thick": a.Thick, "standing": a.StandingThin}
}

// check is what holds for every answer.
func check(t interface{ Fatalf(string, ...any) }, a trace.Times) {
	for name, b := range bands(a) {
		// NaN fails each of these
		if !(b.Low > 0 && b.Low <= b.Typical && b.Typical <= b.High && b.High <= 6*b.Low && !math.IsInf(b.High, 1)) {
			t.Fatalf("%s is %v", name, b)
		}
	}
	for _, f := range a.Factors {
		if !(f.Low > 0 && f.Low <= f.Typical && f.Typical <= f.High && !math.IsInf(f.High, 1)) || f.Name == "" && f.Scope != trace.AllTimes {
			t.Fatalf("factor %v", f)
		}
	}
	for _, pair := range [][2]trace.Band{{a.Thin, a.Medium}, {a.Medium, a.Thick}} {
		if pair[0].Low > pair[1].Low || pair[0].Typical > pair[1].Typical || pair[0].High > pair[1].High {
			t.Fatalf("trace goes backwards: %v", a)
		}
	}
}

func TestEveryAnswerIsABand(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { check(t, trace.Estimate(batches(t))) })
}

func TestTypicalTimesAreTheProductOfTheFactors(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := trace.Estimate(batches(t))
		stirred, standing := 1.0, 1.0
		for _, f := range a.Factors {
			if f.Scope != trace.StandingTime {
				stirred *= f.Typical
			}
			if f.Scope != trace.StirredTimes {
				standing *= f.Typical
			}
		}
		for _, c := range [][2]float64{
			{a.Thin.Typical, 3 * stirred}, {a.Medium.Typical, 4 * stirred}, {a.Thick.Typical, 4.75 * stirred}, {a.StandingThin.Typical, 30 * standing},
		} {
			if math.Abs(c[0]/c[1]-1) > 1e-9 {
				t.Fatalf("got %v minutes, the factors give %v", c[0], c[1])
			}
		}
	})
}

// More of one thing, all else equal, never turns the answer round. The band of
// the strength is disputed on purpose: only its typical time is ordered.
func TestTimesAreMonotone(t *testing.T) {
	for name, c := range map[string]struct {
		least, most float64
		later       bool
		wholeBand   bool
		set         func(*trace.Batch, float64)
	}{
		"temperature": {0, 100, false, true, func(b *trace.Batch, v float64) { b.MixC, b.MixKnown = v, true }},
		"free acid":   {0, 40, false, true, func(b *trace.Batch, v float64) { b.FreeAcidPct = v }},
		"superfat":    {-20, 60, true, true, func(b *trace.Batch, v float64) { b.SuperfatPct = v }},
		"strength":    {5, 51, false, false, func(b *trace.Batch, v float64) { b.StrengthPct = v }},
	} {
		t.Run(name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				b := batches(t)
				first := rapid.Float64Range(c.least, c.most).Draw(t, "first")
				second := rapid.Float64Range(first, c.most).Draw(t, "second")
				c.set(&b, first)
				before := bands(trace.Estimate(b))
				c.set(&b, second)
				for stage, after := range bands(trace.Estimate(b)) {
					sooner, later := after, before[stage]
					if c.later {
						sooner, later = later, sooner
					}
					const slack = 1 + 1e-9
					if sooner.Typical > later.Typical*slack || c.wholeBand && (sooner.Low > later.Low*slack || sooner.High > later.High*slack) {
						t.Fatalf("%s: from %v at %v to %v at %v", stage, before[stage], first, after, second)
					}
				}
			})
		})
	}
}

// Olive giving way to a fat that practice calls faster, gram by gram.
func TestMoreOfAFastFatIsNeverLater(t *testing.T) {
	for _, id := range []string{"palm-oil", "coconut-oil", "cocoa-butter", "shea-butter", "tallow", "castor-oil"} {
		last := math.Inf(1)
		for g := 0.0; g <= 1000; g += 50 {
			got := trace.Estimate(of(t, grams{"olive-oil": 1000 - g, id: g})).Thin.Typical
			if got > last {
				t.Errorf("%.0f g of %s instead of olive: %.4g minutes after %.4g", g, id, got, last)
			}
			last = got
		}
	}
}

func TestWildFiguresNeverReachTheAnswer(t *testing.T) {
	wild := rapid.OneOf(rapid.Float64(), rapid.SampledFrom([]float64{
		math.NaN(), math.Inf(1), math.Inf(-1), 0, -1, math.MaxFloat64, math.SmallestNonzeroFloat64, -math.MaxFloat64,
	}))
	rapid.Check(t, func(t *rapid.T) {
		v := func(name string) float64 { return wild.Draw(t, name) }
		b := trace.Batch{
			KnownPct: v("known"), FreeAcidPct: v("acid"), SuperfatPct: v("superfat"), StrengthPct: v("strength"),
			MixC: v("mix"), MixKnown: rapid.Bool().Draw(t, "mixKnown"), HandStirred: rapid.Bool().Draw(t, "hand"),
		}
		for i := range b.GroupPct {
			b.GroupPct[i] = v("group")
		}
		for range rapid.IntRange(0, 3).Draw(t, "additives") {
			b.Additives = append(b.Additives, trace.Factor{Band: trace.Band{Low: v("low"), Typical: v("typical"), High: v("high")}})
		}
		check(t, trace.Estimate(b))
		if c, known := trace.MixTemperature(v("fatsG"), v("fatsC"), v("lyeG"), v("lyeC"), v("pct")); math.IsNaN(c) || math.IsInf(c, 0) || !known && c != 0 {
			t.Fatalf("mix at %v, %v", c, known)
		}
	})
}
