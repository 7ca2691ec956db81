package engine

import (
	"strconv"

	"lixivium.example/engine/settle"
	"lixivium.example/engine/unit"
)

// portions writes masses, free water, strength and superfat of each portion.
func (s *sheet) portions() {
	p, r := s.w.p, s.w.r
	base := []string{"batch.fats_g"}
	all := []string{"batch.base_g"}
	for i := range p.doses {
		d, x := &p.doses[i], &s.w.in.Doses[i]
		mass := "doses." + d.id + ".mass_g"
		switch {
		case d.heldBack >= 0 && (d.portion != settle.Whole || d.onSurface()):
			base = append(base, "-"+mass)
			all = append(all, mass)
		case x.OnSurface:
			all = append(all, mass)
		case d.heldBack >= 0:
		case d.portion != settle.Whole:
			all = append(all, mass)
			all = append(all, "water.share."+d.id+".granted_g")
		default:
			base = append(base, mass)
		}
	}
	s.total("batch.base_g", "Base batter", "g", r.Base, append(base, "alkali.material_g", "water.plain_g", "water.granted_jug_g")...)
	s.total("batch.batter_g", "Everything weighed", "g", r.Mass, all...)
	s.sides()
	s.baseWater()
	for i := range p.portions {
		s.portion(i)
	}
}

// sides writes the alkali left for the fats of the batch, and their need.
func (s *sheet) sides() {
	s.total("alkali.net_mol", "Alkali left for the fats", "mol", s.w.r.A-s.w.r.SumQ, "alkali.total_mol", "-alkali.acids_mol")
	s.total("alkali.need_mol", "Need of all fats", "mol", s.w.need(), "alkali.fats_need_mol", "-alkali.lacking_need_mol", "alkali.brought_need_mol")
}

// portionSides writes the same of a portion.
func (s *sheet) portionSides(i int) {
	name, x := "portion."+s.portionName(i), &s.w.r.Portions[i]
	share := s.shareLine(i)
	s.put(name+".alkali_mol", "Alkali left for the fats of the portion", "mol", x.Alkali, "share * (alkali - acids) - own",
		s.of("share", share), s.of("alkali", "alkali.total_mol"), s.of("acids", "alkali.acids_batch_mol"), s.of("own", name+".acids_mol"))
	s.put(name+".need_mol", "Need of the fats of the portion", "mol", x.Need, "share * (need - held + brought) + own_held + own_brought",
		s.of("share", share), s.of("need", "alkali.fats_need_mol"), s.of("held", "alkali.held_need_mol"), s.of("brought", "alkali.brought_batch_mol"),
		s.of("own_held", name+".held_need_mol"), s.of("own_brought", name+".brought_need_mol"))
}

// baseWater writes the water in the base batter.
func (s *sheet) baseWater() {
	p := s.w.p
	ids := []string{"water.plain_g", "water.granted_jug_g", "water.from_stock_g", "water.in_alkali_g"}
	var bound []string
	for i := range p.doses {
		if x := &s.w.in.Doses[i]; x.Portion == settle.Whole && !x.OnSurface && x.HeldBack < 0 {
			ids = append(ids, "water.share."+p.doses[i].id+".brought_g")
			bound = append(bound, "-water.share."+p.doses[i].id+".bound_g")
		}
	}
	v := 0.0
	for _, id := range ids {
		if s.has(id) {
			v += s.lines[s.at[id]].Value
		}
	}
	for _, id := range bound {
		if s.has(id[1:]) {
			v -= s.lines[s.at[id[1:]]].Value
		}
	}
	s.total("batch.base_water_g", "Water of the base batter less what it binds", "g", v, append(ids, bound...)...)
}

// portion writes one portion.
func (s *sheet) portion(i int) {
	p, r, name := s.w.p, s.w.r, "portion."+s.portionName(i)
	x := &r.Portions[i]
	share := s.shareLine(i)
	s.products(name+".base_g", "Base batter of the portion", "g", x.Base, [][2]string{{share, "batch.base_g"}})
	mass := []string{name + ".base_g"}
	var own []string
	for j := range p.doses {
		d := &s.w.in.Doses[j]
		if d.Portion != i || d.OnSurface {
			continue
		}
		id := p.doses[j].id
		mass = append(mass, "doses."+id+".mass_g")
		if d.HeldBack < 0 {
			own = append(own, "water.share."+id+".brought_g", "-water.share."+id+".bound_g")
		}
		mass = append(mass, "water.share."+id+".granted_g")
		own = append(own, "water.share."+id+".granted_g")
	}
	s.total(name+".batter_g", "The portion with its doses", "g", x.Mass, mass...)
	s.freeWater(i, name, share, own)
	if x.Strength > 0 {
		s.put(name+".batch_strength_pct", "Batch strength of the portion", "percent", float64(pct(x.Strength)), "100 * (share * dry / (share * dry + free))",
			s.of("share", share), s.of("dry", "alkali.dry_g"), s.of("free", name+".free_water_g"))
	}
	s.portionSides(i)
}

// freeWater writes the free water of a portion: its share of the base's, its own,
// and what acids form in it.
func (s *sheet) freeWater(i int, name, share string, own []string) {
	x := &s.w.r.Portions[i]
	if x.Free == 0 {
		s.put(name+".free_water_g", "Free water of the portion: none left", "g", 0, "0")
		return
	}
	base := float64(s.w.shares[i] * s.lines[s.at["batch.base_water_g"]].Value)
	v := 0.0
	for _, id := range own {
		sign := 1.0
		if id[0] == '-' {
			id, sign = id[1:], -1
		}
		if s.has(id) {
			v += float64(sign * s.lines[s.at[id]].Value)
		}
	}
	s.products(name+".base_water_g", "Its share of the base's water", "g", base, [][2]string{{share, "batch.base_water_g"}})
	s.total(name+".own_water_g", "Its own water less what it binds", "g", v, own...)
	formed := s.formedIn(i, name, share)
	s.total(name+".free_water_g", "Free water of the portion", "g", x.Free, name+".base_water_g", name+".own_water_g", formed)
}

// formedIn writes the water formed in a portion.
func (s *sheet) formedIn(i int, name, share string) string {
	p := s.w.p
	own, base := 0.0, 0.0
	var ownExpr, baseExpr string
	var inputs []WorksheetInput
	term := func(expr *string, sign, value string) {
		if *expr != "" || sign == "-" {
			*expr += " " + sign + " "
		}
		*expr += value
	}
	add := func(id string) string {
		n := "x" + strconv.Itoa(len(inputs)+1)
		inputs = append(inputs, s.of(n, id))
		return n
	}
	for j := range p.lines {
		if p.lines[j].free == 0 {
			continue
		}
		base += float64(s.w.in.Lines[j].G * p.lines[j].free)
		term(&baseExpr, "+", add("water.free_acid."+p.lines[j].id+"_mol"))
	}
	for j := range p.doses {
		d, x := &p.doses[j], &s.w.in.Doses[j]
		if d.heldBack >= 0 {
			if l := &p.lines[d.heldBack]; l.free > 0 && (d.portion != settle.Whole || d.onSurface()) {
				g := float64(x.G * l.free)
				product := add("doses."+d.id+".mass_g") + " * " + add("line."+l.id+".free_mol_per_g")
				base -= g
				term(&baseExpr, "-", product)
				if d.portion == i && !d.onSurface() {
					own += g
					term(&ownExpr, "+", product)
				}
			}
			continue
		}
		for _, id := range []string{"water.free_acid." + d.id + "_mol", "doses." + d.id + ".alkali_mol"} {
			if !s.has(id) || d.dry && id[0] == 'd' || x.OnSurface {
				continue
			}
			switch d.portion {
			case settle.Whole:
				base += s.lines[s.at[id]].Value
				term(&baseExpr, "+", add(id))
			case i:
				own += s.lines[s.at[id]].Value
				term(&ownExpr, "+", add(id))
			}
		}
	}
	expression := "0"
	if baseExpr != "" {
		expression = "share * (" + baseExpr + ")"
		inputs = append(inputs, s.of("share", share))
	}
	if ownExpr != "" {
		expression += " + " + ownExpr
	}
	v := float64(s.w.shares[i]*base) + own
	expression = "18.015 * (" + expression + ")"
	v *= unit.MolarMassWater
	if all := s.lines[s.at["water.acid_mol"]].Value; all > s.w.r.A {
		expression += " * alkali / acid" // never more than there is alkali
		inputs = append(inputs, s.of("alkali", "alkali.total_mol"), s.of("acid", "water.acid_mol"))
		v = v * s.w.r.A / all
	}
	id := name + ".formed_g"
	s.put(id, "Water formed in the portion", "g", v, expression, inputs...)
	return id
}
