package engine

import (
	"slices"
	"strconv"

	"lixivium.example/engine/settle"
)

// weighFats writes the part of each line that goes into the pot. Fat that doses
// hold back is taken off; with balances it is worked out from the recipe first.
func (s *sheet) weighFats() {
	p := s.w.p
	if s.rounded && s.anyHeld() {
		s.doseStage("plan.", "recipe.", s.planGrams())
	}
	prefix := "plan."
	if !s.rounded {
		// Without balances nothing changes between plan and weigh line.
		s.doseStage("doses.", "recipe.", s.w.doseG)
		prefix = "doses."
	}
	for i := range p.lines {
		l := &p.lines[i]
		ids := []string{"recipe." + l.id + ".mass_g"}
		for _, held := range s.heldOf(i) {
			ids = append(ids, "-"+prefix+held+".mass_g")
		}
		s.total("weigh."+l.id+".exact_g", l.name+" for the pot", "g", s.w.weigh.lines[i].exact, ids...)
		s.weight(l.id, l.name, s.w.weigh.lines[i])
		if s.rounded {
			ids[0] = "weigh." + l.id + ".weigh_g"
			for k := 1; k < len(ids); k++ {
				ids[k] = ids[k][1:]
			}
			g := s.w.weigh.lines[i].g
			for _, held := range s.heldOf(i) {
				g += s.lines[s.at["plan."+held+".mass_g"]].Value
			}
			s.total("regauged."+l.id+".mass_g", l.name+", rounded, from which doses are worked out", "g", g, ids...)
		}
	}
}

func (s *sheet) anyHeld() bool {
	return slices.ContainsFunc(s.w.p.doses, func(d planDose) bool { return d.heldBack >= 0 })
}

// heldOf are the ids of the doses that hold fat back from a line.
func (s *sheet) heldOf(line int) []string {
	var ids []string
	for i := range s.w.p.doses {
		if s.w.p.doses[i].heldBack == line {
			ids = append(ids, s.w.p.doses[i].id)
		}
	}
	return ids
}

// planGrams are the doses worked out from the recipe before rounding.
func (s *sheet) planGrams() []float64 {
	in := s.w.exactIn
	g := make([]float64, len(s.w.p.doses))
	in.Doses = nil
	in.Alkali.Fixed, in.Water.PlainFixed = s.w.p.given, false
	s.w.p.doseGrams(&in, g)
	return g
}

// doseStage writes the grams of every dose and carrier from the fats of one
// stage: prefix names the stage, fats the lines with the masses of the fats.
func (s *sheet) doseStage(prefix, fats string, g []float64) {
	p := s.w.p
	var ids []string
	sum := 0.0
	for i := range p.lines {
		ids = append(ids, fats+p.lines[i].id+".mass_g")
		sum += s.lines[s.at[ids[i]]].Value
	}
	s.total(prefix+"fats_g", "Recipe fats that doses refer to", "g", sum, ids...)
	later := false
	for i := range p.doses {
		if p.doses[i].spec.OfAskedWaterPct.Set() {
			later = true
			continue
		}
		s.doseGrams(prefix, i, g[i])
	}
	if !later {
		return
	}
	s.askedBeforeAcids(prefix, fats, g)
	for i := range p.doses {
		if p.doses[i].spec.OfAskedWaterPct.Set() {
			s.doseGrams(prefix, i, g[i])
		}
	}
}

// doseGrams writes the grams of one dose or carrier.
func (s *sheet) doseGrams(prefix string, i int, g float64) {
	d := &s.w.p.doses[i]
	id, label := prefix+d.id+".mass_g", upperFirst(d.name)
	if d.carrierOf >= 0 {
		parent := s.w.p.doses[d.carrierOf].id
		s.put(id, label, "g", g, "dose * per_g", s.of("dose", prefix+parent+".mass_g"), request("per_g", d.perG, "g/g", d.path.at("g_per_g_dose").String()))
		return
	}
	share := WorksheetInput{}
	expression := ""
	if s.w.p.shareOf(d) != 1 {
		share = s.portionShare(d.portion)
		expression = " * share"
	}
	with := func(list ...WorksheetInput) []WorksheetInput {
		if expression != "" {
			list = append(list, share)
		}
		return list
	}
	switch {
	case d.spec.Mass.Given():
		s.quantity(id, label, g, d.spec.Mass, d.path.at("mass"), WorksheetInput{})
	case d.spec.OfFatsPct.Set():
		s.put(id, label, "g", g, "fats"+expression+" * of_fats_pct / 100",
			with(s.of("fats", prefix+"fats_g"), request("of_fats_pct", d.spec.OfFatsPct.Or(0), "percent", d.path.at("of_fats_pct").String()))...)
	case d.spec.OfAskedWaterPct.Set():
		s.put(id, label, "g", g, "asked"+expression+" * of_asked_water_pct / 100",
			with(s.of("asked", prefix+"asked_before_acids_g"), request("of_asked_water_pct", d.spec.OfAskedWaterPct.Or(0), "percent", d.path.at("of_asked_water_pct").String()))...)
	default:
		spoons := d.path.at("spoons")
		inputs := []WorksheetInput{
			request("teaspoons", d.spec.Spoons.TeaspoonsUS, "teaspoons", spoons.at("teaspoons_us").String()),
			d.adjusted("per_teaspoon", d.perTsp, "g", "g_per_teaspoon_us"),
		}
		if !d.spec.Spoons.PerFats.Given() {
			s.put(id, label, "g", g, "teaspoons * per_teaspoon", inputs...)
			return
		}
		per := "doses." + d.id + ".per_fats_g"
		s.quantity(per, "Fats the teaspoons are for", float64(d.spec.Spoons.PerFats.Grams()), d.spec.Spoons.PerFats, spoons.at("per_fats"), WorksheetInput{})
		inputs = with(append(inputs, s.of("fats", prefix+"fats_g"), s.of("per_fats", per))...)
		s.put(id, label, "g", g, "teaspoons * per_teaspoon * (fats"+expression+") / per_fats", inputs...)
	}
}

// portionShare is the base share of a portion, a fraction, as an input.
func (s *sheet) portionShare(portion int) WorksheetInput {
	return s.of("share", s.shareLine(portion))
}

// shareLine writes the base share of a portion.
func (s *sheet) shareLine(portion int) string {
	id := "portion." + s.portionName(portion) + ".share"
	if s.has(id) {
		return id
	}
	list := s.w.p.recipe.Portions
	if len(list) == 0 {
		s.put(id, "Share of the base batter", "1", 1, "1")
		return id
	}
	expression := ""
	var inputs []WorksheetInput
	for i := range list {
		name := "s" + strconv.Itoa(i+1)
		if i > 0 {
			expression += " + "
		}
		expression += name
		inputs = append(inputs, request(name, list[i].BaseSharePct, "percent", element("recipe.portions", i).at("share_of_base_pct").String()))
	}
	s.put(id, "Share of the base batter", "1", s.w.shares[portion], inputs[portion].Name+" / ("+expression+")", inputs...)
	return id
}

// portionName is the id of a portion in line ids.
func (s *sheet) portionName(i int) string {
	if id := s.w.p.portions[i].id; id != "" {
		return id
	}
	return "all"
}

// askedBeforeAcids writes W0: the asked water when only the recipe fats take
// alkali.
func (s *sheet) askedBeforeAcids(prefix, fats string, g []float64) {
	p := s.w.p
	in := s.w.exactIn
	in.Lines = slices.Clone(in.Lines)
	var need, held [][2]string
	for i := range p.lines {
		in.Lines[i].G = s.lines[s.at[fats+p.lines[i].id+".mass_g"]].Value
		need = append(need, [2]string{fats + p.lines[i].id + ".mass_g", "line." + p.lines[i].id + ".need_mol_per_g"})
	}
	in.Alkali.Fixed, in.Water.PlainFixed = p.given, false
	early := slices.Clone(g)
	for i := range p.doses {
		if d := &p.doses[i]; d.spec.OfAskedWaterPct.Set() {
			early[i] = 0
		} else if d.heldBack >= 0 && (d.portion != settle.Whole || d.onSurface()) {
			held = append(held, [2]string{prefix + d.id + ".mass_g", "line." + p.lines[d.heldBack].id + ".need_mol_per_g"})
		}
	}
	in.Doses = p.settleDoses(early)
	asked := settle.AskedBeforeAcids(&in)
	in.Doses = nil
	r := settle.Settle(&in)
	id := prefix + "before_acids"
	if !p.given {
		h := 0.0
		for i := range p.doses {
			if d := &p.doses[i]; d.heldBack >= 0 && (d.portion != settle.Whole || d.onSurface()) && !d.spec.OfAskedWaterPct.Set() {
				h += float64(g[i] * p.lines[d.heldBack].need)
			}
		}
		s.products(id+".need_mol", "Need of the recipe fats", "mol", r.B, need)
		s.products(id+".held_mol", "Of that, held back for portions", "mol", h, held)
		mol := float64((r.B - h) * (1 - in.Alkali.Superfat))
		s.put(id+".alkali_mol", "Alkali if no dose took any", "mol", mol, "(need - held) * (1 - superfat_pct / 100)",
			s.of("need", id+".need_mol"), s.of("held", id+".held_mol"), s.superfatAsked())
		r.Mol = [settle.Kinds]float64{float64(mol * in.Alkali.Share[0]), float64(mol * in.Alkali.Share[1])}
	}
	weighed := 0.0
	expression := ""
	var inputs []WorksheetInput
	for k := range r.Mol {
		if !p.alkali[k].used {
			continue
		}
		name := alkaliField[k]
		weighed += float64(r.Mol[k] * in.Alkali.Stock[k].GPerMol)
		if expression != "" {
			expression += " + "
		}
		if p.given {
			expression += name + "_mol * " + name + "_g_per_mol"
			inputs = append(inputs, s.of(name+"_mol", s.givenMol(k)))
		} else {
			expression += "mol * " + name + "_share * " + name + "_g_per_mol"
			inputs = append(inputs, s.of(name+"_share", s.alkaliShare(k)))
		}
		inputs = append(inputs, s.of(name+"_g_per_mol", "alkali."+name+".g_per_mol"))
	}
	if !p.given {
		inputs = append(inputs, s.of("mol", id+".alkali_mol"))
	}
	s.put(id+".alkali_g", "The same as weighed", "g", weighed, expression, inputs...)
	s.askedWater(prefix+"asked_before_acids_g", "Asked water before acids", asked, id+".alkali_g", prefix+"fats_g")
}

// weighDoses writes what goes on a balance for each dose and carrier.
func (s *sheet) weighDoses() {
	p := s.w.p
	if s.rounded {
		s.roundedDoses()
		return
	}
	for i := range p.doses {
		d := &p.doses[i]
		if d.carrierOf >= 0 && d.premixed {
			continue
		}
		ids := []string{"doses." + d.id + ".mass_g"}
		if d.spec.Carrier != nil && d.spec.Carrier.Premixed {
			ids = append(ids, "doses."+d.id+"/carrier.mass_g")
		}
		s.total("weigh."+d.id+".exact_g", upperFirst(d.name), "g", s.w.weigh.doses[i].exact, ids...)
		s.weight(d.id, d.name, s.w.weigh.doses[i])
	}
}

// roundedDoses writes doses from the rounded fats, and carriers from the rounded
// doses.
func (s *sheet) roundedDoses() {
	p := s.w.p
	in := s.w.exactIn
	in.Lines = slices.Clone(in.Lines)
	for i := range p.lines {
		in.Lines[i].G = s.lines[s.at["regauged."+p.lines[i].id+".mass_g"]].Value
	}
	in.Doses, in.Alkali.Fixed, in.Water.PlainFixed = nil, p.given, false
	g := make([]float64, len(p.doses))
	p.doseGrams(&in, g)
	s.doseStage("regauged.", "regauged.", g)
	for i := range p.doses {
		d := &p.doses[i]
		x := s.w.weigh.doses[i]
		label := upperFirst(d.name)
		premixed := d.spec.Carrier != nil && d.spec.Carrier.Premixed
		switch {
		case d.carrierOf >= 0 && d.premixed:
			dose := p.doses[d.carrierOf].id
			s.total("doses."+d.id+".mass_g", label, "g", s.w.in.Doses[i].G, "weigh."+dose+".weigh_g", "-doses."+dose+".mass_g")
			continue
		case d.carrierOf >= 0:
			s.put("weigh."+d.id+".exact_g", label, "g", x.exact, "dose * per_g", s.of("dose", "doses."+p.doses[d.carrierOf].id+".mass_g"), request("per_g", d.perG, "g/g", d.path.at("g_per_g_dose").String()))
		case premixed:
			s.put("weigh."+d.id+".exact_g", label+" with its carrier", "g", x.exact, "dose * (1 + per_g)", s.of("dose", "regauged."+d.id+".mass_g"), request("per_g", d.spec.Carrier.GPerG, "g/g", d.path.at("carrier.g_per_g_dose").String()))
		default:
			s.put("weigh."+d.id+".exact_g", label, "g", x.exact, "exact", s.of("exact", "regauged."+d.id+".mass_g"))
		}
		s.weight(d.id, d.name, x)
		if premixed && d.carrierOf < 0 {
			s.put("doses."+d.id+".mass_g", label, "g", s.w.in.Doses[i].G, "all / (1 + per_g)", s.of("all", "weigh."+d.id+".weigh_g"), request("per_g", d.spec.Carrier.GPerG, "g/g", d.path.at("carrier.g_per_g_dose").String()))
			continue
		}
		s.put("doses."+d.id+".mass_g", label, "g", s.w.in.Doses[i].G, "weighed", s.of("weighed", "weigh."+d.id+".weigh_g"))
	}
}
