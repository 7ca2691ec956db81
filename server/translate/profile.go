package translate

import (
	lixiviumv1 "lixivium.example/proto/lixivium/v1"

	"lixivium.example/engine"
)

// profile writes the fatty acids of the batch.
func profile(p *engine.Profile) *lixiviumv1.FattyAcidProfile {
	return &lixiviumv1.FattyAcidProfile{
		Acids: each(p.Acids, func(m *lixiviumv1.FattyAcidAmount, a *engine.AcidAmount) {
			m.Acid = a.Acid
			m.Name = a.Name
			m.MassG = float64(a.MassG)
			m.AmountMol = float64(a.AmountMol)
			m.SharePct = float64(a.SharePct)
		}),
		Groups: each(p.Groups, func(m *lixiviumv1.FattyAcidGroup, g *engine.GroupAmount) {
			m.Name = g.Name
			m.MassG = float64(g.MassG)
			m.AmountMol = float64(g.AmountMol)
			m.SharePct = float64(g.SharePct)
		}),
		KnownOfFatsPct:        float64(p.KnownOfFatsPct),
		CalculatedSvMgKohPerG: float64(p.CalculatedSV),
		SvInUseMgKohPerG:      float64(p.SVInUse),
		CalculatedIodineValue: p.CalculatedIV,
		UnsaponifiableMaxPct:  float64(p.UnsaponifiableMaxPct),
	}
}
