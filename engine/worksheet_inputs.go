package engine

import (
	"strconv"

	"lixivium.example/engine/settle"
	"lixivium.example/engine/unit"
)

// quantity writes a stated amount as grams: by mass, or by volume through a
// density.
func (s *sheet) quantity(id, label string, grams float64, q Quantity, path where, density WorksheetInput) {
	amount := request("amount", q.Value, q.Unit.String(), path.at(q.Unit.String()).String())
	factor := q.Unit.row().factor
	expression := "amount"
	if factor != 1 {
		expression += " * " + strconv.FormatFloat(factor, 'f', -1, 64)
	}
	if q.IsVolume() {
		density.Name = "density"
		s.put(id, label, "g", grams, expression+" * density", amount, density)
		return
	}
	s.put(id, label, "g", grams, expression, amount)
}

// recipeMasses writes the masses of the fat lines as the recipe states them.
func (s *sheet) recipeMasses() {
	r, p := s.w.p.recipe, s.w.p
	byShare := r.TotalFats.Given()
	if byShare {
		s.quantity("recipe.total_fats_g", "Recipe fats as asked", float64(r.TotalFats.Grams()), r.TotalFats, in("recipe.total_fats"), WorksheetInput{})
		sum := 0.0
		var inputs []WorksheetInput
		expression := ""
		for i := range r.Fats {
			v := r.Fats[i].SharePct.Or(0)
			sum += v
			name := "s" + strconv.Itoa(i+1)
			if i > 0 {
				expression += " + "
			}
			expression += name
			inputs = append(inputs, request(name, v, "percent", element("recipe.fats", i).at("share_of_fats_pct").String()))
		}
		s.put("recipe.share_sum_pct", "Sum of the shares", "percent", sum, expression, inputs...)
	}
	for i := range p.lines {
		l, w := &p.lines[i], element("recipe.fats", i)
		id := "recipe." + l.id + ".mass_g"
		if byShare {
			s.put(id, l.name+", as asked", "g", l.grams, "total * share / sum", s.of("total", "recipe.total_fats_g"),
				request("share", r.Fats[i].SharePct.Or(0), "percent", w.at("share_of_fats_pct").String()), s.of("sum", "recipe.share_sum_pct"))
			continue
		}
		s.quantity(id, l.name+", as asked", l.grams, r.Fats[i].Mass, w.at("mass"), s.fatDensity(i))
	}
}

// fatDensity is the density that a volume of a line goes through.
func (s *sheet) fatDensity(i int) WorksheetInput {
	l := &s.w.p.recipe.Fats[i]
	if l.Custom != nil {
		return request("", l.Custom.DensityGPerML.Or(0), "g/mL", element("recipe.fats", i).at("custom.density_g_per_ml").String())
	}
	if pt := &s.w.p.lines[i].parts[0]; pt.row != nil && pt.row.Density != nil {
		return row("", float64(pt.row.Density.GramsPerML), "g/mL", "fats/"+pt.row.ID+"/density_g_per_ml")
	}
	return WorksheetInput{}
}

// values writes the saponification value in use of every fat with its range,
// and the need of every line per gram.
func (s *sheet) values() {
	for i := range s.w.p.lines {
		l := &s.w.p.lines[i]
		var need, free [][2]string
		for j := range l.parts {
			pt := &l.parts[j]
			s.value(pt, "fats."+pt.id)
			s.lineShare(i, j)
			s.put("fats."+pt.id+".need_mol_per_g", "Alkali need per gram of "+lowerFirst(pt.name), "mol/g", molPerG(pt.sv), "sv / (1000 * 56.1056)", s.of("sv", "fats."+pt.id+".sv_mg_koh_per_g"))
			pair := [2]string{"fats." + pt.id + ".share", "fats." + pt.id + ".need_mol_per_g"}
			need = append(need, pair)
			if pt.free {
				free = append(free, pair)
			}
		}
		s.products("line."+l.id+".need_mol_per_g", "Alkali need per gram of the line "+l.id, "mol/g", l.need, need)
		if l.free > 0 {
			s.products("line."+l.id+".free_mol_per_g", "Of that, free acid", "mol/g", l.free, free)
		}
	}
}

// lineShare writes the share of a fat in its line: 1, or that of a premix.
func (s *sheet) lineShare(i, j int) {
	pt := &s.w.p.lines[i].parts[j]
	id := "fats." + pt.id + ".share"
	m := s.w.p.recipe.Fats[i].Premix
	if m == nil {
		s.put(id, "Share of its line", "1", 1, "1")
		return
	}
	sum, expression := 0.0, ""
	inputs := []WorksheetInput{}
	for k := range m.Fats {
		v := m.Fats[k].SharePct.Or(0)
		sum += v
		name := "s" + strconv.Itoa(k+1)
		if k > 0 {
			expression += " + "
		}
		expression += name
		inputs = append(inputs, request(name, v, "percent", element(element("recipe.fats", i).at("premix.fats").String(), k).at("share_of_fats_pct").String()))
	}
	s.put(id, "Share of the premix", "1", pt.share, inputs[j].Name+" / ("+expression+")", inputs...)
}

// value writes one fat's value in use, its range, and its upper bound.
func (s *sheet) value(pt *planPart, base string) {
	const unitSV = "mg KOH/g"
	field, label := "sv", "Saponification value of "
	if pt.row != nil && pt.row.CountsAtAcidValue() {
		field, label = "acid_value", "Acid value of "
	}
	label += lowerFirst(pt.name)
	sv := row("sv", pt.sv, unitSV, "")
	if pt.path != "" {
		sv = request("sv", pt.sv, unitSV, pt.path)
	} else {
		sv.DataRow = "fats/" + pt.row.ID + "/" + field + "_mg_koh_per_g"
	}
	id := base + ".sv_mg_koh_per_g"
	s.backed(pt.evidence, id, label, unitSV, pt.sv, "sv", sv)
	end := func(name, word string, v, plain float64, sign string) {
		lid := base + "." + name
		switch {
		case v == plain:
			s.put(lid, label+", "+word+" end", unitSV, v, "sv "+sign+" 3", s.of("sv", id))
		case pt.path != "":
			half := pt.high - pt.sv
			s.put(lid, label+", "+word+" end", unitSV, v, "sv "+sign+" half_width", s.of("sv", id), request("half_width", half, unitSV, halfWidthPath(pt.path)))
		case v == 0:
			s.put(lid, label+", "+word+" end", unitSV, 0, "0")
		default:
			s.put(lid, label+", "+word+" end", unitSV, v, "range_end", row("range_end", v, unitSV, "fats/"+pt.row.ID+"/"+field+"_"+word))
		}
	}
	end("sv_low_mg_koh_per_g", "low", pt.low, pt.sv-leastSVHalfWidth, "-")
	end("sv_high_mg_koh_per_g", "high", pt.high, pt.sv+leastSVHalfWidth, "+")
	if pt.extra > 0 {
		s.upperBound(pt, base+".sv_upper_bound_extra_mg_koh_per_g", label+": what more it might take", s.of("sv", id))
	}
}

// upperBound writes what a wax might take beyond its acid value if it reacted
// fully: by the table, or by its certificate.
func (s *sheet) upperBound(pt *planPart, id, label string, sv WorksheetInput) {
	const unitSV = "mg KOH/g"
	if pt.bound.path == "" {
		s.put(id, label, unitSV, pt.extra, "highest - sv", row("highest", float64(pt.row.SV.Max), unitSV, "fats/"+pt.row.ID+"/sv_high"), sv)
		return
	}
	certificate := request("certificate", pt.bound.value, unitSV, pt.bound.path+".value")
	if pt.bound.halfStated {
		s.put(id, label, unitSV, pt.extra, "certificate + half_width - sv", certificate, request("half_width", pt.bound.half, unitSV, pt.bound.path+".half_width"), sv)
		return
	}
	s.put(id, label, unitSV, pt.extra, "certificate + 1 - sv", certificate, sv)
}

// halfWidthPath is the half-width beside a value.
func halfWidthPath(path string) string { return path[:len(path)-len("value")] + "half_width" }

// stocks writes purity or strength of each alkali and the grams per mol that go
// on the balance.
func (s *sheet) stocks() {
	for k := range s.w.p.alkali {
		a := &s.w.p.alkali[k]
		if !a.used {
			continue
		}
		name, st := alkaliField[k], &s.w.in.Alkali.Stock[k]
		id := "alkali." + name
		s.purity(k, id)
		m := strconv.FormatFloat(st.PureGMol, 'f', -1, 64)
		s.put(id+".balance_g_per_mol", a.name+" on the balance per mol", "g/mol", st.MassGMol, m+" / pure", s.of("pure", id+".pure"))
		if a.solution {
			s.put(id+".g_per_mol", a.name+", what counts as alkali per mol", "g/mol", st.GPerMol, m)
			s.waterOfStock(k, id)
			continue
		}
		s.put(id+".g_per_mol", a.name+" as weighed per mol", "g/mol", st.GPerMol, "balance", s.of("balance", id+".balance_g_per_mol"))
		if st.OwnGMol != 0 {
			s.put(id+".own_water_g_per_mol", "Water that solid potash holds, per mol", "g/mol", st.OwnGMol, "balance - "+m, s.of("balance", id+".balance_g_per_mol"))
		}
	}
}

// purity writes the fraction of pure hydroxide.
func (s *sheet) purity(k int, id string) {
	a := &s.w.p.alkali[k]
	spec := [settle.Kinds]*AlkaliStock{s.w.p.recipe.Alkali.NaOH, s.w.p.recipe.Alkali.KOH}[k]
	label := "Pure hydroxide in " + lowerFirst(a.name) + ", fraction"
	switch {
	case spec != nil && spec.PurityPct.Set():
		s.put(id+".pure", label, "1", a.pure, "purity_pct / 100", request("purity_pct", spec.PurityPct.Or(0), "percent", a.path))
	case spec != nil && spec.Made != nil:
		s.madePurity(k, id, spec, label)
	case spec != nil && spec.Solution != nil && spec.Solution.MassPct.Set():
		s.put(id+".pure", label, "1", a.pure, "mass_pct / 100", request("mass_pct", spec.Solution.MassPct.Or(0), "percent", a.path+".mass_pct"))
	case spec != nil && spec.Solution != nil:
		s.by(MethodTable, id+".pure", label, "1", a.pure, request("temperature_c", spec.Solution.TemperatureC.Or(0), "degC", a.path+".temperature_c"), s.reading(spec.Solution, a.path))
	default:
		s.put(id+".pure", label, "1", a.pure, "purity_pct / 100", s.defaultOf(k, "purity", s.unstated(), 100*a.pure).named("purity_pct"))
	}
	s.lines[s.at[id+".pure"]].Evidence = a.evidence()
}

// evidence of a purity or strength.
func (a *planAlkali) evidence() Evidence {
	if a.stated {
		return Evidence{Basis: FromCaller, Source: "stated with the recipe"}
	}
	return Evidence{Basis: CommonPractice, Source: "not stated; lower limits of E 524 and E 525 (Regulation (EU) 231/2012, from memory) and encyclopedia figures for commercial potash"}
}

// reading is the stated form of a solution's strength.
func (s *sheet) reading(x *SolutionStrength, path string) WorksheetInput {
	for _, form := range []struct {
		v           Optional
		field, unit string
	}{
		{x.DensityGPerML, "density_g_per_ml", "g/mL"}, {x.MolPerL, "mol_per_l", "mol/L"},
		{x.DegreesBaume, "degrees_baume", "degBe"}, {x.DegreesTwaddell, "degrees_twaddell", "degTw"},
	} {
		if v, ok := form.v.Get(); ok {
			return request(form.field, v, form.unit, path+"."+form.field)
		}
	}
	return WorksheetInput{}
}

// madePurity writes the strength of a stock from what it was made of.
func (s *sheet) madePurity(k int, id string, spec *AlkaliStock, label string) {
	a, m := &s.w.p.alkali[k], spec.Made
	w := in("recipe.alkali").at(alkaliField[k])
	s.quantity(id+".made_solid_g", "Solid in the stock", float64(m.Solid.Grams()), m.Solid, w.at("made.solid"), WorksheetInput{})
	water := float64(m.Water.Grams())
	if m.Water.IsVolume() {
		water = float64(float64(m.Water.Milliliters()) * waterDensity)
	}
	s.quantity(id+".made_water_g", "Water in the stock", water, m.Water, w.at("made.water"), row("", waterDensity, "g/mL", "defaults/water_density_g_per_ml"))
	ids := []string{id + ".made_solid_g", id + ".made_water_g"}
	for i := range spec.AlsoHolds {
		h := &spec.AlsoHolds[i]
		if h.Mass.Given() {
			hid := id + ".made_content_" + strconv.Itoa(i+1) + "_g"
			s.quantity(hid, h.Name+" in the stock", float64(h.Mass.Grams()), h.Mass, element(w.at("also_holds").String(), i).at("mass"), WorksheetInput{})
			ids = append(ids, hid)
		}
	}
	s.total(id+".made_g", "The stock", "g", a.madeG, ids...)
	purity, _ := unstatedPurity(k, s.w.p.judged())
	from := s.defaultOf(k, "purity", s.unstated(), 100*purity).named("purity_pct")
	if v, ok := m.PurityPct.Get(); ok {
		from = request("purity_pct", v, "percent", w.at("made.purity_pct").String())
	}
	s.put(id+".pure", label, "1", a.pure, "solid * (purity_pct / 100) / stock", s.of("solid", id+".made_solid_g"), from, s.of("stock", id+".made_g"))
}

// waterOfStock writes the grams of water per mol of a stock.
func (s *sheet) waterOfStock(k int, id string) {
	a, st := &s.w.p.alkali[k], &s.w.in.Alkali.Stock[k]
	spec := [settle.Kinds]*AlkaliStock{s.w.p.recipe.Alkali.NaOH, s.w.p.recipe.Alkali.KOH}[k]
	label := "Water in the stock, fraction"
	inputs := []WorksheetInput{s.of("pure", id+".pure")}
	expression := "1 - pure"
	if spec.Made != nil {
		expression = "water / stock"
		inputs = []WorksheetInput{s.of("water", id+".made_water_g"), s.of("stock", id+".made_g")}
		if k == settle.KOH {
			// what is not pure potash in the solid is water
			expression += " + solid / stock - pure"
			inputs = append(inputs, s.of("solid", id+".made_solid_g"), s.of("pure", id+".pure"))
		}
	}
	for i := range spec.AlsoHolds {
		if v, ok := spec.AlsoHolds[i].OfStockPct.Get(); ok {
			name := "content_" + strconv.Itoa(i+1)
			expression += " - " + name + " / 100"
			inputs = append(inputs, request(name, v, "percent", element(in("recipe.alkali").at(alkaliField[k]).at("also_holds").String(), i).at("of_stock_pct").String()))
		}
	}
	s.put(id+".water", label, "1", a.water, expression, inputs...)
	s.put(id+".stock_water_g_per_mol", "Stock water per mol", "g/mol", st.WaterGMol, "balance * water", s.of("balance", id+".balance_g_per_mol"), s.of("water", id+".water"))
}

// pctOf writes a share of two lines as percent.
func (s *sheet) pctOf(id, label string, value unit.Percent, part, whole string) {
	if !s.has(part) || !s.has(whole) || value == 0 {
		return
	}
	s.put(id, label, "percent", float64(value), "100 * part / whole", s.of("part", part), s.of("whole", whole))
}
