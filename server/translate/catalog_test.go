package translate

import (
	"math"
	"testing"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"

	"lixivium.example/engine"
	"lixivium.example/engine/fat"
)

func TestFatsOfTheTable(t *testing.T) {
	list := Fats(fat.All(), nil, "").GetFats()
	if len(list) != len(fat.All()) {
		t.Fatalf("%d of %d fats", len(list), len(fat.All()))
	}
	for i, m := range list {
		f := fat.All()[i]
		if m.GetId() != f.ID || m.GetName() != f.Name || m.GetKind() != string(f.Kind) ||
			m.GetSvMgKohPerG() != float64(f.SV.Best) || m.GetSvLowMgKohPerG() != float64(f.SV.Min) || m.GetSvHighMgKohPerG() != float64(f.SV.Max) ||
			m.GetInciName() != f.INCI || m.GetSvBasis() != f.SVBasis || m.GetMeltingRangeC() != f.MeltingC || m.GetNote() != f.Note {
			t.Errorf("%s: got %v", f.ID, m)
		}
		if m.GetEvidence().GetBasis() == lixiviumv1.Basis_BASIS_UNSPECIFIED || m.GetEvidence().GetSource() == "" {
			t.Errorf("%s: evidence %v", f.ID, m.GetEvidence())
		}
		for name, presence := range map[string][2]bool{
			"acid value":     {m.AcidValueMgKohPerG != nil, f.AcidValue != nil},
			"iodine low":     {m.IodineValueLow != nil, f.IV.Min != nil},
			"iodine high":    {m.IodineValueHigh != nil, f.IV.Max != nil},
			"density":        {m.DensityGPerMl != nil && m.DensityAtC != nil, f.Density != nil},
			"unsaponifiable": {m.UnsaponifiableMaxPct != nil, f.UnsaponifiableMaxPct != nil},
			"calculated SV":  {m.CalculatedSvMgKohPerG != nil, len(f.Composition) > 0},
		} {
			if presence[0] != presence[1] {
				t.Errorf("%s: %s is there %t, in the table %t", f.ID, name, presence[0], presence[1])
			}
		}
		var sum float64
		for _, pct := range m.GetFattyAcidPct() {
			sum += pct
		}
		if len(f.Composition) != len(m.GetFattyAcidPct()) || (len(f.Composition) > 0 && math.Abs(sum-100) > 1e-9) {
			t.Errorf("%s: %d acids sum to %g", f.ID, len(m.GetFattyAcidPct()), sum)
		}
	}
}

func TestFatsByName(t *testing.T) {
	fats := []*fat.Fat{
		{ID: "aa-oil", Name: "First", Status: fat.Seen},
		{ID: "bb-oil", Name: "Second", Status: fat.Estimate},
	}
	names := []fat.Name{
		{Name: "Alpha", FatIDs: []string{"aa-oil"}},
		{Name: "Either Alpha", FatIDs: []string{"aa-oil", "bb-oil"}, Why: "both"},
	}
	for contains, want := range map[string]struct {
		ids       []string
		ambiguous int
	}{
		"":        {[]string{"aa-oil", "bb-oil"}, 1},
		" ALPHA ": {[]string{"aa-oil"}, 1},
		"second":  {[]string{"bb-oil"}, 0},
		"-OIL":    {[]string{"aa-oil", "bb-oil"}, 0},
		"either":  {nil, 1},
		"nothing": {nil, 0},
	} {
		got := Fats(fats, names, contains)
		var ids []string
		for _, f := range got.GetFats() {
			ids = append(ids, f.GetId())
		}
		if len(ids) != len(want.ids) || len(got.GetAmbiguousNames()) != want.ambiguous {
			t.Errorf("%q: %v and %v", contains, ids, got.GetAmbiguousNames())
			continue
		}
		for i := range ids {
			if ids[i] != want.ids[i] {
				t.Errorf("%q: %v", contains, ids)
			}
		}
	}
	if s := Fats(fats, names, "first").GetFats()[0].GetSynonyms(); len(s) != 1 || s[0] != "Alpha" {
		t.Errorf("synonyms %v", s)
	}
}

func TestFindingCodesAreSorted(t *testing.T) {
	got := FindingCodes([]engine.FindingCode{{Code: "engine/b", Highest: engine.Danger, Meaning: "m"}, {Code: "engine/a"}}).GetCodes()
	if got[0].GetCode() != "engine/a" || got[1].GetCode() != "engine/b" || got[1].GetSeverity() != lixiviumv1.Severity_SEVERITY_DANGER {
		t.Errorf("got %v", got)
	}
}
