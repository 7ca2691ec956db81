package app

import (
	"context"
	"testing"

	"google.golang.org/grpc/codes"

	"lixivium.example/engine"
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

func (f *fake) Scale(_ context.Context, r *engine.Recipe, fit *engine.Fit, o engine.Options) (*engine.Scaled, error) {
	f.recipe, f.fit, f.options = r, fit, o
	return &engine.Scaled{Recipe: r, Formulation: &engine.Formulation{}, Factor: 2.5}, f.err
}

func (f *fake) SwapFat(_ context.Context, r *engine.Recipe, lineID string, with []engine.FatLine, o engine.Options) (*engine.Swapped, error) {
	f.recipe, f.line, f.with, f.options = r, lineID, with, o
	return &engine.Swapped{Recipe: r, Before: &engine.Formulation{}, After: &engine.Formulation{}, NewFindings: []string{"a/b"}}, f.err
}

func TestScaleAsksTheEngine(t *testing.T) {
	f := &fake{}
	answer, err := (&service{engine: f}).Scale(t.Context(), &lixiviumv1.ScaleRequest{
		Recipe: &lixiviumv1.Recipe{Name: "n"}, Balances: []*lixiviumv1.Balance{{Step: gram(1)}}, AllowIncomplete: true, IncludeWorksheet: true,
		Fit: &lixiviumv1.Fit{Target: &lixiviumv1.Fit_Batter{Batter: gram(1200)}},
	})
	if err != nil || answer.GetFactor() != 2.5 || answer.GetRecipe().GetName() != "n" {
		t.Fatalf("%v, %v", answer, err)
	}
	if f.fit.Batter != engine.InGrams(1200) || !f.options.AllowIncomplete || !f.options.IncludeWorksheet || len(f.options.Balances) != 1 {
		t.Errorf("asked %+v %+v", f.fit, f.options)
	}
}

func TestSwapAsksTheEngine(t *testing.T) {
	f := &fake{}
	answer, err := (&service{engine: f}).SwapFat(t.Context(), &lixiviumv1.SwapFatRequest{
		Recipe: &lixiviumv1.Recipe{Name: "n"}, Balances: []*lixiviumv1.Balance{{Step: gram(1)}}, LineId: "castor",
		Replacements: []*lixiviumv1.FatLine{{Id: "shea", Kind: &lixiviumv1.FatLine_Fat{Fat: "shea-butter"}}},
	})
	if err != nil || answer.GetNewFindings()[0] != "a/b" {
		t.Fatalf("%v, %v", answer, err)
	}
	if f.line != "castor" || len(f.with) != 1 || f.with[0].Fat != "shea-butter" || len(f.options.Balances) != 1 {
		t.Errorf("asked %q %+v %+v", f.line, f.with, f.options)
	}
}

// TestSizesThatAreNone: faults of the wire and of the engine, with their paths.
func TestSizesThatAreNone(t *testing.T) {
	recipe := &lixiviumv1.Recipe{
		Fats:   []*lixiviumv1.FatLine{{Id: "oil", Kind: &lixiviumv1.FatLine_Fat{Fat: "olive-oil"}, Amount: &lixiviumv1.FatLine_Mass{Mass: gram(1000)}}},
		Alkali: &lixiviumv1.Alkali{Amount: &lixiviumv1.Alkali_SuperfatPct{SuperfatPct: 5}},
		Water:  &lixiviumv1.Water{Ask: &lixiviumv1.Water_Measure{Measure: &lixiviumv1.WaterMeasure{Measure: &lixiviumv1.WaterMeasure_LyeConcentrationPct{LyeConcentrationPct: 33}}}},
	}
	mold := &lixiviumv1.Mold{Count: 1, Shape: &lixiviumv1.Mold_Box{Box: &lixiviumv1.Box{LengthMm: 200, WidthMm: 80, HeightMm: 70}}, Material: 99}
	for name, x := range map[string]struct {
		call func(Service) error
		path string
	}{
		"no recipe": {func(s Service) error { _, err := s.Scale(t.Context(), nil); return err }, "recipe"},
		"no size": {func(s Service) error {
			_, err := s.Scale(t.Context(), &lixiviumv1.ScaleRequest{Recipe: recipe})
			return err
		}, "fit"},
		"a loss of nothing": {func(s Service) error {
			_, err := s.Scale(t.Context(), &lixiviumv1.ScaleRequest{Recipe: recipe, Fit: &lixiviumv1.Fit{PotLoss: &lixiviumv1.Quantity{}, Target: &lixiviumv1.Fit_Fats{Fats: gram(1)}}})
			return err
		}, "fit.pot_loss"},
		"a material of tomorrow": {func(s Service) error {
			_, err := s.Scale(t.Context(), &lixiviumv1.ScaleRequest{Recipe: recipe, Fit: &lixiviumv1.Fit{Target: &lixiviumv1.Fit_Molds{Molds: &lixiviumv1.Molds{Molds: []*lixiviumv1.Mold{mold}}}}})
			return err
		}, "fit.molds.molds[0].material"},
		"swap without a recipe": {func(s Service) error { _, err := s.SwapFat(t.Context(), nil); return err }, "recipe"},
		"swap of nothing": {func(s Service) error {
			_, err := s.SwapFat(t.Context(), &lixiviumv1.SwapFatRequest{Recipe: recipe})
			return err
		}, "line_id"},
	} {
		t.Run(name, func(t *testing.T) {
			if read := ReadRefusal(x.call(local(t))); read.Code != codes.InvalidArgument || read.Violations[0].Path != x.path {
				t.Errorf("got %+v, want %s", read, x.path)
			}
		})
	}
}
