package engine_test

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"lixivium.example/engine"
)

func swap(t *testing.T, r *engine.Recipe, id string, with ...engine.FatLine) *engine.Swapped {
	t.Helper()
	s, err := engine.New(nil).SwapFat(context.Background(), r, id, with, engine.Options{})
	if err != nil {
		t.Fatalf("refused: %v", err)
	}
	return s
}

func change(s *engine.Swapped, name string) *engine.FigureChange {
	i := slices.IndexFunc(s.Changes, func(c engine.FigureChange) bool { return c.Name == name })
	if i < 0 {
		return nil
	}
	return &s.Changes[i]
}

// TestSwapAtEqualGrams: palm kernel for coconut, reckoned by hand from the middle
// values of CXS 210 for both (256.5 and 242).
func TestSwapAtEqualGrams(t *testing.T) {
	s := swap(t, bar(), "coconut", engine.FatLine{ID: "kernel", Fat: "palm-kernel-oil"})
	if l := s.Recipe.Fats[1]; l.ID != "kernel" || l.Mass != engine.InGrams(300) || len(s.Recipe.Fats) != 2 {
		t.Fatalf("%+v", s.Recipe.Fats)
	}
	before, after := 700*needOf("olive-oil")+300*needOf("coconut-oil"), 700*needOf("olive-oil")+300*needOf("palm-kernel-oil")
	c := change(s, "naoh_g")
	if c == nil || !near(c.Before, before*0.95*39.997/0.985, 1e-9) || !near(c.After, after*0.95*39.997/0.985, 1e-9) || c.Unit != "g" {
		t.Errorf("%+v", c)
	}
	if change(s, "superfat_pct") != nil {
		t.Error("the asked superfat changed")
	}
	for _, name := range []string{"C12-C14", "iodine_value", "water_g", "batter_g", "low95_pct"} {
		if change(s, name) == nil {
			t.Errorf("%s is not said to change: %+v", name, s.Changes)
		}
	}
}

func needOf(fat string) float64 { return needPerGram(&engine.FatLine{Fat: fat}) }

// TestSwapForSeveral: shares of the replaced mass, in the unit it stood in; of a
// share, shares; of a volume, its grams.
func TestSwapForSeveral(t *testing.T) {
	two := []engine.FatLine{{ID: "rice", Fat: "rice-bran-oil", SharePct: engine.Some(60)}, {ID: "avocado", Fat: "avocado-oil", SharePct: engine.Some(40)}}
	r := bar()
	r.Fats[0].Mass = engine.Quantity{Value: 20, Unit: engine.Ounce}
	if s := swap(t, r, "olive", two...); s.Recipe.Fats[0].Mass != (engine.Quantity{Value: 12, Unit: engine.Ounce}) || s.Recipe.Fats[1].Mass != (engine.Quantity{Value: 8, Unit: engine.Ounce}) || s.Recipe.Fats[2].ID != "coconut" {
		t.Errorf("%+v", s.Recipe.Fats)
	}
	r = bar()
	r.TotalFats = engine.InGrams(800)
	for i, share := range []float64{75, 25} {
		r.Fats[i].Mass, r.Fats[i].SharePct = engine.Quantity{}, engine.Some(share)
	}
	if s := swap(t, r, "olive", two...); s.Recipe.Fats[0].SharePct != engine.Some(45) || s.Recipe.Fats[1].SharePct != engine.Some(30) {
		t.Errorf("%+v", s.Recipe.Fats)
	}
	r = bar()
	r.Fats[0].Mass = engine.Quantity{Value: 500, Unit: engine.Milliliter}
	if s := swap(t, r, "olive", engine.FatLine{ID: "avocado", Fat: "avocado-oil"}); s.Recipe.Fats[0].Mass.Unit != engine.Gram || !near(s.Recipe.Fats[0].Mass.Value, grams(s.Before, "olive"), 1e-12) {
		t.Errorf("%+v", s.Recipe.Fats)
	}
}

// TestSwapHeldBack: the replacement may keep the id of what it replaces, and fat held
// back comes out of the replacement.
func TestSwapHeldBack(t *testing.T) {
	r := bar()
	r.Doses = []engine.Dose{{ID: "rose", Custom: inert, Mass: engine.InGrams(10), Carrier: &engine.Carrier{Fat: "olive-oil", GPerG: 2}}}
	s := swap(t, r, "olive", engine.FatLine{ID: "olive", Fat: "rice-bran-oil"})
	i := slices.IndexFunc(s.After.WeighOut, func(l engine.WeighLine) bool { return l.LineID == "rose/carrier" })
	if l := s.After.WeighOut[i]; l.OfLineID != "olive" || !strings.Contains(l.Material, "Rice") || grams(s.After, "olive") != 680 {
		t.Errorf("%+v", s.After.WeighOut)
	}
	if r.Doses[0].Carrier.Fat != "olive-oil" || r.Fats[0].Fat != "olive-oil" {
		t.Error("the recipe handed in was changed")
	}
}

// TestSwapTellsFindings: what is new and what is gone, by code.
func TestSwapTellsFindings(t *testing.T) {
	r := bar()
	r.Fats[0].Fat = "camellia-oil"
	s := swap(t, r, "olive", engine.FatLine{ID: "grease", Fat: "grease"})
	if !slices.Equal(s.GoneFindings, []string{"engine/sv-from-memory"}) || !slices.Contains(s.NewFindings, "engine/unstated-blend") {
		t.Errorf("new %v, gone %v", s.NewFindings, s.GoneFindings)
	}
}

// TestSwapUnderGivenAlkali: what is given stays given, and is judged.
func TestSwapUnderGivenAlkali(t *testing.T) {
	s := swap(t, given(140), "coconut", engine.FatLine{ID: "lard", Fat: "lard"})
	c := change(s, "superfat_pct")
	if c == nil || !(c.After < c.Before) || change(s, "naoh_g") != nil || !slices.Contains(s.NewFindings, "engine/lye-heavy") && c.After < 0 {
		t.Errorf("%+v, new %v", s.Changes, s.NewFindings)
	}
}

func TestBadSwap(t *testing.T) {
	lard := engine.FatLine{ID: "lard", Fat: "lard"}
	share := func(id string, pct float64) engine.FatLine {
		return engine.FatLine{ID: id, Fat: "lard", SharePct: engine.Some(pct)}
	}
	wetted := edited(bar, func(r *engine.Recipe) {
		r.Doses = []engine.Dose{{ID: "rose", Custom: inert, Mass: engine.InGrams(10), Carrier: &engine.Carrier{Fat: "olive", GPerG: 2}}}
	})
	for name, x := range map[string]struct {
		recipe             func() *engine.Recipe
		line               string
		with               []engine.FatLine
		path, reason, next string
	}{
		"unknown line":        {bar, "oliv", []engine.FatLine{lard}, "line_id", engine.ReasonUnknown, "by its id"},
		"nothing instead":     {bar, "olive", nil, "replacements", engine.ReasonRequired, "take the place"},
		"unknown fat":         {bar, "coconut", []engine.FatLine{{ID: "x", Fat: "lrad"}}, "replacements[0].fat", engine.ReasonUnknown, "catalog"},
		"ambiguous fat":       {bar, "olive", []engine.FatLine{share("a", 50), {ID: "x", Fat: "palm", SharePct: engine.Some(50)}}, "replacements[1].fat", engine.ReasonAmbiguous, "several"},
		"id of another line":  {bar, "olive", []engine.FatLine{{ID: "coconut", Fat: "lard"}}, "replacements[0].id", engine.ReasonDuplicate, "another id"},
		"id twice":            {bar, "olive", []engine.FatLine{share("a", 50), share("a", 50)}, "replacements[1].id", engine.ReasonDuplicate, "own"},
		"no id":               {bar, "olive", []engine.FatLine{{Fat: "lard"}}, "replacements[0].id", engine.ReasonBadID, "hyphens"},
		"mass of its own":     {bar, "olive", []engine.FatLine{{ID: "x", Fat: "lard", Mass: engine.InGrams(3)}}, "replacements[0].mass", engine.ReasonConflict, "taken over"},
		"shares of 90":        {bar, "olive", []engine.FatLine{share("a", 50), share("b", 40)}, "replacements", engine.ReasonSum, "Change one by 10"},
		"one without a share": {bar, "olive", []engine.FatLine{share("a", 50), lard}, "replacements[1].share_of_fats_pct", engine.ReasonRequired, "each its percent"},
		"share of zero":       {bar, "olive", []engine.FatLine{share("a", 100), share("b", 0)}, "replacements[1].share_of_fats_pct", engine.ReasonRange, "zero"},
		"negative share":      {bar, "olive", []engine.FatLine{share("a", 50), share("b", 50), share("c", -1)}, "replacements[2].share_of_fats_pct", engine.ReasonRange, "percent of the mass"},
		"share of no number":  {bar, "olive", []engine.FatLine{share("a", math.NaN())}, "replacements[0].share_of_fats_pct", engine.ReasonNotFinite, "plain"},
		"wets a dose":         {wetted, "olive", []engine.FatLine{share("a", 50), share("b", 50)}, "recipe.doses[0].carrier.fat", engine.ReasonConflict, "another line"},
		"the recipe itself":   {asked(-1), "olive", []engine.FatLine{lard}, "recipe.alkali.superfat_pct", engine.ReasonRange, "0 or more"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := engine.New(nil).SwapFat(context.Background(), x.recipe(), x.line, x.with, engine.Options{})
			var v *engine.Violations
			if !errors.As(err, &v) {
				t.Fatalf("got %T %v, want violations", err, err)
			}
			if v.List[0].Path != x.path || v.List[0].Reason != x.reason || !strings.Contains(v.List[0].Text, x.next) {
				t.Errorf("got %+v\nwant %s %s: %s", v.List, x.path, x.reason, x.next)
			}
		})
	}
}

// TestSwappedBatchesKeepTheirFats: any line of any recipe for any fats leaves the
// mass of the fats as it was, and the answer is that of the new recipe.
func TestSwappedBatchesKeepTheirFats(t *testing.T) {
	answered := 0
	check(t, 2000, func(t *rapid.T) {
		r := anyRecipe.Draw(t, "recipe")
		if settle(t, r, nil) == nil {
			return
		}
		line := r.Fats[kind(t, len(r.Fats))].ID
		with := []engine.FatLine{{ID: "n", Fat: fatID.Draw(t, "fat")}}
		if coin.Draw(t, "two") {
			with[0].SharePct = engine.Some(30)
			with = append(with, engine.FatLine{ID: "m", Fat: "olive-oil", SharePct: engine.Some(70)})
		}
		s, err := engine.New(nil).SwapFat(context.Background(), r, line, with, engine.Options{})
		var v *engine.Violations
		var impossible *engine.Impossible
		switch {
		case errors.As(err, &impossible), errors.As(err, &v) && strings.HasSuffix(v.List[0].Path, "carrier.fat"):
			return
		case err != nil:
			t.Fatalf("%s\nrefused: %v", describe(r), err)
		}
		answered++
		if !near(float64(s.Before.Totals.FatsG), float64(s.After.Totals.FatsG), 1e-9) {
			t.Fatalf("%s\n%g g of fats became %g", describe(r), s.Before.Totals.FatsG, s.After.Totals.FatsG)
		}
		for _, c := range s.Changes {
			if c.Before == c.After || c.Name == "" || c.Unit == "" {
				t.Fatalf("no change: %+v", c)
			}
		}
	})
	if answered < 1000 {
		t.Errorf("only %d answered", answered)
	}
}
