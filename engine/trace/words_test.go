package trace_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"lixivium.example/engine/trace"
)

func TestFactorsReadAsWords(t *testing.T) {
	soft := of(t, grams{"olive-oil": 1000})
	butter := of(t, grams{"cocoa-butter": 400, "palm-oil": 200, "coconut-oil": 300, "olive-oil": 100})
	for _, c := range []struct {
		batch    trace.Batch
		id, want string
	}{
		{trace.Reference(), "fats", "fatty acids of the fats: as the reference batch"},
		{trace.Reference(), "strength", "33 % batch strength: as the reference batch"},
		{trace.Reference(), "temperature", "fats and lye together at 38 °C: as the reference batch"},
		{trace.Reference(), "free-acid", "no free fatty acid counted: as the reference batch"},
		{trace.Reference(), "superfat", "5 % superfat: as the reference batch"},
		{trace.Reference(), "stirring", "stick blender in short bursts: as the reference batch"},
		{soft, "fats", "70 % oleic, no lauric, myristic and shorter: much later"},
		{butter, "fats", "40 % palmitic and stearic: much sooner"},
		{with(soft, strong(40)), "strength", "less water, 40 % batch strength: sooner; disputed"},
		{with(soft, strong(27.5)), "strength", "more water, 27.5 % batch strength: later; disputed"},
		{with(soft, hot(120)), "temperature", "fats and lye together at 120 °C: much sooner, no further effect counted"},
		{with(soft, acid(5)), "free-acid", "5 % free fatty acid: much sooner"},
		{with(soft, hand), "stirring", "stirred by hand, no blender: much later"},
		{with(soft, hand), "standing", "left standing, emulsion made by hand: much later"},
		{with(soft, func(b *trace.Batch) { b.SuperfatPct = 20 }), "superfat", "20 % superfat: later"},
	} {
		if got := factor(t, trace.Estimate(c.batch), c.id); got.Name != c.want || got.Source == "" || got.Basis == "" {
			t.Errorf("%s: got %q (%q, %q), want %q", c.id, got.Name, got.Basis, got.Source, c.want)
		}
	}
}

// What is not known widens its factor both ways, leaves its typical value at
// the reference, and is said.
func TestUnknownWidensAndSaysSo(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		id, says string
		change   func(*trace.Batch)
	}{
		{"fats", "not known", func(b *trace.Batch) { b.GroupPct = [8]float64{} }},
		{"fats", "not known", func(b *trace.Batch) { b.KnownPct = 0 }},
		{"fats", "not known", func(b *trace.Batch) { b.GroupPct[2] = -1 }},
		{"fats", "30 % of the fats not known", func(b *trace.Batch) { b.KnownPct = 70 }},
		{"temperature", "27-49 °C", func(b *trace.Batch) { b.MixKnown = false }},
		{"temperature", "27-49 °C", func(b *trace.Batch) { b.MixC = nan }},
		{"strength", "not known", func(b *trace.Batch) { b.StrengthPct = 0 }},
		{"superfat", "not known", func(b *trace.Batch) { b.SuperfatPct = nan }},
	} {
		got := factor(t, trace.Estimate(with(trace.Reference(), c.change)), c.id)
		if !(got.Low < 1 && got.Typical == 1 && got.High > 1) || !strings.Contains(got.Name, c.says) {
			t.Errorf("%s: %v, %q; want a range around 1 and %q", c.id, got.Band, got.Name, c.says)
		}
	}
	if got := factor(t, trace.Estimate(with(trace.Reference(), acid(nan))), "free-acid"); got.Low >= 1 || got.High != 1 || !strings.Contains(got.Name, "not known") {
		t.Errorf("free acid: %v, %q", got.Band, got.Name)
	}
}

func TestAdditivesMultiplyAndAreListed(t *testing.T) {
	b := trace.Reference()
	b.Additives = []trace.Factor{
		{ID: "dose-honey", Name: "2 % honey", Band: trace.Band{Low: 0.8, Typical: 0.9, High: 1}, Basis: trace.BasisCommonPractice, Source: "practice"},
		{ID: "dose-scent", Name: "3 % scent", Band: trace.Band{Low: 0.2, Typical: 0.5, High: 0.9}, Basis: trace.BasisFromCaller, Source: "stated"},
		{ID: "dose-mica", Name: "1 % mica"},
	}
	got := trace.Estimate(b)
	if math.Abs(got.Thin.Typical-3*0.9*0.5) > 1e-12 || math.Abs(got.StandingThin.Typical-30*0.9*0.5) > 1e-12 {
		t.Errorf("thin %v, standing %v", got.Thin, got.StandingThin)
	}
	listed := got.Factors[len(got.Factors)-3:]
	for i, want := range b.Additives[:2] {
		if listed[i] != want {
			t.Errorf("listed %v, want %v", listed[i], want)
		}
	}
	if one := (trace.Band{Low: 1, Typical: 1, High: 1}); listed[2].Band != one || listed[2].ID != "dose-mica" {
		t.Errorf("no effect is listed as %v", listed[2])
	}
	b.Additives = []trace.Factor{{ID: "dose-odd", Name: "odd", Band: trace.Band{Low: 2, Typical: 1, High: 3}}}
	got = trace.Estimate(b)
	if f := factor(t, got, "dose-odd"); got.Thin.Typical != 3 || !strings.Contains(f.Name, "not usable") {
		t.Errorf("a band out of order gave %v, %q", got.Thin, f.Name)
	}
}

func ExampleEstimate() {
	b := trace.Reference()
	b.MixC, b.MixKnown = trace.MixTemperature(1000, 40, 400, 60, 33)
	times := trace.Estimate(b)
	fmt.Printf("thin trace in about %.1f minutes (%.1f-%.1f)\n", times.Thin.Typical, times.Thin.Low, times.Thin.High)
	fmt.Println(times.Factors[2].Name)
	// Output:
	// thin trace in about 1.9 minutes (0.7-3.9)
	// fats and lye together at 48 °C: sooner
}
