package engine_test

import (
	"testing"

	"lixivium.example/engine"
)

// What is not stated is reckoned with these half-widths: the same interval comes
// out when a maker writes them down.
func TestDefaultHalfWidths(t *testing.T) {
	half := func(s engine.AlkaliStock, v float64) *engine.AlkaliStock {
		s.HalfWidthPct = engine.Some(v)
		return &s
	}
	lye := engine.AlkaliStock{Solution: &engine.SolutionStrength{MassPct: engine.Some(50)}}
	soda := func(s *engine.AlkaliStock) func(*engine.Recipe) {
		return func(r *engine.Recipe) { r.Alkali.NaOH = s }
	}
	potash := func(s *engine.AlkaliStock) func(*engine.Recipe) {
		return func(r *engine.Recipe) { r.Alkali.KOHOfMolesPct, r.Alkali.KOH = engine.Some(100), s }
	}
	certificate := func(m engine.Measured) func(*engine.Recipe) {
		return func(r *engine.Recipe) { r.Fats[0].CertificateSV = &m }
	}
	own := func(m engine.Measured) func(*engine.Recipe) {
		return func(r *engine.Recipe) {
			r.Fats[0].Fat, r.Fats[0].Custom = "", &engine.CustomFat{Name: "Own", SV: m}
		}
	}
	for name, x := range map[string][2]func(*engine.Recipe){
		"soda of 98 %, 96 to 100":           {soda(nil), soda(half(*purity(98), 2))},
		"soda of a label, one point":        {soda(purity(99)), soda(half(*purity(99), 1))},
		"potash of 90 %, 85 to 95":          {potash(nil), potash(half(*purity(90), 5))},
		"potash of a label, two points":     {potash(purity(91)), potash(half(*purity(91), 2))},
		"bought lye, a hundredth of itself": {soda(&lye), soda(half(lye, 0.5))},
		"certificate, 1 mg/g":               {certificate(engine.Measured{Value: 190}), certificate(engine.Measured{Value: 190, HalfWidth: engine.Some(1)})},
		"own fat, 3 mg/g":                   {own(engine.Measured{Value: 190}), own(engine.Measured{Value: 190, HalfWidth: engine.Some(3)})},
		"own fat, 3 mg/g at least":          {own(engine.Measured{Value: 190, HalfWidth: engine.Some(1)}), own(engine.Measured{Value: 190, HalfWidth: engine.Some(3)})},
	} {
		f, g := formulate(t, edited(bar, x[0])()), formulate(t, edited(bar, x[1])())
		if !near(float64(f.Superfat.UncertaintyPct), float64(g.Superfat.UncertaintyPct), 1e-9) || !sameInterval(f, g) {
			t.Errorf("%s: %g points, stated %g", name, f.Superfat.UncertaintyPct, g.Superfat.UncertaintyPct)
		}
	}
}

// Two lots of one fat are one source of doubt; two certificates are two.
func TestTwoLotsAreOneSource(t *testing.T) {
	split := func(change func(*engine.FatLine)) *engine.Formulation {
		r := bar()
		r.Fats[0].Mass = engine.InGrams(350)
		second := r.Fats[0]
		second.ID = "olive-2"
		r.Fats = append(r.Fats, second)
		change(&r.Fats[0])
		change(&r.Fats[2])
		return formulate(t, r)
	}
	one := formulate(t, bar())
	if two := split(func(*engine.FatLine) {}); !near(float64(one.Superfat.UncertaintyPct), float64(two.Superfat.UncertaintyPct), 1e-9) {
		t.Errorf("one lot %g points, two of the same table value %g", one.Superfat.UncertaintyPct, two.Superfat.UncertaintyPct)
	}
	certified := func(l *engine.FatLine) {
		l.CertificateSV = &engine.Measured{Value: 192.5, HalfWidth: engine.Some(3)}
	}
	if two := split(certified); two.Superfat.UncertaintyPct >= one.Superfat.UncertaintyPct {
		t.Errorf("two certificates leave %g points, one table value %g", two.Superfat.UncertaintyPct, one.Superfat.UncertaintyPct)
	}
}
