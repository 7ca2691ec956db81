package sheet

import (
	"testing"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

func worksheet() []*lixiviumv1.WorksheetLine {
	fromLine := func(name, id string, v float64, unit string) *lixiviumv1.WorksheetInput {
		return &lixiviumv1.WorksheetInput{Name: name, Value: v, Unit: unit, From: &lixiviumv1.WorksheetInput_LineId{LineId: id}}
	}
	return []*lixiviumv1.WorksheetLine{
		{Id: "fats.need_mol", Label: "need of the fats", Value: 3.5, Unit: "mol", Expression: "mass * sv / 56105.6", Inputs: []*lixiviumv1.WorksheetInput{
			{Name: "mass", Value: 1000, Unit: "g", From: &lixiviumv1.WorksheetInput_RequestPath{RequestPath: "recipe.fats[0].mass.g"}},
			{Name: "sv", Value: 196.3696, Unit: "mg KOH/g", From: &lixiviumv1.WorksheetInput_DataRow{DataRow: "fats/olive-oil/sv_mg_koh_per_g"}},
		}, Evidence: &lixiviumv1.Evidence{Basis: lixiviumv1.Basis_BASIS_PUBLISHED_SEEN, Source: "CXS 33"}},
		{Id: "alkali.mol", Value: 3.325, Unit: "mol", Expression: "need * share + need * 0", Inputs: []*lixiviumv1.WorksheetInput{
			fromLine("need", "fats.need_mol", 3.5, "mol"),
			{Name: "share", Value: 0.95, Unit: "1"},
		}},
		{Id: "water.g", Label: "water", Value: 270, Unit: "g", Method: "table-interpolation", Inputs: []*lixiviumv1.WorksheetInput{
			fromLine("alkali", "alkali.mol", 3.325, "mol"), fromLine("need", "fats.need_mol", 3.5, "mol"), fromLine("gone", "no.such", 1, "g"),
			{Name: "bound", Value: 2, Unit: "g", From: &lixiviumv1.WorksheetInput_Adjustment{Adjustment: "clay/water_g_per_g"}},
		}},
	}
}

func TestChainGoesDownToSourcesOnce(t *testing.T) {
	place := func(path string) string { return "bar.yaml:7:17" }
	want := `water.g = 270 g
  water
  by the method table-interpolation
  alkali = 3.325 mol, line alkali.mol
    = need * share + need * 0
    need = 3.5 mol, line fats.need_mol
      need of the fats
      = mass * sv / 56105.6
      rests on: published, seen: CXS 33
      mass = 1000 g, from bar.yaml:7:17 (recipe.fats[0].mass.g)
      sv = 196.37 mg KOH/g, from the data: fats/olive-oil/sv_mg_koh_per_g
    share = 0.95, fixed
  need = 3.5 mol, line fats.need_mol, written out above
  gone = 1 g, line no.such, which this answer does not hold
  bound = 2 g, from a plugin: clay/water_g_per_g
`
	if got := Chain(worksheet(), "water.g", place); got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
	if got := Chain(worksheet(), "water", place); got != "" {
		t.Errorf("an unknown figure gives %q", got)
	}
}

// TestChainEndsInACircle: no reckoning holds one, a broken server's may.
func TestChainEndsInACircle(t *testing.T) {
	self := []*lixiviumv1.WorksheetLine{{Id: "a", Value: 1, Inputs: []*lixiviumv1.WorksheetInput{
		{Name: "x", Value: 1, From: &lixiviumv1.WorksheetInput_LineId{LineId: "a"}},
	}, Expression: "x"}}
	if got, want := Chain(self, "a", nil), "a = 1\n  x = 1, line a, written out above\n"; got != want {
		t.Errorf("got %q", got)
	}
}

func TestFigures(t *testing.T) {
	if got, want := Figures(worksheet()[:2]), "fats.need_mol = 3.5 mol: need of the fats\nalkali.mol = 3.325 mol\n"; got != want {
		t.Errorf("got %q", got)
	}
}
