package engine_test

import (
	"strings"
	"testing"

	"lixivium.example/engine"
)

// A judged recipe whose purity is not stated counts soda as pure and potash at
// 90 %, and shows what other purities would make of it.
func TestPurityOfJudgedRecipes(t *testing.T) {
	judge := func(kind string, pct float64) *engine.Formulation {
		r := given(1)
		r.Alkali.NaOH, r.Alkali.Given = nil, &engine.GivenAlkali{}
		var stock *engine.AlkaliStock
		if pct > 0 {
			stock = purity(pct)
		}
		if kind == "koh" {
			r.Alkali.KOH, r.Alkali.Given.KOH = stock, engine.InGrams(220)
		} else {
			r.Alkali.NaOH, r.Alkali.Given.NaOH = stock, engine.InGrams(142)
		}
		return formulate(t, r)
	}
	for kind, x := range map[string]struct {
		reckoned float64
		beside   map[string]float64
	}{
		"naoh": {100, map[string]float64{"naoh 98 %": 98, "naoh 96 %": 96}},
		"koh":  {90, map[string]float64{"koh 95 %": 95, "koh 85 %": 85}},
	} {
		f := judge(kind, 0)
		if got := judge(kind, x.reckoned); !near(float64(f.Superfat.Pct), float64(got.Superfat.Pct), 1e-9) {
			t.Errorf("%s: superfat %g, at %g %% it is %g", kind, f.Superfat.Pct, x.reckoned, got.Superfat.Pct)
		}
		if len(f.SuperfatIf) != len(x.beside) {
			t.Errorf("%s: %+v", kind, f.SuperfatIf)
		}
		y := found(f, "engine/purity-unstated")
		if y == nil || !strings.Contains(y.Remedies[0].Text, "purity") {
			t.Errorf("%s: nobody asks for the purity: %+v", kind, f.Findings)
		}
		for _, beside := range f.SuperfatIf {
			if want := judge(kind, x.beside[beside.Name]).Superfat.Pct; !near(beside.Value, float64(want), 1e-9) {
				t.Errorf("%s: %g, stated it is %g", beside.Name, beside.Value, want)
			}
		}
	}
	// Soda counted as pure leaves no doubt of its own.
	if f, g := judge("naoh", 0), judge("naoh", 100); f.Superfat.UncertaintyPct >= g.Superfat.UncertaintyPct {
		t.Errorf("uncertainty %g, with the half-width of a label %g", f.Superfat.UncertaintyPct, g.Superfat.UncertaintyPct)
	}
}

// An implied superfat that nobody designs names the slip that explains it.
func TestSlips(t *testing.T) {
	only := func(fatID string, naohG float64) *engine.Recipe {
		r := given(naohG)
		r.Fats = []engine.FatLine{{ID: "x", Fat: fatID, Mass: engine.InGrams(1000)}}
		return r
	}
	potash := given(1)
	potash.Alkali.KOH, potash.Alkali.Given = purity(100), &engine.GivenAlkali{KOH: engine.InGrams(142)}
	ounces := given(142)
	ounces.Fats[0].Mass, ounces.Fats[1].Mass = engine.InGrams(24.7), engine.InGrams(10.6)
	for name, x := range map[string]struct {
		recipe *engine.Recipe
		slip   string
	}{
		"soda for potash":     {given(200), "if_koh_pct"},
		"potash for soda":     {potash, "if_naoh_pct"},
		"ounces for grams":    {given(5.0), "if_alkali_oz_pct"},
		"fats in ounces":      {ounces, "if_fats_oz_pct"},
		"palm for its kernel": {only("palm-oil", 168), "if_palm_kernel_oil_pct"},
		"kernel for palm":     {only("palm-kernel-oil", 128), "if_palm_oil_pct"},
		"coconut for palm":    {only("coconut-oil", 130), "if_palm_oil_pct"},
	} {
		f := found(formulate(t, x.recipe), "engine/likely-slip")
		if f == nil {
			t.Errorf("%s: no slip", name)
			continue
		}
		value, ok := 0.0, false
		for _, n := range f.Numbers {
			if n.Name == x.slip {
				value, ok = n.Value, true
			}
		}
		if !ok || value < -2 || value > 15 {
			t.Errorf("%s: %s is not among %+v", name, x.slip, f.Numbers)
		}
	}
	// 1000 g of the bar's fats take 153.2 g of 98.5 % soda.
	for superfat, slip := range map[float64]bool{-15.5: true, -14.5: false, 24.5: false, 25.5: true} {
		f := formulate(t, given(153.216*(1-superfat/100)))
		if !near(float64(f.Superfat.Pct), superfat, 1e-4) {
			t.Fatalf("superfat %g, meant %g", f.Superfat.Pct, superfat)
		}
		if got := found(f, "engine/likely-slip") != nil; got != slip {
			t.Errorf("at %g %% a slip is %v", superfat, got)
		}
	}
}

// A cleaning bar always carries its caution, and only a best estimate below zero
// makes it a danger.
func TestCleaningBar(t *testing.T) {
	for superfat, want := range map[float64]engine.Severity{0: engine.Caution, 1: engine.Caution, 2: engine.Caution} {
		r := asked(superfat)()
		r.CleaningBar = true
		if got := formulate(t, r).Superfat.Verdict; got != want {
			t.Errorf("at %g %%: %s, want %s", superfat, got, want)
		}
	}
	r := given(155)
	r.CleaningBar = true
	if f := formulate(t, r); f.Superfat.Verdict != engine.Danger || found(f, "engine/lye-heavy") == nil {
		t.Errorf("lye-heavy: %s", f.Superfat.Verdict)
	}
}

// Slurry water comes out of the recipe's water, extra water on top of it; where
// fat carries, held back fat is recipe fat and extra fat is not.
func TestWhereCarriersCount(t *testing.T) {
	carried := func(c engine.Carrier) *engine.Formulation {
		return formulate(t, dosed(engine.Dose{ID: "rose", Custom: inert, Mass: engine.InGrams(10), Carrier: &c})())
	}
	plain := formulate(t, bar())
	slurry := carried(engine.Carrier{Water: true, GPerG: 3})
	if got := float64(plain.Water.PlainG - slurry.Water.PlainG); !near(got, 30, 1e-9) || !near(float64(slurry.Water.TotalG), float64(plain.Water.TotalG), 1e-9) {
		t.Errorf("slurry: %g g less plain water, total %g g", got, slurry.Water.TotalG)
	}
	extra := carried(engine.Carrier{Water: true, GPerG: 3, Extra: true})
	if extra.Water.PlainG != plain.Water.PlainG || !near(float64(extra.Water.OnTopG), 30, 1e-9) {
		t.Errorf("extra water: %+v", extra.Water)
	}
	held := carried(engine.Carrier{Fat: "olive", GPerG: 3})
	if grams(held, "olive") != 670 || grams(held, "rose/carrier") != 30 || held.Totals.FatsG != 1000 || !near(float64(held.Superfat.Pct), 5, 1e-9) {
		t.Errorf("held back: %+v", held.WeighOut)
	}
	more := carried(engine.Carrier{Fat: "olive-oil", GPerG: 3, Extra: true})
	if grams(more, "olive") != 700 || more.Totals.FatsG != 1000 || more.Alkali.TotalMol != plain.Alkali.TotalMol || more.Superfat.Pct <= 5 {
		t.Errorf("extra fat: %+v", more.Superfat)
	}
	premixed := carried(engine.Carrier{Fat: "olive-oil", GPerG: 3, Premixed: true})
	if grams(premixed, "rose") != 40 || grams(premixed, "rose/carrier") != 0 {
		t.Errorf("premixed: %+v", premixed.WeighOut)
	}
}
