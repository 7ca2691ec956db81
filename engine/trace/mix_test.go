package trace_test

import (
	"testing"

	"lixivium.example/engine/fat"
	"lixivium.example/engine/trace"
)

// grams is fats by id.
type grams map[string]float64

// groups reckons the fatty acids of fats by mass, each fat by the midpoints of
// its table.
func groups(t testing.TB, fats grams) (pct [8]float64) {
	t.Helper()
	acids := fat.Acids()
	total, found := 0.0, 0
	for _, f := range fat.All() {
		g, ok := fats[f.ID]
		if !ok {
			continue
		}
		found++
		moles := 0.0
		for _, s := range f.Composition {
			moles += float64(s.Pct) / acids[s.Acid].MolarMass
		}
		for _, s := range f.Composition {
			m := g * float64(fat.CalculatedSV(f.Composition, f.FreeAcid)) * float64(s.Pct) / moles
			pct[acids[s.Acid].Group] += m
			total += m
		}
	}
	if found != len(fats) {
		t.Fatalf("fats %v: %d are in the table", fats, found)
	}
	for i := range pct {
		pct[i] *= 100 / total
	}
	return pct
}

// of is the reference batch with other fats.
func of(t testing.TB, fats grams) trace.Batch {
	b := trace.Reference()
	b.GroupPct = groups(t, fats)
	return b
}

// with is a changed copy.
func with(b trace.Batch, change func(*trace.Batch)) trace.Batch {
	change(&b)
	return b
}

var hot = func(c float64) func(*trace.Batch) { return func(b *trace.Batch) { b.MixC = c } }
var strong = func(pct float64) func(*trace.Batch) { return func(b *trace.Batch) { b.StrengthPct = pct } }
var acid = func(pct float64) func(*trace.Batch) { return func(b *trace.Batch) { b.FreeAcidPct = pct } }
var hand = func(b *trace.Batch) { b.HandStirred = true }
