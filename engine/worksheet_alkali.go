package engine

import (
	"strconv"

	"lixivium.example/engine/settle"
	"lixivium.example/engine/unit"
)

// alkali writes need, acids, and the alkali of the batch.
func (s *sheet) alkali() {
	p, r := s.w.p, s.w.r
	var masses []string
	var need [][2]string
	for i := range p.lines {
		id := p.lines[i].id
		mass := "fats." + id + ".mass_g"
		if len(p.lines[i].parts) > 1 || p.lines[i].parts[0].id != id {
			mass = "line." + id + ".mass_g"
		}
		ids := []string{"weigh." + id + ".weigh_g"}
		for _, held := range s.heldOf(i) {
			ids = append(ids, "doses."+held+".mass_g")
		}
		s.total(mass, p.lines[i].name+", in all", "g", s.w.in.Lines[i].G, ids...)
		masses = append(masses, mass)
		need = append(need, [2]string{mass, "line." + id + ".need_mol_per_g"})
		for j := range p.lines[i].parts {
			pt := &p.lines[i].parts[j]
			s.products("fats."+pt.id+".mass_g", pt.name, "g", float64(s.w.in.Lines[i].G*pt.share), [][2]string{{mass, "fats." + pt.id + ".share"}})
		}
	}
	s.total("batch.fats_g", "Recipe fats", "g", r.F, masses...)
	s.products("alkali.fats_need_mol", "Alkali need of the recipe fats", "mol", r.B, need)
	s.doseNeeds()
	if !p.given && s.weighed == nil {
		s.asked()
	}
	s.kinds()
	s.alkaliShares()
}

// doseNeeds writes what each dose takes and the sums over batch and portions.
func (s *sheet) doseNeeds() {
	p, r := s.w.p, s.w.r
	type sums struct{ q, b, held []string }
	batch, all := sums{}, sums{}
	var addedQ, addedB, held, lacking []string
	own := make([]sums, len(p.portions))
	for i := range p.doses {
		d, x := &p.doses[i], &s.w.in.Doses[i]
		base, mass := "doses."+d.id, "doses."+d.id+".mass_g"
		if d.heldBack >= 0 {
			if d.portion != settle.Whole || d.onSurface() {
				s.products(base+".held_need_mol", "Need of what is held back: "+lowerFirst(d.name), "mol", float64(x.G*p.lines[d.heldBack].need), [][2]string{{mass, "line." + p.lines[d.heldBack].id + ".need_mol_per_g"}})
				held = append(held, base+".held_need_mol")
				if d.onSurface() {
					lacking = append(lacking, base+".held_need_mol")
				} else {
					own[d.portion].held = append(own[d.portion].held, base+".held_need_mol")
				}
			}
			continue
		}
		if x.Acid != 0 {
			s.put(base+".alkali_mol", "Alkali that "+lowerFirst(d.name)+" takes", "mol", float64(x.G*x.Acid), "mass * per_g", s.of("mass", mass), d.adjusted("per_g", x.Acid, "mol/g", "alkali_mol_per_g"))
			s.lines[s.at[base+".alkali_mol"]].Evidence = d.adj.Evidence
		}
		if x.Need != 0 {
			s.broughtNeed(i, base, mass)
		}
		q, b := base+".alkali_mol", base+".fats_need_mol"
		all.q, all.b = append(all.q, q), append(all.b, b)
		if d.portion != settle.Whole {
			own[d.portion].q, own[d.portion].b = append(own[d.portion].q, q), append(own[d.portion].b, b)
			continue
		}
		batch.q, batch.b = append(batch.q, q), append(batch.b, b)
		if d.added {
			addedQ, addedB = append(addedQ, q), append(addedB, b)
		}
	}
	s.total("alkali.held_need_mol", "Need of fat held back for portions and surface", "mol", r.H, held...)
	s.total("alkali.lacking_need_mol", "Of that, for the surface", "mol", r.Lacking, lacking...)
	s.total("alkali.acids_mol", "Alkali that acids take", "mol", r.SumQ, all.q...)
	s.total("alkali.brought_need_mol", "Need of fats that doses bring", "mol", r.SumB, all.b...)
	s.total("alkali.acids_batch_mol", "Of the acids, in whole-batch doses", "mol", r.SumQBatch, batch.q...)
	s.total("alkali.brought_batch_mol", "Of the brought fats, in whole-batch doses", "mol", r.SumBBatch, batch.b...)
	s.total("alkali.acids_added_mol", "Acids whose alkali is added", "mol", r.SumQAdded, addedQ...)
	s.total("alkali.brought_added_mol", "Brought fats whose alkali is added", "mol", r.SumBAdded, addedB...)
	for i := range own {
		name := "portion." + s.portionName(i)
		q, b, h := s.ownSums(i)
		s.total(name+".acids_mol", "Alkali that acids of the portion take", "mol", q, own[i].q...)
		s.total(name+".brought_need_mol", "Need of fats brought into the portion", "mol", b, own[i].b...)
		s.total(name+".held_need_mol", "Need of fat held back for the portion", "mol", h, own[i].held...)
	}
}

// ownSums are the acids, brought fats and held-back need of a portion, mol.
func (s *sheet) ownSums(portion int) (q, b, held float64) {
	for i := range s.w.in.Doses {
		d := &s.w.in.Doses[i]
		switch {
		case d.Portion != portion || d.OnSurface:
		case d.HeldBack >= 0:
			held += float64(d.G * s.w.in.Lines[d.HeldBack].Need)
		default:
			q += float64(d.G * d.Acid)
			b += float64(d.G * d.Need)
		}
	}
	return q, b, held
}

// broughtNeed writes the need of the fats one dose brings.
func (s *sheet) broughtNeed(i int, base, mass string) {
	d, x := &s.w.p.doses[i], &s.w.in.Doses[i]
	expression := ""
	var inputs []WorksheetInput
	for j := range d.fats {
		f := &d.fats[j]
		n := strconv.Itoa(j + 1)
		sv := "fats." + f.part.row.ID + "@" + d.id
		s.value(&f.part, sv)
		if j > 0 {
			expression += " + "
		}
		expression += "per_g" + n + " * (sv" + n + " / (1000 * 56.1056))"
		inputs = append(inputs, d.adjusted("per_g"+n, f.perG, "g/g", "fat_g_per_g."+f.part.row.ID), s.of("sv"+n, sv+".sv_mg_koh_per_g"))
	}
	s.put(base+".need_mol_per_g", "Need of the fats in one gram of "+lowerFirst(d.name), "mol/g", x.Need, expression, inputs...)
	s.products(base+".fats_need_mol", "Need of the fats that "+lowerFirst(d.name)+" brings", "mol", float64(x.G*x.Need), [][2]string{{mass, base + ".need_mol_per_g"}})
}

// superfatAsked is the asked superfat as an input.
func (s *sheet) superfatAsked() WorksheetInput {
	return request("superfat_pct", s.w.p.recipe.Alkali.SuperfatPct.Or(0), "percent", "recipe.alkali.superfat_pct")
}

// asked writes A = (B - H + sum_K b)(1 - s) + sum_K q.
func (s *sheet) asked() {
	r := s.w.r
	a := float64((r.B-r.H+r.SumBAdded)*(1-s.w.in.Alkali.Superfat)) + r.SumQAdded
	s.put("alkali.asked_mol", "Alkali for the asked superfat", "mol", a, "(need - held + brought) * (1 - superfat_pct / 100) + acids",
		s.of("need", "alkali.fats_need_mol"), s.of("held", "alkali.held_need_mol"), s.of("brought", "alkali.brought_added_mol"),
		s.superfatAsked(), s.of("acids", "alkali.acids_added_mol"))
}

// alkaliShare writes the share of the mol that a kind gives.
func (s *sheet) alkaliShare(k int) string {
	id := "alkali." + alkaliField[k] + ".share"
	if s.has(id) {
		return id
	}
	a := &s.w.p.recipe.Alkali
	koh, expression := "0", ""
	var inputs []WorksheetInput
	if v, ok := a.KOHOfMolesPct.Get(); ok {
		koh, inputs = "koh / 100", []WorksheetInput{request("koh", v, "percent", "recipe.alkali.koh_of_moles_pct")}
	}
	if v, ok := a.KOHOfGramsPct.Get(); ok {
		koh = "(koh / 100 / koh_g_per_mol) / ((1 - koh / 100) / naoh_g_per_mol + koh / 100 / koh_g_per_mol)"
		inputs = []WorksheetInput{request("koh", v, "percent", "recipe.alkali.koh_of_grams_pct"), s.gPerMol(settle.NaOH), s.gPerMol(settle.KOH)}
	}
	expression = koh
	if k == settle.NaOH {
		expression = "1 - " + koh
	}
	s.put(id, "Share of the mol from "+lowerFirst(alkaliName[k]), "1", s.w.p.alkali[k].share, expression, inputs...)
	return id
}

// gPerMol is the grams as weighed per mol, also of an alkali that the batch does
// not use.
func (s *sheet) gPerMol(k int) WorksheetInput {
	id := "alkali." + alkaliField[k] + ".g_per_mol"
	if s.has(id) {
		return s.of(alkaliField[k]+"_g_per_mol", id)
	}
	return row(alkaliField[k]+"_g_per_mol", s.w.in.Alkali.Stock[k].GPerMol, "g/mol", "defaults/"+alkaliField[k]+"_g_per_mol")
}

// givenMol writes the alkali of a judged recipe.
func (s *sheet) givenMol(k int) string {
	id := "alkali." + alkaliField[k] + ".given_mol"
	if s.has(id) {
		return id
	}
	g := s.w.p.recipe.Alkali.Given
	q := [settle.Kinds]Quantity{g.NaOH, g.KOH}[k]
	a := &s.w.p.alkali[k]
	m := kindOf[k].MolarMass()
	grams := a.mol * m / a.pure
	gid := "alkali." + alkaliField[k] + ".given_g"
	s.quantity(gid, a.name+", as given", grams, q, in("recipe.alkali.given").at(alkaliField[k]), row("", grams/max(float64(q.Milliliters()), 1e-300), "g/mL", "lye/"+alkaliField[k]+"_density"))
	s.put(id, a.name+", as given", "mol", a.mol, "mass * pure / "+strconv.FormatFloat(m, 'f', -1, 64), s.of("mass", gid), s.of("pure", "alkali."+alkaliField[k]+".pure"))
	return id
}

// kinds writes what goes on the balance of each alkali and what that is.
func (s *sheet) kinds() {
	p, r := s.w.p, s.w.r
	var mols, weighed [][2]string
	var sum []string
	for k := range r.Mol {
		if !p.alkali[k].used {
			continue
		}
		name, st, x := alkaliField[k], &s.w.in.Alkali.Stock[k], s.w.weigh.alkali[k]
		base, label := "alkali."+name, p.alkali[k].name
		per := base + ".balance_g_per_mol"
		switch {
		case s.weighed != nil: // the balance has spoken
		case p.given:
			s.products("weigh."+name+".exact_g", label, "g", x.exact, [][2]string{{s.givenMol(k), per}})
			s.weight(name, label, x)
		default:
			s.put("weigh."+name+".exact_g", label, "g", x.exact, "mol * share * per_mol", s.of("mol", "alkali.asked_mol"), s.of("share", s.alkaliShare(k)), s.of("per_mol", per))
			s.weight(name, label, x)
		}
		s.put(base+".mol", label, "mol", r.Mol[k], "weighed / per_mol", s.of("weighed", "weigh."+name+".weigh_g"), s.of("per_mol", per))
		s.products(base+"_g", label+", what counts as alkali", "g", float64(r.Mol[k]*st.GPerMol), [][2]string{{base + ".mol", base + ".g_per_mol"}})
		s.put(base+"_pure_g", label+", pure", "g", float64(r.Mol[k]*st.PureGMol), "mol * "+strconv.FormatFloat(st.PureGMol, 'f', -1, 64), s.of("mol", base+".mol"))
		if p.alkali[k].solution {
			s.products(base+"_stock_g", label, "g", float64(r.Mol[k]*st.MassGMol), [][2]string{{base + ".mol", per}})
		}
		s.put(base+"_purity_pct", label+": purity or strength", "percent", float64(pct(p.alkali[k].pure)), "100 * pure", s.of("pure", base+".pure"))
		mols = append(mols, [2]string{base + ".mol", base + ".balance_g_per_mol"})
		weighed = append(weighed, [2]string{base + ".mol", base + ".g_per_mol"})
		sum = append(sum, base+".mol")
	}
	s.total("alkali.total_mol", "Alkali in all", "mol", r.A, sum...)
	s.products("alkali.weighed_g", "What counts as alkali", "g", r.Weighed, weighed)
	s.products("alkali.material_g", "Alkali material on the balance", "g", r.LyeMass, mols)
}

// alkaliShares writes both shares of potassium hydroxide.
func (s *sheet) alkaliShares() {
	r := s.w.r
	if r.Mol[settle.KOH] == 0 {
		return
	}
	s.pctOf("alkali.koh_of_moles_pct", "Potassium hydroxide of the mol", unit.PercentOf(r.Mol[settle.KOH], r.A), "alkali.koh.mol", "alkali.total_mol")
	s.pctOf("alkali.koh_of_grams_pct", "Potassium hydroxide of the grams", s.f.Alkali.KOHOfGramsPct, "alkali.koh_g", "alkali.weighed_g")
}
