package engine

import "strconv"

// worksheet is the reckoning of the implied superfat: it begins at the weighed
// masses, from the request where they were stated and from the plan otherwise.
func (rc *reconciler) worksheet(out *Reconciliation) []WorksheetLine {
	s := &sheet{w: rc.real, f: &Formulation{}, at: map[string]int{}, weighed: rc}
	s.values()
	s.stocks()
	for i := range rc.plan.WeighOut {
		s.weighedLine(i)
	}
	for i := range rc.w.p.doses {
		s.weighedDose(i)
	}
	s.alkali()
	s.sides()
	low := rc.real.r.Lowest
	s.portionSides(low)
	name := "portion." + s.portionName(low)
	s.put("superfat.superfat_pct", "Superfat that the weighed masses imply", "percent", float64(out.Superfat.Pct), "100 * (1 - alkali / need)", s.of("alkali", name+".alkali_mol"), s.of("need", name+".need_mol"))
	return s.lines
}

// weighedLine writes what was weighed on a line.
func (s *sheet) weighedLine(i int) {
	rc := s.weighed
	l := &rc.plan.WeighOut[i]
	id := "weigh." + l.LineID + ".weigh_g"
	n := rc.said[i]
	if n < 0 {
		s.put(id, l.Material+", as planned", "g", rc.actual[i], "planned", WorksheetInput{Name: "planned", Value: rc.actual[i], Unit: "g", RequestPath: "plan." + id})
		return
	}
	s.put(id, l.Material+", as weighed", "g", rc.actual[i], "weighed", request("weighed", rc.actual[i], "g", "actual["+strconv.Itoa(n)+"].mass"))
}

// weighedDose writes the grams of a dose from its weigh line.
func (s *sheet) weighedDose(i int) {
	d := &s.weighed.w.p.doses[i]
	g := s.w.in.Doses[i].G
	id, label := "doses."+d.id+".mass_g", upperFirst(d.name)
	switch {
	case d.carrierOf >= 0 && d.premixed:
		dose := s.weighed.w.p.doses[d.carrierOf].id
		s.total(id, label, "g", g, "weigh."+dose+".weigh_g", "-doses."+dose+".mass_g")
	case d.spec.Carrier != nil && d.spec.Carrier.Premixed && d.carrierOf < 0:
		s.put(id, label, "g", g, "all / (1 + per_g)", s.of("all", "weigh."+d.id+".weigh_g"), request("per_g", d.spec.Carrier.GPerG, "g/g", d.path.at("carrier.g_per_g_dose").String()))
	default:
		s.put(id, label, "g", g, "weighed", s.of("weighed", "weigh."+d.id+".weigh_g"))
	}
}
