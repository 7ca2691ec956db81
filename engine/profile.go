package engine

import (
	"lixivium.example/engine/fat"
	"lixivium.example/engine/unit"
)

// groups are the groups of fatty acids in order.
var groups = fat.Groups()

// profile is the fatty acids of the recipe fats and of what doses bring.
func (w *work) profile() Profile {
	var pr profiler
	pr.acids = make([]acidSum, len(acids))
	for i := range w.p.lines {
		for j := range w.p.lines[i].parts {
			pt := &w.p.lines[i].parts[j]
			pr.take(pt, float64(w.in.Lines[i].G*pt.share))
		}
	}
	for i := range w.p.doses {
		if w.in.Doses[i].OnSurface {
			continue
		}
		for j := range w.p.doses[i].fats {
			f := &w.p.doses[i].fats[j]
			pr.take(&f.part, float64(w.in.Doses[i].G*f.perG))
		}
	}
	return pr.answer()
}

type acidSum struct{ g, mol float64 }

// profiler sums fatty acids over fats.
type profiler struct {
	acids            []acidSum
	all, known       float64 // g of fat
	need, calculated float64 // g × mg/g of the known fats
	iodine           float64
	unsap            float64
}

// take adds g grams of a fat. Its fatty acids are taken at their mass in the
// free state: what a triacylglycerol gives on saponification.
func (pr *profiler) take(pt *planPart, g float64) {
	pr.all += g
	pr.unsap += float64(g*pt.unsap) / 100
	if len(pt.acids) == 0 {
		return
	}
	pr.known += g
	pr.need += float64(g * pt.sv)
	pr.calculated += float64(g * pt.acidsSV)
	pr.iodine += float64(g * pt.acidsIV)
	moles := 0.0
	for _, s := range pt.acids {
		moles += float64(s.Pct) / acids[s.Acid].MolarMass
	}
	// mol of acid in g grams of fat, shared out by the mol of the composition
	total := float64(g * molPerG(pt.acidsSV))
	for _, s := range pt.acids {
		mol := total * (float64(s.Pct) / acids[s.Acid].MolarMass) / moles
		pr.acids[s.Acid].mol += mol
		pr.acids[s.Acid].g += float64(mol * acids[s.Acid].MolarMass)
	}
}

// answer gives the sums as shares.
func (pr *profiler) answer() Profile {
	out := Profile{KnownOfFatsPct: unit.PercentOf(pr.known, pr.all), UnsaponifiableMaxPct: unit.PercentOf(pr.unsap, pr.all)}
	if pr.known == 0 {
		return out
	}
	out.CalculatedSV = unit.MgKOHPerG(pr.calculated / pr.known)
	out.SVInUse = unit.MgKOHPerG(pr.need / pr.known)
	out.CalculatedIV = pr.iodine / pr.known
	sum, n := 0.0, 0
	for i := range pr.acids {
		if sum += pr.acids[i].g; pr.acids[i].g > 0 {
			n++
		}
	}
	out.Acids = make([]AcidAmount, 0, n)
	byGroup := make([]GroupAmount, len(groups))
	for i := range pr.acids {
		a := &pr.acids[i]
		if a.g == 0 {
			continue
		}
		out.Acids = append(out.Acids, AcidAmount{
			Acid: acids[i].ID, Name: acids[i].Name, MassG: unit.Grams(a.g), AmountMol: unit.Moles(a.mol), SharePct: unit.PercentOf(a.g, sum),
		})
		g := &byGroup[acids[i].Group]
		g.MassG += unit.Grams(a.g)
		g.AmountMol += unit.Moles(a.mol)
	}
	for i := range byGroup {
		byGroup[i].Name = groups[i].String()
		byGroup[i].SharePct = unit.PercentOf(float64(byGroup[i].MassG), sum)
	}
	out.Groups = byGroup
	return out
}
