package engine_test

import (
	"testing"

	"lixivium.example/engine"
	"lixivium.example/engine/fat"
)

// withFat is the bar with another fat line.
func withFat(l engine.FatLine) *engine.Recipe {
	r := bar()
	r.Fats = append(r.Fats, l)
	return r
}

// A wax counts at its acid value. What more it might take widens the superfat
// upward and adds no alkali.
func TestWaxCountsAtAcidValue(t *testing.T) {
	plain := formulate(t, bar())
	f := formulate(t, withFat(engine.FatLine{ID: "wax", Fat: "beeswax", Mass: engine.InGrams(20)}))
	// White beeswax, acid value 17-24: 20.5 mg KOH/g (Ph. Eur./BP).
	if got, want := float64(f.Alkali.TotalMol-plain.Alkali.TotalMol), 0.95*20*20.5/56105.6; !near(got, want, 1e-9) {
		t.Errorf("20 g of beeswax added %g mol of alkali, want %g", got, want)
	}
	// By its saponification value of 87-104 it would have added four times that;
	// that is the upper bound.
	need := float64(plain.Alkali.FatsNeedMol) + 20*20.5/56105.6
	if rise := float64(f.Superfat.HighPct - plain.Superfat.HighPct); rise < 0.4 || rise > 100*20*(104-20.5)/56105.6/need {
		t.Errorf("the upper end rose by %g points", rise)
	}
	if fall := float64(plain.Superfat.LowPct - f.Superfat.LowPct); fall > 0.05 {
		t.Errorf("the lower end fell by %g points for a material that can only take more", fall)
	}
	if w := f.Fats[2]; w.SV != 20.5 || w.SVUpperBoundExtra != 104-20.5 {
		t.Errorf("answered wax: %+v", w)
	}
	if x := f.SuperfatIf; len(x) != 1 || x[0].Name != "waxes react fully" || x[0].Value <= float64(f.Superfat.Pct) {
		t.Errorf("superfat under other assumptions: %+v", x)
	}
}

// A certificate on a wax moves the upper bound and no alkali.
func TestCertificateOfAWax(t *testing.T) {
	wax := engine.FatLine{ID: "wax", Fat: "beeswax", Mass: engine.InGrams(20)}
	f := formulate(t, withFat(wax))
	wax.CertificateSV = &engine.Measured{Value: 130, HalfWidth: engine.Some(2)}
	g := formulate(t, withFat(wax))
	if f.Alkali.TotalMol != g.Alkali.TotalMol || f.Superfat.LowPct != g.Superfat.LowPct {
		t.Errorf("alkali %v became %v", f.Alkali.TotalMol, g.Alkali.TotalMol)
	}
	if g.Superfat.HighPct <= f.Superfat.HighPct || g.Fats[2].SVUpperBoundExtra != 132-20.5 {
		t.Errorf("the upper bound stayed: %v, %+v", g.Superfat, g.Fats[2])
	}
}

// Every material that hardly reacts is counted so, in any share.
func TestAllWaxes(t *testing.T) {
	plain := formulate(t, bar())
	seen := 0
	for _, row := range fat.All() {
		if !row.Wax() && !row.CountsAtAcidValue() {
			continue
		}
		seen++
		f := formulate(t, withFat(engine.FatLine{ID: "wax", Fat: row.ID, Mass: engine.InGrams(50)}))
		if got := float64(f.Alkali.TotalMol - plain.Alkali.TotalMol); !near(got, 0.95*50*float64(row.AcidValue.Best)/56105.6, 1e-9) {
			t.Errorf("%s added %g mol", row.ID, got)
		}
	}
	if seen < 6 {
		t.Errorf("%d materials that hardly react", seen)
	}
}

// Free acids form one water for each alkali they take, fats none.
func TestFreeAcidsFormWater(t *testing.T) {
	if f := formulate(t, bar()); f.Water.FormedG != 0 {
		t.Errorf("fats formed %g g of water", f.Water.FormedG)
	}
	for id, sv := range map[string]float64{"rosin": 172, "stearic-acid": 208, "oleic-acid": 198.6} {
		f := formulate(t, withFat(engine.FatLine{ID: "acid", Fat: id, Mass: engine.InGrams(30)}))
		if got, want := float64(f.Water.FormedG), 30*sv/56105.6*18.015; !near(got, want, 1e-9) {
			t.Errorf("%s formed %g g of water, want %g", id, got, want)
		}
		if f.Water.TotalG != f.Water.PlainG+f.Water.FormedG {
			t.Errorf("%s: total %g g is not plain %g g and formed %g g", id, f.Water.TotalG, f.Water.PlainG, f.Water.FormedG)
		}
	}
	own := engine.FatLine{ID: "acid", Custom: customFat("Own acid", 200, 3), Mass: engine.InGrams(30)}
	own.Custom.FreeAcid = true
	if f := formulate(t, withFat(own)); !near(float64(f.Water.FormedG), 30*200/56105.6*18.015, 1e-9) {
		t.Errorf("a declared acid formed %g g of water", f.Water.FormedG)
	}
}

// A premix is its fats: same alkali, water, superfat, interval and fatty acids as
// the lines written out, on one weigh line.
func TestPremixIsItsFats(t *testing.T) {
	part := func(id string, pct float64) engine.FatLine {
		return engine.FatLine{ID: id, Fat: id, SharePct: engine.Some(pct)}
	}
	premixed := bar()
	premixed.Fats = []engine.FatLine{
		{ID: "base", Mass: engine.InGrams(800), Premix: &engine.Premix{Name: "Shop base", Fats: []engine.FatLine{
			part("olive-oil", 62.5), part("coconut-oil", 25), part("beeswax", 2.5), part("stearic-acid", 10),
		}}},
		{ID: "castor", Fat: "castor-oil", Mass: engine.InGrams(200)},
	}
	plain := bar()
	line := func(id string, g float64) engine.FatLine {
		return engine.FatLine{ID: id, Fat: id, Mass: engine.InGrams(g)}
	}
	plain.Fats = []engine.FatLine{line("olive-oil", 500), line("coconut-oil", 200), line("beeswax", 20), line("stearic-acid", 80), line("castor-oil", 200)}
	f, g := formulate(t, premixed), formulate(t, plain)
	for name, x := range map[string][2]float64{
		"alkali": {float64(f.Alkali.TotalMol), float64(g.Alkali.TotalMol)}, "water": {float64(f.Water.TotalG), float64(g.Water.TotalG)},
		"superfat": {float64(f.Superfat.Pct), float64(g.Superfat.Pct)}, "low": {float64(f.Superfat.LowPct), float64(g.Superfat.LowPct)},
		"high": {float64(f.Superfat.HighPct), float64(g.Superfat.HighPct)}, "iodine": {f.Profile.CalculatedIV, g.Profile.CalculatedIV},
		"known": {float64(f.Profile.KnownOfFatsPct), float64(g.Profile.KnownOfFatsPct)}, "batter": {float64(f.Totals.BatterG), float64(g.Totals.BatterG)},
	} {
		if !near(x[0], x[1], 1e-9) {
			t.Errorf("%s: premixed %.12g, written out %.12g", name, x[0], x[1])
		}
	}
	if len(f.Fats) != 5 || f.Fats[0].LineID != "base/olive-oil" || f.Fats[2].SV != 20.5 || grams(f, "base") != 800 {
		t.Errorf("fats %+v", f.Fats)
	}
	if len(f.Profile.Acids) != len(g.Profile.Acids) {
		t.Errorf("%d fatty acids, written out %d", len(f.Profile.Acids), len(g.Profile.Acids))
	}
}

// A certificate inside a premix stands for that fat alone.
func TestCertificateInPremix(t *testing.T) {
	r := bar()
	r.Fats = []engine.FatLine{{ID: "base", Mass: engine.InGrams(1000), Premix: &engine.Premix{Name: "Base", Fats: []engine.FatLine{
		{ID: "a", Fat: "olive-oil", SharePct: engine.Some(70), CertificateSV: &engine.Measured{Value: 190, HalfWidth: engine.Some(1)}},
		{ID: "b", Fat: "coconut-oil", SharePct: engine.Some(30)},
	}}}}
	f := formulate(t, r)
	if f.Fats[0].SV != 190 || f.Fats[0].SVLow != 189 || f.Fats[0].Evidence.Basis != engine.FromCaller || f.Fats[1].SV != 256.5 {
		t.Errorf("fats %+v", f.Fats)
	}
}

// Infusing is for the record: another name and no other figure.
func TestInfusedChangesNothing(t *testing.T) {
	r := bar()
	r.Fats[0].InfusedWith = "calendula"
	f, g := figures(formulate(t, r)), figures(formulate(t, bar()))
	if len(f) != len(g) {
		t.Fatalf("%d figures, not infused %d", len(f), len(g))
	}
	for i := range f {
		if f[i] != g[i] {
			t.Errorf("%s: %v infused, %v not", f[i].path, f[i].value, g[i].value)
		}
	}
}

// A volume of a liquid fat becomes grams through its density, with a caution.
func TestVolumeOfFat(t *testing.T) {
	for name, x := range map[string]struct {
		line  engine.FatLine
		grams float64
	}{
		// USP/NF olive oil at 25 °C, 0.910-0.915 g/mL.
		"olive oil":  {engine.FatLine{ID: "x", Fat: "olive-oil", Mass: engine.Quantity{Value: 1, Unit: engine.Liter}}, 912.5},
		"US cup":     {engine.FatLine{ID: "x", Fat: "olive-oil", Mass: engine.Quantity{Value: 1, Unit: engine.CupUS}}, 912.5 * 0.2365882365},
		"fluid oz":   {engine.FatLine{ID: "x", Fat: "olive-oil", Mass: engine.Quantity{Value: 8, Unit: engine.FluidOunceUS}}, 912.5 * 0.2365882365},
		"custom fat": {engine.FatLine{ID: "x", Custom: &engine.CustomFat{Name: "Own", SV: engine.Measured{Value: 190}, DensityGPerML: engine.Some(0.92)}, Mass: engine.Quantity{Value: 500, Unit: engine.Milliliter}}, 460},
	} {
		r := bar()
		r.Fats[0] = x.line
		f := formulate(t, r)
		if got := grams(f, "x"); !near(got, x.grams, 1e-12) {
			t.Errorf("%s: %g g, want %g", name, got, x.grams)
		}
		if y := found(f, "engine/measured-by-volume"); y == nil || y.Severity != engine.Caution || y.Subjects[0] != "x" {
			t.Errorf("%s: no caution in %+v", name, f.Findings)
		}
	}
}

// A volume of lye becomes grams through the density at its temperature.
func TestVolumeOfLye(t *testing.T) {
	r := given(1)
	r.Alkali.NaOH = &engine.AlkaliStock{Solution: &engine.SolutionStrength{MassPct: engine.Some(30), TemperatureC: engine.Some(20)}}
	r.Alkali.Given.NaOH = engine.Quantity{Value: 400, Unit: engine.Milliliter}
	f := formulate(t, r)
	// 30 % NaOH weighs 1.3277 g/mL at 20 °C (CRC Handbook, 102nd ed.).
	if got, want := grams(f, "naoh"), 400*1.3277; !near(got/want, 1, 1e-9) {
		t.Errorf("%g g of lye, want %g", got, want)
	}
	if got, want := float64(f.Alkali.NaOHPureG), 0.3*400*1.3277; !near(got/want, 1, 1e-9) {
		t.Errorf("%g g of pure alkali, want %g", got, want)
	}
}
