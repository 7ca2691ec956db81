package translate

import (
	"slices"
	"strings"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"

	"lixivium.example/engine"
	"lixivium.example/engine/fat"
)

// Fats lists the fats and ambiguous names that contain some text; case is
// ignored and no text means all.
func Fats(fats []*fat.Fat, names []fat.Name, contains string) *lixiviumv1.ListFatsResponse {
	wanted := strings.ToLower(strings.TrimSpace(contains))
	matches := func(name string) bool { return strings.Contains(strings.ToLower(name), wanted) }

	out := &lixiviumv1.ListFatsResponse{}
	synonyms := map[string][]string{}
	for _, n := range names {
		switch {
		case n.Why == "":
			for _, id := range n.FatIDs {
				synonyms[id] = append(synonyms[id], n.Name)
			}
		case matches(n.Name):
			out.AmbiguousNames = append(out.AmbiguousNames,
				&lixiviumv1.AmbiguousName{Name: n.Name, FatIds: slices.Clone(n.FatIDs)})
		}
	}
	for _, f := range fats {
		if matches(f.ID) || matches(f.Name) || slices.ContainsFunc(synonyms[f.ID], matches) {
			out.Fats = append(out.Fats, catalogFat(f, synonyms[f.ID]))
		}
	}
	return out
}

func catalogFat(f *fat.Fat, synonyms []string) *lixiviumv1.CatalogFat {
	m := &lixiviumv1.CatalogFat{
		Id:                   f.ID,
		Name:                 f.Name,
		Synonyms:             synonyms,
		InciName:             f.INCI,
		Kind:                 string(f.Kind),
		SvMgKohPerG:          float64(f.SV.Best),
		SvLowMgKohPerG:       float64(f.SV.Min),
		SvHighMgKohPerG:      float64(f.SV.Max),
		SvBasis:              f.SVBasis,
		IodineValueLow:       copied(f.IV.Min),
		IodineValueHigh:      copied(f.IV.Max),
		UnsaponifiableMaxPct: copied(f.UnsaponifiableMaxPct),
		MeltingRangeC:        f.MeltingC,
		Evidence:             &lixiviumv1.Evidence{Basis: basisOf(f.Status), Source: f.SourceText},
		FieldsFromMemory:     slices.Clone(f.FromMemory),
		Note:                 f.Note,
	}
	if v := f.AcidValue; v != nil {
		m.AcidValueMgKohPerG = copied(&v.Best)
	}
	if d := f.Density; d != nil {
		m.DensityGPerMl = copied(&d.GramsPerML)
		m.DensityAtC = copied(&d.At)
	}
	if len(f.Composition) > 0 {
		acids := fat.Acids()
		m.FattyAcidPct = make(map[string]float64, len(f.Composition))
		for _, s := range f.Composition {
			m.FattyAcidPct[acids[s.Acid].ID] = float64(s.Pct)
		}
		calculated := fat.CalculatedSV(f.Composition, f.FreeAcid)
		m.CalculatedSvMgKohPerG = copied(&calculated)
	}
	return m
}

// copied keeps messages apart from the shared table.
func copied[N ~float64](v *N) *float64 {
	if v == nil {
		return nil
	}
	c := float64(*v)
	return &c
}

func basisOf(s fat.Status) lixiviumv1.Basis {
	switch s {
	case fat.Seen:
		return lixiviumv1.Basis_BASIS_PUBLISHED_SEEN
	case fat.FromMemory:
		return lixiviumv1.Basis_BASIS_PUBLISHED_FROM_MEMORY
	case fat.Calculated:
		return lixiviumv1.Basis_BASIS_DERIVED
	case fat.Estimate:
		return lixiviumv1.Basis_BASIS_ESTIMATE
	}
	return lixiviumv1.Basis_BASIS_UNSPECIFIED
}

// WaterReferences lists the ways to ask for water.
func WaterReferences(list []engine.WaterReference) *lixiviumv1.ListWaterReferencesResponse {
	return &lixiviumv1.ListWaterReferencesResponse{
		References: each(list, func(m *lixiviumv1.WaterReference, w *engine.WaterReference) {
			m.Name = w.Name
			m.Meaning = w.Meaning
			m.ExampleWaterG = w.ExampleWaterG
			m.TypicalValue = w.TypicalValue
			m.Evidence = evidence(w.Evidence)
		}),
	}
}

// FindingCodes lists the findings in alphabetical order of their codes.
func FindingCodes(list []engine.FindingCode) *lixiviumv1.ListFindingCodesResponse {
	out := &lixiviumv1.ListFindingCodesResponse{
		Codes: each(list, func(m *lixiviumv1.FindingCode, c *engine.FindingCode) {
			m.Code = c.Code
			m.Severity = lixiviumv1.Severity(c.Highest)
			m.Meaning = c.Meaning
		}),
	}
	slices.SortFunc(out.Codes, func(a, b *lixiviumv1.FindingCode) int { return strings.Compare(a.Code, b.Code) })
	return out
}
