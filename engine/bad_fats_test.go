package engine_test

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"lixivium.example/engine"
)

// fat0 spoils the first fat line.
func fat0(spoil func(*engine.FatLine)) func(*request) {
	return func(q *request) { spoil(&q.Fats[0]) }
}

// own makes the first fat line one with the caller's figures.
func own(spoil func(*engine.CustomFat)) func(*request) {
	return fat0(func(l *engine.FatLine) {
		l.Fat, l.Custom = "", &engine.CustomFat{Name: "Own", SV: engine.Measured{Value: 190}}
		spoil(l.Custom)
	})
}

// premix makes the first fat line a premix of two fats.
func premix(spoil func(*engine.FatLine)) func(*request) {
	return fat0(func(l *engine.FatLine) {
		l.Fat, l.Premix = "", &engine.Premix{Name: "Base", Fats: []engine.FatLine{
			{ID: "a", Fat: "olive-oil", SharePct: engine.Some(60)},
			{ID: "b", Fat: "coconut-oil", SharePct: engine.Some(40)},
		}}
		spoil(l)
	})
}

// shared gives the fats by share of a total.
func shared(a, b float64) func(*request) {
	return func(q *request) {
		q.TotalFats = engine.InGrams(1000)
		for i, s := range []float64{a, b} {
			q.Fats[i].Mass, q.Fats[i].SharePct = engine.Quantity{}, engine.Some(s)
		}
	}
}

var badFats = []bad{
	{"no fats", func(q *request) { q.Fats = nil }, []want{{"recipe.fats", engine.ReasonRequired, "at least one"}}},
	{"1001 fats", func(q *request) {
		q.Fats = nil
		for i := range 1001 {
			q.Fats = append(q.Fats, engine.FatLine{ID: fmt.Sprint("f", i), Fat: "olive-oil", Mass: engine.InGrams(1)})
		}
	}, []want{{"recipe.fats", engine.ReasonTooMany, "at most 1000"}}},
	{"no fat named", fat0(func(l *engine.FatLine) { l.Fat = "" }), []want{{"recipe.fats[0]", engine.ReasonRequired, "fat, custom or premix"}}},
	{"fat named twice", fat0(func(l *engine.FatLine) { l.Custom = customFat("Own", 190, 3) }), []want{{"recipe.fats[0]", engine.ReasonConflict, "one of fat, custom and premix"}}},
	{"no mass", fat0(func(l *engine.FatLine) { l.Mass = engine.Quantity{} }), []want{{"recipe.fats[0]", engine.ReasonRequired, "mass or share_of_fats_pct"}}},
	{"mass and share", fat0(func(l *engine.FatLine) { l.SharePct = engine.Some(70) }), []want{
		{"recipe.fats", engine.ReasonConflict, "same way"},
		{"recipe.fats[0]", engine.ReasonConflict, "mass or share_of_fats_pct"},
	}},
	{"total beside masses", func(q *request) { q.TotalFats = engine.InGrams(1000) }, []want{{"recipe.total_fats", engine.ReasonConflict, "Leave total_fats out"}}},
	{"shares sum to 99.9", shared(69.9, 30), []want{{"recipe.fats", engine.ReasonSum, "Change one by 0.1"}}},
	{"share of zero", shared(100, 0), []want{{"recipe.fats[1].share_of_fats_pct", engine.ReasonRange, "Leave the line out"}}},
	{"share is negative", shared(110, -10), []want{{"recipe.fats[0].share_of_fats_pct", engine.ReasonRange, "percent of the recipe fats"}, {"recipe.fats[1].share_of_fats_pct", engine.ReasonRange, "percent of the recipe fats"}}},
	{"shares as fractions", shared(0.7, 0.3), []want{{"recipe.fats", engine.ReasonSum, "write each a hundred times as large"}}},
	{"unknown fat", fat0(func(l *engine.FatLine) { l.Fat = "oliv oil" }), []want{{"recipe.fats[0].fat", engine.ReasonUnknown, "declare it as custom"}}},
	{"ambiguous fat", fat0(func(l *engine.FatLine) { l.Fat = "palm" }), []want{{"recipe.fats[0].fat", engine.ReasonAmbiguous, "Write the id"}}},
	{"hard fat by volume", fat0(func(l *engine.FatLine) { l.Fat, l.Mass = "shea-butter", engine.Quantity{Value: 1, Unit: engine.CupUS} }), []want{{"recipe.fats[0].mass.cup_us", engine.ReasonUnit, "Weigh it"}}},
	{"premix by volume", premix(func(l *engine.FatLine) { l.Mass = engine.Quantity{Value: 1, Unit: engine.Liter} }), []want{{"recipe.fats[0].mass.l", engine.ReasonUnit, "Weigh it"}}},

	{"SV of 0.19", own(func(f *engine.CustomFat) { f.SV.Value = 0.19 }), []want{{"recipe.fats[0].custom.sv_mg_koh_per_g.value", engine.ReasonRange, "190"}}},
	{"SV of 0.135", own(func(f *engine.CustomFat) { f.SV.Value = 0.135 }), []want{{"recipe.fats[0].custom.sv_mg_koh_per_g.value", engine.ReasonRange, "189.4"}}},
	{"SV of 0.35", own(func(f *engine.CustomFat) { f.SV.Value = 0.35 }), []want{{"recipe.fats[0].custom.sv_mg_koh_per_g.value", engine.ReasonRange, "write 350"}}},
	{"SV of 59", own(func(f *engine.CustomFat) { f.SV.Value = 59 }), []want{{"recipe.fats[0].custom.sv_mg_koh_per_g.value", engine.ReasonRange, "data sheet"}}},
	{"SV of 401", own(func(f *engine.CustomFat) { f.SV.Value = 401 }), []want{{"recipe.fats[0].custom.sv_mg_koh_per_g.value", engine.ReasonRange, "60 to 400"}}},
	{"SV is not a number", own(func(f *engine.CustomFat) { f.SV.Value = nan }), []want{{"recipe.fats[0].custom.sv_mg_koh_per_g.value", engine.ReasonNotFinite, "plain number"}}},
	{"half-width below zero", own(func(f *engine.CustomFat) { f.SV.HalfWidth = engine.Some(-1) }), []want{{"recipe.fats[0].custom.sv_mg_koh_per_g.half_width", engine.ReasonRange, "either side"}}},
	{"custom fat without name", own(func(f *engine.CustomFat) { f.Name = "" }), []want{{"recipe.fats[0].custom.name", engine.ReasonRequired, "Name the fat"}}},
	{"density in kg/m3", own(func(f *engine.CustomFat) { f.DensityGPerML = engine.Some(915) }), []want{{"recipe.fats[0].custom.density_g_per_ml", engine.ReasonRange, "density at 25"}}},
	{"fatty acids sum to 90", own(func(f *engine.CustomFat) { f.FattyAcidsPct = map[string]float64{"C18:1": 90} }), []want{{"recipe.fats[0].custom.fatty_acid_pct", engine.ReasonSum, "100 within 0.5"}}},
	{"unknown fatty acid", own(func(f *engine.CustomFat) { f.FattyAcidsPct = map[string]float64{"C18:1": 100, "oleic": 0} }), []want{{"recipe.fats[0].custom.fatty_acid_pct.oleic", engine.ReasonUnknown, "C18:1"}}},
	{"certificate of 0.2", fat0(func(l *engine.FatLine) { l.CertificateSV = &engine.Measured{Value: 0.2} }), []want{{"recipe.fats[0].certificate_sv_mg_koh_per_g.value", engine.ReasonRange, "grams per gram"}}},
	{"certificate half-width", fat0(func(l *engine.FatLine) { l.CertificateSV = &engine.Measured{Value: 190, HalfWidth: engine.Some(60)} }), []want{{"recipe.fats[0].certificate_sv_mg_koh_per_g.half_width", engine.ReasonRange, "either side"}}},

	{"premix in premix", premix(func(l *engine.FatLine) {
		l.Premix.Fats[1] = engine.FatLine{ID: "b", SharePct: engine.Some(40), Premix: &engine.Premix{Name: "Inner", Fats: []engine.FatLine{{ID: "c", Fat: "lard", SharePct: engine.Some(100)}}}}
	}), []want{{"recipe.fats[0].premix.fats[1].premix", engine.ReasonConflict, "Write its fats here"}}},
	{"certificate on a premix", premix(func(l *engine.FatLine) { l.CertificateSV = &engine.Measured{Value: 190} }), []want{{"recipe.fats[0].certificate_sv_mg_koh_per_g", engine.ReasonConflict, "on the lines of the premix"}}},
	{"premix without name", premix(func(l *engine.FatLine) { l.Premix.Name = "" }), []want{{"recipe.fats[0].premix.name", engine.ReasonRequired, "Name the premix"}}},
	{"premix without fats", premix(func(l *engine.FatLine) { l.Premix.Fats = nil }), []want{{"recipe.fats[0].premix.fats", engine.ReasonRequired, "1 to 1000 fats"}}},
	{"premix by mass", premix(func(l *engine.FatLine) {
		l.Premix.Fats[0].SharePct, l.Premix.Fats[0].Mass = engine.Optional{}, engine.InGrams(60)
	}), []want{{"recipe.fats[0].premix.fats[0].share_of_fats_pct", engine.ReasonRequired, "by share_of_fats_pct"}}},
	{"premix ids twice", premix(func(l *engine.FatLine) { l.Premix.Fats[1].ID = "a" }), []want{{"recipe.fats[0].premix.fats[1].id", engine.ReasonDuplicate, "an id of its own"}}},
	{"premix and fat", premix(func(l *engine.FatLine) { l.Fat = "lard" }), []want{{"recipe.fats[0]", engine.ReasonConflict, "one of fat, custom and premix"}}},

	{"no id", fat0(func(l *engine.FatLine) { l.ID = "" }), []want{{"recipe.fats[0].id", engine.ReasonBadID, "lower case letters"}}},
	{"id with capitals", fat0(func(l *engine.FatLine) { l.ID = "Olive" }), []want{{"recipe.fats[0].id", engine.ReasonBadID, "lower case letters"}}},
	{"id of 65 letters", fat0(func(l *engine.FatLine) { l.ID = strings.Repeat("a", 65) }), []want{{"recipe.fats[0].id", engine.ReasonBadID, "at most 64"}}},
	{"id twice", fat0(func(l *engine.FatLine) { l.ID = "coconut" }), []want{{"recipe.fats[1].id", engine.ReasonDuplicate, "an id of its own"}}},
	{"id of the lye", fat0(func(l *engine.FatLine) { l.ID = "naoh" }), []want{{"recipe.fats[0].id", engine.ReasonDuplicate, "Choose another"}}},
	{"id of the water", fat0(func(l *engine.FatLine) { l.ID = "water" }), []want{{"recipe.fats[0].id", engine.ReasonDuplicate, "Choose another"}}},
}

// Names that are not settled come back with ids to choose from.
func TestSuggestions(t *testing.T) {
	for name, x := range map[string]struct {
		reason string
		among  []string
	}{
		"palm":            {engine.ReasonAmbiguous, []string{"palm-oil", "palm-kernel-oil"}},
		"sunflower":       {engine.ReasonAmbiguous, []string{"sunflower-oil", "sunflower-oil-high-oleic"}},
		"coconut, liquid": {engine.ReasonAmbiguous, []string{"fractionated-coconut-oil", "coconut-oil"}},
		"oliv oil":        {engine.ReasonUnknown, []string{"olive-oil"}},
		"cocnut oil":      {engine.ReasonUnknown, []string{"coconut-oil"}},
		"plutonium":       {engine.ReasonUnknown, nil},
	} {
		r := bar()
		r.Fats[0].Fat = name
		_, err := engine.New(nil).Formulate(context.Background(), r, engine.Options{})
		var v *engine.Violations
		if !errors.As(err, &v) || v.List[0].Reason != x.reason {
			t.Errorf("%q: %v", name, err)
			continue
		}
		got := v.List[0].Suggestions
		for _, id := range x.among {
			if !slices.Contains(got, id) {
				t.Errorf("%q: %s is not among %v", name, id, got)
			}
			if !strings.Contains(v.Error(), id) {
				t.Errorf("%q: the error does not suggest %s", name, id)
			}
		}
		if x.among == nil && len(got) > 0 {
			t.Errorf("%q suggests %v", name, got)
		}
	}
}
