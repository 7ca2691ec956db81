package engine

import (
	"strconv"
	"strings"
)

// factor writes the largest of actual over planned, by the line it comes from.
func (s *sheet) factor() {
	rc := s.weighed
	const id, label = "factor", "Factor that every line is brought to"
	if rc.largestOf < 0 {
		s.put(id, label+": nothing is over", "1", rc.factor, "1")
		return
	}
	l := &rc.plan.WeighOut[rc.largestOf]
	from := label + ": from " + lowerFirst(l.Material)
	if k, ok := alkaliOf(l.LineID); ok {
		s.put(id, from, "1", rc.factor, "(actual - planned / all * acids) / (planned - planned / all * planned_acids)",
			append(s.netInputs(k), s.of("actual", "alkali."+alkaliField[k]+".mol"), s.of("acids", "alkali.acids_mol"))...)
		return
	}
	line := "weigh." + l.LineID + ".weigh_g"
	s.put(id, from, "1", rc.factor, "actual / planned", s.of("actual", line), s.of("planned", "plan."+line))
}

// netInputs are what the net alkali of the plan reads.
func (s *sheet) netInputs(k int) []WorksheetInput {
	return []WorksheetInput{
		s.of("planned", "plan.alkali."+alkaliField[k]+".mol"), s.of("all", "plan.alkali.total_mol"), s.of("planned_acids", "plan.alkali.acids_mol"),
	}
}

// corrections writes the way back, line by line, and where it leads. Alkali
// comes last: it is worked out from what the doses are brought to.
func (s *sheet) corrections(out *Reconciliation) {
	var targets []WorksheetInput
	each := func(alkali bool) {
		for i := range out.Corrections {
			x := &out.Corrections[i]
			k, ok := alkaliOf(x.LineID)
			if ok != alkali {
				continue
			}
			base := "corrections." + x.LineID
			s.put(base+".planned_g", x.Material+": the plan", "g", float64(x.PlannedG), "planned", s.of("planned", "plan.weigh."+x.LineID+".weigh_g"))
			s.put(base+".actual_g", x.Material+": weighed", "g", float64(x.ActualG), "weighed", s.of("weighed", "weigh."+x.LineID+".weigh_g"))
			if ok {
				s.alkaliTo(base, k)
			} else {
				s.put(base+".to_g", "That times the factor", "g", s.valueOf("factor")*float64(x.PlannedG), "factor * planned", s.of("factor", "factor"), s.of("planned", base+".planned_g"))
			}
			s.added(i, x, base)
			targets = append(targets, s.of("target_"+strconv.Itoa(i+1), base+".target_g"))
		}
	}
	each(false)
	each(true)
	s.by(MethodAgain, "corrected_superfat_pct", "Superfat once corrected", "percent", float64(out.CorrectedPct), targets...)
	for _, l := range s.lines {
		if of, ok := strings.CutPrefix(l.ID, "plan.superfat."); ok {
			s.put("planned_superfat."+of, l.Label, l.Unit, l.Value, "planned", s.of("planned", l.ID))
		}
	}
}

// added writes what is to be added to a line, as its balance can show it.
func (s *sheet) added(i int, x *Correction, base string) {
	rc := s.weighed
	exact := s.valueOf(base+".to_g") - float64(x.ActualG)
	label := x.Material + ": to add"
	switch step := rc.balanceOf(i); {
	case exact <= 0:
		s.put(base+".add_g", label+", none: there is enough", "g", 0, "0")
	case step < 0 && x.AddG == 0:
		s.put(base+".add_g", label+", none: too little to weigh", "g", 0, "0")
	default:
		s.put(base+".add_exact_g", label+", before rounding", "g", exact, "to - actual", s.of("to", base+".to_g"), s.of("actual", base+".actual_g"))
		if step < 0 {
			s.put(base+".add_g", label, "g", float64(x.AddG), "exact", s.of("exact", base+".add_exact_g"))
			break
		}
		s.by(MethodRounding, base+".add_g", label, "g", float64(x.AddG), s.of("exact", base+".add_exact_g"), s.of("step", s.step(step)))
	}
	s.put(base+".target_g", x.Material+": then there", "g", float64(x.TargetG), "actual + add", s.of("actual", base+".actual_g"), s.of("add", base+".add_g"))
}

// alkaliTo writes what an alkali is brought to: the factor times the plan's
// alkali for the fats, and its share of what acids take once the doses are right.
func (s *sheet) alkaliTo(base string, k int) {
	rc := s.weighed
	const acids = "corrections.acids_mol"
	var terms []string
	var inputs []WorksheetInput
	q := 0.0
	for i := range rc.w.p.doses {
		d, x := &rc.w.p.doses[i], &rc.fixed.in.Doses[i]
		if x.Acid == 0 || x.HeldBack >= 0 {
			continue
		}
		q += float64(x.G * x.Acid)
		n := strconv.Itoa(len(terms) + 1)
		term, line := "g"+n+" * per_g"+n, d.id
		switch {
		case d.spec.Carrier != nil && d.spec.Carrier.Premixed && d.carrierOf < 0:
			term += " / (1 + carrier" + n + ")"
			inputs = append(inputs, request("carrier"+n, d.spec.Carrier.GPerG, "g/g", d.path.at("carrier.g_per_g_dose").String()))
		case d.carrierOf >= 0 && d.premixed:
			line = rc.w.p.doses[d.carrierOf].id
			term += " * carrier" + n + " / (1 + carrier" + n + ")"
			inputs = append(inputs, request("carrier"+n, d.perG, "g/g", d.path.at("g_per_g_dose").String()))
		}
		terms = append(terms, term)
		inputs = append(inputs, s.of("g"+n, "corrections."+line+".target_g"), d.adjusted("per_g"+n, x.Acid, "mol/g", "alkali_mol_per_g"))
	}
	expression := strings.Join(terms, " + ")
	if expression == "" {
		expression = "0"
	}
	s.put(acids, "Alkali that acids take once the doses are right", "mol", q, expression, inputs...)
	share := rc.shares()
	mol := float64(rc.factor*net(rc.w.r, share, k)) + float64(share[k]*q)
	s.put(base+".to_g", "Alkali for the factor", "g", mol*rc.w.in.Alkali.Stock[k].MassGMol,
		"(factor * (planned - planned / all * planned_acids) + planned / all * acids) * balance",
		append(s.netInputs(k), s.of("factor", "factor"), s.of("acids", acids), s.of("balance", "alkali."+alkaliField[k]+".balance_g_per_mol"))...)
}

// valueOf is the value of a line that stands.
func (s *sheet) valueOf(id string) float64 { return s.lines[s.at[id]].Value }
