package engine

import (
	"strconv"

	"lixivium.example/engine/settle"
)

// volumes writes the densities and volumes of jug, batter and portions.
func (s *sheet) volumes() {
	p, f := s.w.p, s.f
	if s.w.r.JugMass == 0 {
		return
	}
	s.total("jug.lye_g", "Lye in the jug, doses left out", "g", s.w.r.LyeMass+s.w.r.Plain+s.w.r.GrantJug, "alkali.material_g", "water.plain_g", "water.granted_jug_g")
	s.by(MethodTable, "jug.lye_density_g_per_ml", "Density of that lye at 25 °C", "g/mL", s.w.lyeDensity(), s.of("pure_g", "alkali.pure_g"), s.of("lye_g", "jug.lye_g"))
	s.put("totals.jug_ml", "Volume of that lye", "mL", float64(f.Totals.JugML), "mass / density", s.of("mass", "jug.lye_g"), s.of("density", "jug.lye_density_g_per_ml"))
	_, base, _, own := s.w.volumes()
	held := []string{"batch.fats_g"}
	ml := func(i int) string {
		d := &p.doses[i]
		rho := float64(d.adj.DensityGPerML)
		from := row("density", 1, "g/mL", "defaults/density_g_per_ml")
		switch {
		case d.carrierOf >= 0 && d.spec.Carrier.Fat != "":
			from = row("density", fatDensity, "g/mL", "defaults/fat_density_g_per_ml")
		case rho == 0:
			rho = 1
		case d.owned && d.carrierOf < 0:
			from = d.adjusted("density", rho, "g/mL", "density_g_per_ml")
		case rho != 1:
			from = d.adjusted("density", rho, "g/mL", "density_g_per_ml")
		}
		id := "doses." + d.id + ".ml"
		s.put(id, "Volume of "+lowerFirst(d.name), "mL", s.w.in.Doses[i].G/rho, "mass / density", s.of("mass", "doses."+d.id+".mass_g"), from)
		return id
	}
	baseIDs := []string{"totals.jug_ml", "batch.fats_ml"}
	var surface []string
	ownIDs := make([][]string, len(p.portions))
	for i := range p.doses {
		d, x := &p.doses[i], &s.w.in.Doses[i]
		switch {
		case x.OnSurface:
			surface = append(surface, ml(i))
			if d.heldBack >= 0 {
				held = append(held, "-doses."+d.id+".mass_g")
			}
		case d.portion != settle.Whole:
			ownIDs[d.portion] = append(ownIDs[d.portion], ml(i))
			ownIDs[d.portion] = append(ownIDs[d.portion], "water.share."+d.id+".granted_g")
			if d.heldBack >= 0 {
				held = append(held, "-doses."+d.id+".mass_g")
			}
		case d.heldBack >= 0:
		default:
			baseIDs = append(baseIDs, ml(i))
		}
	}
	left := s.w.r.F
	for _, id := range held[1:] {
		left -= s.lines[s.at[id[1:]]].Value
	}
	s.total("batch.pot_fats_g", "Recipe fats less what is held back", "g", left, held...)
	s.put("batch.fats_ml", "Volume of the fats at 25 °C", "mL", left/fatDensity, "mass / density", s.of("mass", "batch.pot_fats_g"), row("density", fatDensity, "g/mL", "defaults/fat_density_g_per_ml"))
	s.total("batch.base_ml", "Volume of the base batter", "mL", base, baseIDs...)
	all := append([]string{"batch.base_ml"}, surface...)
	for i := range p.portions {
		name := "portion." + s.portionName(i)
		all = append(all, ownIDs[i]...)
		s.total(name+".own_ml", "Volume of the portion's doses", "mL", own[i], ownIDs[i]...)
		s.put(name+".batter_ml", "Volume of the portion", "mL", float64(f.Portions[i].BatterML), "share * base + own", s.of("share", s.shareLine(i)), s.of("base", "batch.base_ml"), s.of("own", name+".own_ml"))
	}
	s.total("totals.batter_ml", "Volume of everything", "mL", float64(f.Totals.BatterML), all...)
	s.put("totals.density_g_per_ml", "Density", "g/mL", float64(f.Totals.Density), "mass / volume", s.of("mass", "batch.batter_g"), s.of("volume", "totals.batter_ml"))
}

// superfats writes the best estimates, and by method how sure they are.
func (s *sheet) superfats() {
	s.superfat("superfat.batch", &s.f.BatchSuperfat, "alkali.net_mol", "alkali.need_mol", settle.Whole, 1)
	for i := range s.w.p.portions {
		name := "portion." + s.portionName(i)
		portion, f := i, s.w.shares[i]
		alkali, need := name+".alkali_mol", name+".need_mol"
		if !s.w.ownFigures() {
			portion, f = settle.Whole, 1
		}
		s.superfat(name+".superfat", &s.f.Portions[i].Superfat, alkali, need, portion, f)
	}
	lowest := "portion." + s.portionName(s.w.r.Lowest) + ".superfat"
	for _, x := range []string{"superfat_pct", "standard_uncertainty_pct", "low95_pct", "high95_pct", "worst_pct", "lye_excess_probability_pct", "free_caustic_probability_pct", "dominated_share_pct"} {
		if s.has(lowest + "." + x) {
			l := s.lines[s.at[lowest+"."+x]]
			s.put("superfat."+x, l.Label+", of the portion that has least", "percent", l.Value, "lowest", s.of("lowest", l.ID))
		}
	}
}

// superfat writes one superfat. Its interval comes from the distribution of the
// inputs listed: half-widths in mol of alkali and of need.
func (s *sheet) superfat(base string, x *Superfat, alkali, need string, portion int, f float64) {
	s.put(base+".superfat_pct", "Superfat", "percent", float64(x.Pct), "100 * (1 - alkali / need)", s.of("alkali", alkali), s.of("need", need))
	inputs := []WorksheetInput{s.of("alkali", alkali), s.of("need", need)}
	inputs = append(inputs, s.unsure(portion, f)...)
	for _, m := range []struct {
		method, name, label string
		v                   float64
	}{
		{MethodPropagation, "standard_uncertainty_pct", "Standard uncertainty of the superfat", float64(x.UncertaintyPct)},
		{MethodDistribution, "low95_pct", "Low end of the 95 % interval", float64(x.LowPct)},
		{MethodDistribution, "high95_pct", "High end of the 95 % interval", float64(x.HighPct)},
		{MethodWorst, "worst_pct", "Every source at its worst end", float64(x.WorstPct)},
		{MethodDistribution, "lye_excess_probability_pct", "Probability that alkali is left over", float64(x.ExcessPct)},
		{MethodDistribution, "free_caustic_probability_pct", "Probability of more than 0.05 % of free caustic", float64(x.FreeCausticPct)},
		{MethodPropagation, "dominated_share_pct", "Share of the variance from: " + x.DominatedBy, float64(x.DominatedSharePct)},
	} {
		s.by(m.method, base+"."+m.name, m.label, "percent", m.v, inputs...)
	}
}

// unsure lists what the uncertainty of a portion reads: ends of values, purity
// half-widths, balance steps, strengths of additives.
func (s *sheet) unsure(portion int, f float64) []WorksheetInput {
	var m shareModel
	s.w.model(portion, f, &m)
	var out []WorksheetInput
	seen := map[string]bool{}
	add := func(in WorksheetInput) {
		key := in.LineID + in.RequestPath + in.DataRow + in.Adjustment
		if !seen[key] {
			seen[key] = true
			in.Name += "_" + strconv.Itoa(len(out)+1)
			out = append(out, in)
		}
	}
	for i := range s.w.p.lines {
		for j := range s.w.p.lines[i].parts {
			base := "fats." + s.w.p.lines[i].parts[j].id
			add(s.of("sv_low", base+".sv_low_mg_koh_per_g"))
			add(s.of("sv_high", base+".sv_high_mg_koh_per_g"))
		}
	}
	for k := range s.w.p.alkali {
		if a := &s.w.p.alkali[k]; a.used {
			add(s.halfWidth(k))
		}
	}
	for i := range s.w.p.balances {
		add(s.of("step", s.step(i)))
	}
	for i := range s.w.p.doses {
		d := &s.w.p.doses[i]
		if d.adj.AlkaliHalfMolPerG == 0 {
			continue
		}
		if d.owned {
			add(d.adjusted("half_width", d.adj.AlkaliHalfMolPerG, "mol/g", "alkali_half_width_mol_per_g"))
		} else {
			add(request("half_width", d.adj.AlkaliHalfMolPerG, "mol/g", d.path.at("custom.alkali_mol_per_g.half_width").String()))
		}
	}
	return out
}

// halfWidth is how far a purity may lie from the one in use.
func (s *sheet) halfWidth(k int) WorksheetInput {
	spec := [settle.Kinds]*AlkaliStock{s.w.p.recipe.Alkali.NaOH, s.w.p.recipe.Alkali.KOH}[k]
	name := alkaliField[k] + "_half_width"
	half := 100 * s.w.p.alkali[k].half
	if spec != nil && spec.HalfWidthPct.Set() {
		return request(name, half, "percent", "recipe.alkali."+alkaliField[k]+".half_width_pct")
	}
	if a := &s.w.p.alkali[k]; spec != nil && spec.Solution != nil && a.half == spec.Solution.readingHalf(kindOf[k], a.pure) {
		return row(name, half, "percent", "lye/"+alkaliField[k]+"_density_half_width")
	}
	return row(name, half, "percent", "defaults/"+alkaliField[k]+"_half_width_pct")
}
