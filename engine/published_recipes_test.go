package engine_test

import (
	"strconv"
	"strings"
	"testing"

	"lixivium.example/engine"
)

// recipeReckonings are the checks of whole recipes as their sources print them.
// Their expected figures are reckoned by hand, from saponification values and
// tables of lyes of the same books, not from the engine's.
var recipeReckonings = map[string]reckoning{
	"superfat_of_recipe": superfatOfRecipe,
	"verdict_of_recipe":  verdictOfRecipe,
	"alkali_of_recipe":   alkaliOfRecipe,
}

// superfatOfRecipe is the superfat that the printed weights imply. Whatever has
// more alkali than its fats take must end in danger.
func superfatOfRecipe(t testing.TB, in inputs) float64 {
	f := formulate(t, printed(t, in))
	if f.Superfat.Pct < 0 {
		dangerOf(t, f)
	}
	return float64(f.Superfat.Pct)
}

// verdictOfRecipe is the verdict on printed weights, for recipes whose alkali is
// too loosely described to put a figure to.
func verdictOfRecipe(t testing.TB, in inputs) float64 {
	f := formulate(t, printed(t, in))
	if f.Superfat.Verdict == engine.Danger {
		dangerOf(t, f)
	}
	return float64(f.Superfat.Verdict)
}

// dangerOf fails unless a batch that is lye-heavy says so, and says it first.
func dangerOf(t testing.TB, f *engine.Formulation) {
	t.Helper()
	if f.Superfat.Verdict != engine.Danger || len(f.Findings) == 0 || f.Findings[0].Severity != engine.Danger || !strings.HasPrefix(f.Findings[0].Code, "engine/lye-heavy") {
		t.Errorf("superfat %.1f %%: verdict %q, findings %+v", f.Superfat.Pct, f.Superfat.Verdict, f.Findings)
	}
}

// alkaliOfRecipe is the alkali that the fats take at a superfat: grams of pure
// alkali, or liters of a lye of stated density.
func alkaliOfRecipe(t testing.TB, in inputs) float64 {
	r := printed(t, in)
	r.Alkali.Given, r.Alkali.SuperfatPct = nil, engine.Some(in.number(t, "superfat"))
	r.Water = concentration(25)
	if in["alkali"] == "koh" {
		r.Alkali.KOHOfMolesPct = engine.Some(100)
	}
	a := formulate(t, r).Alkali
	if _, ok := in[in["alkali"]+"_density"]; ok {
		return float64(a.NaOHStockG+a.KOHStockG) / in.number(t, in["alkali"]+"_density") / 1000
	}
	return float64(a.NaOHPureG + a.KOHPureG)
}

// printed is a recipe as its source has it: fats and alkali by weight, parts
// and pounds alike as grams.
func printed(t testing.TB, in inputs) *engine.Recipe {
	t.Helper()
	r := &engine.Recipe{Name: "printed", Alkali: engine.Alkali{Given: &engine.GivenAlkali{}}}
	for line := range strings.SplitSeq(in["fats"], ",") {
		name, mass, _ := strings.Cut(line, ":")
		g, err := strconv.ParseFloat(mass, 64)
		if err != nil {
			t.Fatalf("fat %q: %v", line, err)
		}
		r.Fats = append(r.Fats, engine.FatLine{ID: name, Fat: name, Mass: engine.InGrams(g)})
	}
	r.Alkali.NaOH, r.Alkali.KOH = printedStock(t, in, "naoh"), printedStock(t, in, "koh")
	for kind, to := range map[string]*engine.Quantity{"naoh": &r.Alkali.Given.NaOH, "koh": &r.Alkali.Given.KOH} {
		if _, ok := in[kind]; ok {
			*to = engine.InGrams(in.number(t, kind))
		}
	}
	return r
}

// printedStock is an alkali in the form that the source names; pure when it
// names none.
func printedStock(t testing.TB, in inputs, kind string) *engine.AlkaliStock {
	s := &engine.SolutionStrength{}
	for form, to := range map[string]*engine.Optional{
		"_solution": &s.MassPct, "_baume": &s.DegreesBaume, "_twaddell": &s.DegreesTwaddell, "_density": &s.DensityGPerML,
	} {
		if _, ok := in[kind+form]; !ok {
			continue
		}
		*to = engine.Some(in.number(t, kind+form))
		if form == "_baume" {
			s.BaumeModulus = engine.Some(in.number(t, "modulus"))
		}
		if _, ok := in["t"]; ok {
			s.TemperatureC = engine.Some(in.number(t, "t"))
		}
		return &engine.AlkaliStock{Solution: s}
	}
	return purity(in.or(t, kind+"_pct", 100))
}

// TestPublishedRecipesCanFail weighs a tenth more and a tenth less alkali than
// every printed recipe has, and turns its verdict over: no row may hold then.
func TestPublishedRecipesCanFail(t *testing.T) {
	for _, p := range readPublished(t) {
		if p.kind != "recipes" {
			continue
		}
		factors := map[string][]float64{"superfat_of_recipe": {0.9, 1.1}, "verdict_of_recipe": {0.3}}[p.check]
		if p.check == "verdict_of_recipe" && p.expected < float64(engine.Danger) {
			factors = []float64{2}
		}
		for _, by := range factors {
			in := inputs{}
			for name, value := range p.in {
				in[name] = value
				if name == "naoh" || name == "koh" {
					in[name] = strconv.FormatFloat(p.in.number(t, name)*by, 'g', -1, 64)
				}
			}
			if got := reckonings[p.check](t, in); p.holds(got) {
				t.Errorf("%s holds with %g times its alkali: got %.4g, expected is %g within %g", p.id, by, got, p.expected, p.tolerance)
			}
		}
		if p.check == "alkali_of_recipe" && (p.tolerance > p.expected*0.04 || p.expected <= 0) {
			t.Errorf("%s: %g within %g is too wide", p.id, p.expected, p.tolerance)
		}
	}
}
