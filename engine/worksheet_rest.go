package engine

import (
	"strconv"
	"strings"
)

// rest writes shares, hints, factors and the superfat under other assumptions.
func (s *sheet) rest() {
	w, f := s.w, s.f
	for i := range f.Fats {
		a := &f.Fats[i]
		base := "fats." + a.LineID
		s.pctOf(base+".share_of_fats_pct", a.Name+" of the recipe fats", a.SharePct, base+".mass_g", "batch.fats_g")
		s.products(base+".need_mol", "Alkali need of "+lowerFirst(a.Name), "mol", float64(a.NeedMol), [][2]string{{base + ".mass_g", base + ".need_mol_per_g"}})
	}
	for i := range w.p.doses {
		s.dose(i)
	}
	s.factors()
	s.assumptions()
}

// dose writes what is left to say of a dose.
func (s *sheet) dose(i int) {
	d, x := &s.w.p.doses[i], &s.w.in.Doses[i]
	base := "doses." + d.id
	if d.carrierOf < 0 && x.G > 0 {
		s.put(base+".of_fats_pct", upperFirst(d.name)+" of the recipe fats", "percent", 100*x.G/s.w.r.F, "100 * mass / fats", s.of("mass", base+".mass_g"), s.of("fats", "batch.fats_g"))
	}
	if d.perTsp > 0 && d.carrierOf < 0 {
		s.put(base+".teaspoons_us", upperFirst(d.name)+" in level teaspoons", "teaspoons", x.G/d.perTsp, "mass / per_teaspoon", s.of("mass", base+".mass_g"), d.adjusted("per_teaspoon", d.perTsp, "g", "g_per_teaspoon_us"))
	}
}

// factors writes the factors that additives bring, and their heat.
func (s *sheet) factors() {
	w := s.w
	product, heat := "1", "0"
	var factors, heats []WorksheetInput
	band := func(d *planDose, id, name string, b Band, e Evidence) {
		for _, end := range []struct {
			word string
			v    float64
		}{{"low", b.Low}, {"typical", b.Typical}, {"high", b.High}} {
			from := WorksheetInput{Name: "factor", Value: end.v, Unit: "1", Adjustment: id + "/" + name + "." + end.word}
			s.backed(e, "behavior."+name+"."+id+"."+end.word, strings.ReplaceAll(name, "_", " ")+" of "+id+", "+end.word, "1", end.v, "factor", from)
		}
	}
	for i := range w.p.doses {
		d := &w.p.doses[i]
		if d.adj.TraceTime.Typical != 0 {
			band(d, d.id, "trace_time_factor", d.adj.TraceTime, d.adj.Evidence)
			n := "f" + strconv.Itoa(len(factors)+1)
			product += " * " + n
			factors = append(factors, s.of(n, "behavior.trace_time_factor."+d.id+".typical"))
		}
		if d.adj.Firmness.Typical != 0 {
			band(d, d.id, "firmness_factor", d.adj.Firmness, d.adj.Evidence)
		}
		if d.adj.HeatJPerG != 0 {
			n := strconv.Itoa(len(heats)/2 + 1)
			heat += " + m" + n + " * h" + n
			heats = append(heats, s.of("m"+n, "doses."+d.id+".mass_g"), d.adjusted("h"+n, d.adj.HeatJPerG, "J/g", "heat_j_per_g"))
		}
	}
	for _, x := range w.p.fatFactors {
		if x.TraceTime.Typical != 0 {
			band(nil, x.Fat, "trace_time_factor", x.TraceTime, x.Evidence)
			n := "f" + strconv.Itoa(len(factors)+1)
			product += " * " + n
			factors = append(factors, s.of(n, "behavior.trace_time_factor."+x.Fat+".typical"))
		}
		if x.Firmness.Typical != 0 {
			band(nil, x.Fat, "firmness_factor", x.Firmness, x.Evidence)
		}
	}
	s.put("behavior.trace_time_factor", "Product of the factors on trace time", "1", s.f.Behavior.TraceTimeFactor, product, factors...)
	if len(heats) > 0 {
		s.put("behavior.additive_heat_j", "Heat of additives", "J", s.f.Behavior.AdditiveHeatJ, heat, heats...)
	}
}

// inID makes a part of a line id of the name of a figure.
var inID = strings.NewReplacer(" %", "_pct", " ", "_")

// assumptions writes the superfat of the batch under other purities and with
// waxes that react fully.
func (s *sheet) assumptions() {
	var extra [][2]string
	for i := range s.f.Fats {
		base := "fats." + s.f.Fats[i].LineID
		extra = append(extra, [2]string{base + ".mass_g", base + ".sv_upper_bound_extra_mg_koh_per_g"})
	}
	for _, x := range s.f.SuperfatIf {
		id := "superfat_if." + inID.Replace(x.Name)
		alkali, need := s.of("alkali", "alkali.net_mol"), s.of("need", "alkali.need_mol")
		if x.Name == "waxes react fully" {
			v := 0.0
			for _, f := range s.f.Fats {
				v += float64(float64(f.MassG) * float64(f.SVUpperBoundExtra))
			}
			s.products("superfat_if.wax_mg_koh", "What waxes may take beyond their acid value", "mg KOH", v, extra)
			s.put(id, "Superfat if "+x.Name, "percent", x.Value, "100 - 100 * alkali / (need + wax / (1000 * 56.1056))", alkali, need, s.of("wax", "superfat_if.wax_mg_koh"))
			continue
		}
		kind, purity, _ := strings.Cut(strings.TrimSuffix(x.Name, " %"), " ")
		p, _ := strconv.ParseFloat(purity, 64)
		s.put(id, "Superfat if "+x.Name, "percent", x.Value, "100 - 100 * (alkali + mol * (other_pct / 100 - pure) / pure) / need",
			alkali, s.of("mol", "alkali."+kind+".mol"), row("other_pct", p, "percent", "defaults/"+kind+"_other_purity_"+purity+"_pct"), s.of("pure", "alkali."+kind+".pure"), need)
	}
}

// findings writes the numbers of findings and of the effects of their remedies.
// Most repeat a line; the rest are worked out by looking at the batch once more.
func (s *sheet) findings() {
	known := map[float64]string{}
	for i := range s.lines {
		if _, ok := known[s.lines[i].Value]; !ok {
			known[s.lines[i].Value] = s.lines[i].ID
		}
	}
	write := func(f *Finding, suffix string, x Figure, method string) {
		id := "findings." + f.Code + "." + strings.Join(append([]string{inID.Replace(x.Name)}, f.Subjects...), ".") + suffix
		if from, ok := known[x.Value]; ok {
			s.put(id, f.Code+": "+strings.ReplaceAll(x.Name, "_", " "), x.Unit, x.Value, "same", s.of("same", from))
			return
		}
		s.by(method, id, f.Code+": "+strings.ReplaceAll(x.Name, "_", " "), x.Unit, x.Value, s.of("alkali", "alkali.total_mol"), s.of("need", "alkali.need_mol"), s.of("fats", "batch.fats_g"))
	}
	for i := range s.f.Findings {
		f := &s.f.Findings[i]
		for _, x := range f.Numbers {
			write(f, "", x, MethodFinding)
		}
		for j := range f.Remedies {
			r := &f.Remedies[j]
			n := ".remedy" + strconv.Itoa(j+1)
			for _, x := range r.Effect {
				write(f, n+".effect", x, MethodAgain)
			}
			if v, ok := r.SuperfatPct.Get(); ok {
				write(f, n, Figure{"superfat_pct", v, "percent"}, MethodAgain)
			}
			if r.Water != nil && r.Water.Measure != nil && r.Water.Measure.Mass.Given() {
				write(f, n, Figure{"water_g", float64(r.Water.Measure.Mass.Grams()), "g"}, MethodFinding)
			}
		}
	}
}
