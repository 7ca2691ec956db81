package engine_test

import (
	"lixivium.example/engine"
	"lixivium.example/engine/fat"
)

// The superfat reckoned a second time, from nothing but the weigh-out, the
// recipe and the table of fats.

// svOf is the saponification value that a line counts with.
func svOf(l *engine.FatLine) float64 {
	if l.Custom != nil && l.CertificateSV == nil {
		return l.Custom.SV.Value
	}
	if l.Fat != "" {
		row, _ := fat.ByID(l.Fat)
		if row.AcidValue != nil {
			return float64(row.AcidValue.Best)
		}
		if l.CertificateSV == nil {
			return float64(row.SV.Best)
		}
	}
	return l.CertificateSV.Value
}

// needPerGram is the mol of alkali that a gram of a line takes.
func needPerGram(l *engine.FatLine) float64 {
	if l.Premix == nil {
		return svOf(l) / 56105.6
	}
	need := 0.0
	for i := range l.Premix.Fats {
		need += l.Premix.Fats[i].SharePct.Or(0) / 100 * svOf(&l.Premix.Fats[i]) / 56105.6
	}
	return need
}

// lineGrams is the planned mass of a fat line.
func lineGrams(r *engine.Recipe, i int) float64 {
	if s, ok := r.Fats[i].SharePct.Get(); ok {
		return float64(r.TotalFats.Grams()) * s / 100
	}
	return float64(r.Fats[i].Mass.Grams())
}

// takes is the alkali that the acids of a gram of an additive take, and the
// alkali that the fats in it need, mol.
func takes(a *engine.CustomAdditive) (acid, fats float64) {
	if a == nil {
		return 0, 0
	}
	if a.AlkaliMolPerG != nil {
		acid = a.AlkaliMolPerG.Value
	}
	for name, g := range a.FatGPerG {
		fats += g * needPerGram(&engine.FatLine{Fat: name})
	}
	return acid, fats
}

// pureFraction is the pure alkali in a gram of what is weighed.
func pureFraction(s *engine.AlkaliStock, unstated, answered float64) float64 {
	switch {
	case s == nil:
		return unstated
	case s.PurityPct.Set():
		return s.PurityPct.Or(0) / 100
	case s.Made != nil:
		solid, all := float64(s.Made.Solid.Grams()), float64(s.Made.Water.Grams())
		for _, x := range s.AlsoHolds {
			all += float64(x.Mass.Grams())
		}
		return solid * s.Made.PurityPct.Or(100*unstated) / 100 / (solid + all)
	case s.Solution != nil && s.Solution.MassPct.Set():
		return s.Solution.MassPct.Or(0) / 100
	case s.Solution != nil:
		return answered // a reading: the solution tables have tests of their own
	}
	return unstated
}

// side is one part of the balance of alkali, mol.
type side struct{ acid, fats float64 }

// reckon gives the superfat of the batch and of each portion, percent.
func reckon(r *engine.Recipe, f *engine.Formulation) (batch float64, portions []float64) {
	naoh, koh := 0.98, 0.90
	if r.Alkali.Given != nil {
		naoh = 1
	}
	alkali := grams(f, "naoh")*pureFraction(r.Alkali.NaOH, naoh, float64(f.Alkali.NaOHPurityPct)/100)/39.997 +
		grams(f, "koh")*pureFraction(r.Alkali.KOH, koh, float64(f.Alkali.KOHPurityPct)/100)/56.1056

	base, own := side{}, map[string]*side{}
	for i := range r.Fats {
		base.fats += grams(f, r.Fats[i].ID) * needPerGram(&r.Fats[i])
	}
	for i := range r.Portions {
		own[r.Portions[i].ID] = &side{}
	}
	for i := range r.Doses {
		if r.Doses[i].Stage == engine.StageSurface {
			continue // it lies on the batter and takes no part in it
		}
		to := &base
		if p := r.Doses[i].PortionID; p != "" {
			to = own[p]
		}
		x := doseSide(r, &r.Doses[i], f)
		to.acid, to.fats = to.acid+x.acid, to.fats+x.fats
	}

	sum := base
	for _, p := range own {
		sum.acid, sum.fats = sum.acid+p.acid, sum.fats+p.fats
	}
	batch = 100 - 100*(alkali-sum.acid)/sum.fats
	for i := range r.Portions {
		share, p := r.Portions[i].BaseSharePct/100, own[r.Portions[i].ID]
		portions = append(portions, 100-100*(share*(alkali-base.acid)-p.acid)/(share*base.fats+p.fats))
	}
	if len(r.Portions) == 0 {
		portions = []float64{batch}
	}
	return batch, portions
}

// doseSide is what a weighed dose and its carrier take. Fat held back is weighed
// with the dose, so it counts where the dose goes.
func doseSide(r *engine.Recipe, d *engine.Dose, f *engine.Formulation) side {
	g, carrier := grams(f, d.ID), grams(f, d.ID+"/carrier")
	c := d.Carrier
	if c != nil && c.Premixed {
		g, carrier = g/(1+c.GPerG), g*c.GPerG/(1+c.GPerG)
	}
	acid, fats := takes(d.Custom)
	s := side{acid: g * acid, fats: g * fats}
	if c == nil || c.Water {
		return s
	}
	if c.Custom != nil {
		acid, fats = takes(c.Custom)
	} else {
		acid, fats = 0, carrierNeed(r, c)
	}
	return side{acid: s.acid + carrier*acid, fats: s.fats + carrier*fats}
}

// carrierNeed is the need of a gram of fat that carries a dose: of the line it is
// held back from, or of the fat beyond the recipe.
func carrierNeed(r *engine.Recipe, c *engine.Carrier) float64 {
	if !c.Extra && !c.Premixed {
		for i := range r.Fats {
			if r.Fats[i].ID == c.Fat {
				return needPerGram(&r.Fats[i])
			}
		}
	}
	return needPerGram(&engine.FatLine{Fat: c.Fat})
}
