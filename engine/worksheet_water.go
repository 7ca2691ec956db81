package engine

import (
	"strconv"
	"strings"

	"lixivium.example/engine/settle"
	"lixivium.example/engine/unit"
)

// askedWater writes the asked water from alkali as weighed and fats.
func (s *sheet) askedWater(id, label string, value float64, alkali, fats string) {
	r := s.w.p.recipe.Water
	if r == nil {
		return
	}
	m, path := r.Measure, in("recipe.water.measure")
	keep := ""
	var inputs []WorksheetInput
	if r.Discount != nil {
		m, path = r.Discount.Reference, in("recipe.water.discount.reference")
		keep = " * (1 - off_pct / 100)"
		inputs = append(inputs, request("off_pct", r.Discount.OffPct, "percent", "recipe.water.discount.off_pct"))
	}
	switch s.w.p.water.Ask {
	case settle.AskGrams:
		s.quantity("recipe.water_g", "Water as stated", s.w.p.water.Value, m.Mass, path.at("mass"), row("", waterDensity, "g/mL", "defaults/water_density_g_per_ml"))
		s.put(id, label, "g", value, "water"+keep, append(inputs, s.of("water", "recipe.water_g"))...)
	case settle.AskConcentration:
		v := m.LyeConcentrationPct.Or(0)
		s.put(id, label, "g", value, "alkali * (1 - concentration_pct / 100) / (concentration_pct / 100)"+keep,
			append(inputs, s.of("alkali", alkali), request("concentration_pct", v, "percent", path.at("lye_concentration_pct").String()))...)
	case settle.AskRatio:
		s.put(id, label, "g", value, "alkali * ratio"+keep,
			append(inputs, s.of("alkali", alkali), request("ratio", m.WaterPerAlkali.Or(0), "g/g", path.at("water_per_alkali_ratio").String()))...)
	case settle.AskOfFats:
		s.put(id, label, "g", value, "fats * (of_fats_pct / 100)"+keep,
			append(inputs, s.of("fats", fats), request("of_fats_pct", m.OfFatsPct.Or(0), "percent", path.at("water_of_fats_pct").String()))...)
	}
}

// water writes what is asked, brought, formed, bound and free.
func (s *sheet) water() {
	p, r := s.w.p, s.w.r
	s.askedWater("water.asked_g", "Asked water", r.Asked, "alkali.weighed_g", "batch.fats_g")
	var stock, own [][2]string
	for k := range p.alkali {
		id := "alkali." + alkaliField[k]
		stock = append(stock, [2]string{id + ".mol", id + ".stock_water_g_per_mol"})
		own = append(own, [2]string{id + ".mol", id + ".own_water_g_per_mol"})
	}
	s.products("water.from_stock_g", "Water of the stock", "g", r.Stock, stock)
	s.products("water.in_alkali_g", "Water that solid potash holds", "g", r.Own, own)
	for k := range p.alkali {
		id := "alkali." + alkaliField[k]
		st := &s.w.in.Alkali.Stock[k]
		if b := float64(r.Mol[k] * (st.WaterGMol + st.OwnGMol)); p.alkali[k].used && b > 0 {
			s.products("water.share."+alkaliField[k]+".brought_g", "Water in "+lowerFirst(p.alkali[k].name), "g", b,
				[][2]string{{id + ".mol", id + ".stock_water_g_per_mol"}, {id + ".mol", id + ".own_water_g_per_mol"}})
		}
	}
	var fromRecipe, onTop, brought, bound, requested []string
	for i := range p.doses {
		d, x := &p.doses[i], &s.w.in.Doses[i]
		base, mass := "water.share."+d.id, "doses."+d.id+".mass_g"
		one := func(name, label, field string, perG float64, lists ...*[]string) {
			if perG == 0 {
				return
			}
			id := base + "." + name
			s.put(id, label+" "+lowerFirst(d.name), "g", float64(x.G*perG), "mass * per_g", s.of("mass", mass), d.adjusted("per_g", perG, "g/g", field))
			for _, l := range lists {
				*l = append(*l, id)
			}
		}
		source := &onTop
		if x.FromRecipe {
			source = &fromRecipe
		}
		one("brought_g", "Water brought by", "water_g_per_g", x.Water, &brought, source)
		one("bound_g", "Water bound by", "bound_water_g_per_g", x.Bound, &bound)
		one("requested_g", "Water requested by", "requested_water_g_per_g", x.Requested, &requested)
	}
	s.total("water.from_recipe_g", "Water of liquids that counts from the asked water", "g", s.fromRecipe(), fromRecipe...)
	s.total("water.brought_g", "Water that doses bring", "g", r.Brought, brought...)
	s.total("water.requested_g", "Water that doses request", "g", r.Request, requested...)
	granted, jug := s.granted()
	s.total("water.granted_g", "Of that, granted", "g", r.Granted, granted...)
	s.total("water.granted_jug_g", "Of that, into the jug", "g", r.GrantJug, jug...)
	s.plain()
	s.total("water.on_top_g", "Beyond the asked water", "g", r.OnTop, append(onTop, "water.granted_g")...)
	s.formed()
	s.total("water.total_g", "Water in all", "g", r.Total, "water.plain_g", "water.from_stock_g", "water.in_alkali_g", "water.brought_g", "water.formed_g", "water.granted_g")
	s.total("water.bound_g", "Water bound", "g", r.Bound, bound...)
	s.positive("water.free_g", "Free water", r.Free, "water.total_g", "-water.bound_g")
}

// granted writes the water that each dose is granted: into the jug for doses of
// the whole batch, weighed on its own for those of a portion.
func (s *sheet) granted() (all, jug []string) {
	for i := range s.w.p.doses {
		d, x := &s.w.p.doses[i], &s.w.in.Doses[i]
		if x.Granted == 0 {
			continue
		}
		id, requested := "water.share."+d.id+".granted_g", "water.share."+d.id+".requested_g"
		label := "Water granted to " + lowerFirst(d.name)
		all = append(all, id)
		if d.portion == settle.Whole {
			s.put(id, label, "g", x.Granted, "requested", s.of("requested", requested))
			jug = append(jug, id)
			continue
		}
		line := d.id + "/water"
		if s.weighed == nil {
			s.put("weigh."+line+".exact_g", label, "g", s.w.weigh.grants[i].exact, "requested", s.of("requested", requested))
			s.weight(line, label, s.w.weigh.grants[i])
		}
		s.put(id, label, "g", x.Granted, "weighed", s.of("weighed", "weigh."+line+".weigh_g"))
	}
	return all, jug
}

// positive is a sum that is never below zero.
func (s *sheet) positive(id, label string, value float64, ids ...string) {
	if value == 0 {
		s.put(id, label+": none left", "g", 0, "0")
		return
	}
	s.total(id, label, "g", value, ids...)
}

func (s *sheet) fromRecipe() float64 {
	g := 0.0
	for i := range s.w.in.Doses {
		if d := &s.w.in.Doses[i]; d.FromRecipe && d.HeldBack < 0 {
			g += float64(d.G * d.Water)
		}
	}
	return g
}

// plain writes the plain water of the jug, exact and as weighed.
func (s *sheet) plain() {
	r, x := s.w.r, s.w.weigh.water
	exact := x.exact - r.GrantJug
	switch {
	case x.exact == 0:
		s.put("water.plain_g", "Plain water for the jug: none", "g", 0, "0")
		return
	case exact == 0:
		s.put("water.plain_exact_g", "Plain water for the jug: none left", "g", 0, "0")
	default:
		s.total("water.plain_exact_g", "Plain water for the jug", "g", exact, "water.asked_g", "-water.from_stock_g", "-water.from_recipe_g")
	}
	s.total("weigh.water.exact_g", "Water for the jug, granted requests included", "g", x.exact, "water.plain_exact_g", "water.granted_jug_g")
	s.weight(lineWater, "Water", x)
	s.total("water.plain_g", "Plain water for the jug", "g", r.Plain, "weigh.water.weigh_g", "-water.granted_jug_g")
}

// formed writes 18.015 g per mol of alkali that an acid takes.
func (s *sheet) formed() {
	p, r := s.w.p, s.w.r
	var acids []string
	for i := range p.lines {
		if p.lines[i].free == 0 {
			continue
		}
		id := p.lines[i].id
		mass := "fats." + id + ".mass_g"
		if !s.has(mass) {
			mass = "line." + id + ".mass_g"
		}
		s.products("water.free_acid."+id+"_mol", "Free acid of "+lowerFirst(p.lines[i].name), "mol", float64(s.w.in.Lines[i].G*p.lines[i].free), [][2]string{{mass, "line." + id + ".free_mol_per_g"}})
		acids = append(acids, "water.free_acid."+id+"_mol")
	}
	for i := range p.doses {
		d, x := &p.doses[i], &s.w.in.Doses[i]
		if d.heldBack >= 0 || x.OnSurface {
			continue
		}
		if x.Free != 0 {
			id := "water.free_acid." + d.id + "_mol"
			s.freeBrought(i, id)
			acids = append(acids, id)
		}
		if !d.dry && x.Acid != 0 {
			acids = append(acids, "doses."+d.id+".alkali_mol")
		}
		if g := x.WaterFormingMol(); g > 0 {
			var ids []string
			if !d.dry {
				ids = append(ids, "doses."+d.id+".alkali_mol")
			}
			ids = append(ids, "water.free_acid."+d.id+"_mol")
			s.total("water.share."+d.id+".acid_mol", "Acid of "+lowerFirst(d.name), "mol", g, ids...)
			s.put("water.share."+d.id+".formed_g", "Water formed by "+lowerFirst(d.name), "g", g*unit.MolarMassWater, "acid * 18.015", s.of("acid", "water.share."+d.id+".acid_mol"))
		}
	}
	all := 0.0
	for _, id := range acids {
		all += s.lines[s.at[id]].Value
	}
	s.total("water.acid_mol", "Acid that forms water", "mol", all, acids...)
	from := "water.acid_mol"
	if all > r.A {
		from = "alkali.total_mol" // never more than there is alkali
	}
	s.put("water.formed_g", "Water formed", "g", r.Formed, "acid * 18.015", s.of("acid", from))
}

// freeBrought writes the free acid in the fats that a dose brings.
func (s *sheet) freeBrought(i int, id string) {
	d, x := &s.w.p.doses[i], &s.w.in.Doses[i]
	var terms []string
	inputs := []WorksheetInput{s.of("mass", "doses."+d.id+".mass_g")}
	for j := range d.fats {
		f := &d.fats[j]
		if !f.part.free {
			continue
		}
		n := strconv.Itoa(j + 1)
		terms = append(terms, "per_g"+n+" * (sv"+n+" / (1000 * 56.1056))")
		inputs = append(inputs, d.adjusted("per_g"+n, f.perG, "g/g", "fat_g_per_g."+f.part.row.ID), s.of("sv"+n, "fats."+f.part.row.ID+"@"+d.id+".sv_mg_koh_per_g"))
	}
	s.put(id, "Free acid brought by "+lowerFirst(d.name), "mol", float64(x.G*x.Free), "mass * ("+strings.Join(terms, " + ")+")", inputs...)
}

// jug writes what is in the jug, and the strengths.
func (s *sheet) jug() {
	r, f := s.w.r, s.f
	ids := []string{"alkali.material_g", "water.plain_g", "water.granted_jug_g"}
	for i := range s.w.p.doses {
		if s.w.in.Doses[i].BeforeLye && s.w.in.Doses[i].HeldBack < 0 {
			ids = append(ids, "doses."+s.w.p.doses[i].id+".mass_g")
		}
	}
	s.total("jug.mass_g", "All that is in the jug when the alkali dissolves", "g", r.JugMass, ids...)
	s.total("alkali.pure_g", "Pure alkali", "g", r.JugPure[0]+r.JugPure[1], "alkali.naoh_pure_g", "alkali.koh_pure_g")
	s.total("alkali.dry_g", "Alkali without the water it holds", "g", r.Dry, "alkali.weighed_g", "-water.in_alkali_g")
	s.pctOf("water.jug_strength_pct", "Jug strength", f.Water.JugStrengthPct, "alkali.weighed_g", "jug.mass_g")
	s.pctOf("water.jug_pure_pct", "Pure alkali in the jug", f.Water.JugPurePct, "alkali.pure_g", "jug.mass_g")
	sum := func(id, label string, v float64, parts ...string) string {
		s.total(id, label, "g", v, parts...)
		return id
	}
	s.pctOf("water.batch_strength_pct", "Batch strength", f.Water.BatchStrengthPct, "alkali.dry_g", sum("batch.dry_and_free_g", "Alkali and free water", r.Dry+r.Free, "alkali.dry_g", "water.free_g"))
	if r.Asked > 0 {
		s.pctOf("water.lye_concentration_pct", "Asked water as lye concentration", f.Water.LyeConcentrationPct, "alkali.weighed_g", sum("batch.alkali_and_asked_g", "Alkali and asked water", r.Weighed+r.Asked, "alkali.weighed_g", "water.asked_g"))
		s.put("water.water_per_alkali_ratio", "Asked water per gram of alkali", "g/g", f.Water.PerAlkaliRatio, "water / alkali", s.of("water", "water.asked_g"), s.of("alkali", "alkali.weighed_g"))
		s.pctOf("water.water_of_fats_pct", "Asked water of the fats", f.Water.OfFatsPct, "water.asked_g", "batch.fats_g")
	} else if f.Water.LyeConcentrationPct > 0 {
		s.put("water.lye_concentration_pct", "No water asked: alkali alone", "percent", float64(f.Water.LyeConcentrationPct), "100")
	}
	if f.Alkali.LyeEndC != 0 {
		start := row("start_c", 20, "degC", "defaults/water_c")
		if v, ok := s.w.p.recipe.Process.WaterC.Get(); ok {
			start = request("start_c", v, "degC", "recipe.process.water_c")
		}
		s.by(MethodTable, "alkali.lye_end_c", "Temperature the lye may reach", "degC", float64(f.Alkali.LyeEndC), s.of("jug_pure_pct", "water.jug_pure_pct"), start)
	}
}
