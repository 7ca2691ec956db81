package engine

import (
	"strings"

	"lixivium.example/engine/settle"
)

// worksheet is the reckoning of a reconciliation: first what the plan says, its
// lines under "plan.", then the weighed masses, from the request where they were
// stated and from the plan otherwise, then the superfat they imply and the way
// back to the plan.
func (rc *reconciler) worksheet(out *Reconciliation) []WorksheetLine {
	s := &sheet{w: rc.real, f: &Formulation{Findings: out.Findings}, at: map[string]int{}, weighed: rc}
	s.planned()
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
	name, portion, f := "portion."+s.portionName(low), low, rc.real.shares[low]
	if !rc.real.ownFigures() {
		portion, f = settle.Whole, 1
	}
	s.superfat("superfat", &out.Superfat, name+".alkali_mol", name+".need_mol", portion, f)
	s.factor()
	s.corrections(out)
	s.findings()
	return s.lines
}

// planned takes over the lines of the plan that its weights and its superfat
// rest on.
func (s *sheet) planned() {
	plan := s.weighed.plan.Worksheet
	needed := map[string]bool{}
	for i := range s.weighed.plan.WeighOut {
		needed["weigh."+s.weighed.plan.WeighOut[i].LineID+".weigh_g"] = true
	}
	for _, k := range alkaliField {
		needed["alkali."+k+".mol"] = true
	}
	needed["alkali.total_mol"], needed["alkali.acids_mol"] = true, true
	for i := len(plan) - 1; i >= 0; i-- {
		if of, ok := strings.CutPrefix(plan[i].ID, "superfat."); ok && !strings.Contains(of, ".") {
			needed[plan[i].ID] = true
		}
		if !needed[plan[i].ID] {
			continue
		}
		for _, in := range plan[i].Inputs {
			needed[in.LineID] = true
		}
	}
	for _, l := range plan {
		if !needed[l.ID] {
			continue
		}
		inputs := make([]WorksheetInput, len(l.Inputs))
		for i, in := range l.Inputs {
			if in.LineID != "" {
				in.LineID = "plan." + in.LineID
			}
			inputs[i] = in
		}
		l.ID, l.Label, l.Inputs = "plan."+l.ID, "Plan: "+lowerFirst(l.Label), inputs
		s.add(l)
	}
}

// weighedLine writes what was weighed on a line.
func (s *sheet) weighedLine(i int) {
	rc := s.weighed
	l := &rc.plan.WeighOut[i]
	id := "weigh." + l.LineID + ".weigh_g"
	n := rc.said[i]
	if n < 0 {
		s.put(id, l.Material+", as planned", "g", rc.actual[i], "planned", s.of("planned", "plan."+id))
		return
	}
	s.quantity(id, l.Material+", as weighed", rc.actual[i], rc.stated[n].Mass, element("actual", n).at("mass"), WorksheetInput{})
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
