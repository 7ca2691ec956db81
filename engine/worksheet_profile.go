package engine

import (
	"strconv"
	"strings"

	"lixivium.example/engine/fat"
)

// profile writes the fatty acids.
func (s *sheet) profile() {
	f := &s.f.Profile
	parts := s.acidParts()
	var known, unsap, all []string
	for _, x := range parts {
		all = append(all, x.mass)
		if len(x.part.acids) > 0 {
			known = append(known, x.mass)
		}
		if x.part.unsap > 0 {
			id := "profile." + x.id + ".unsaponifiable_g"
			s.put(id, "Unsaponifiable matter of "+lowerFirst(x.part.name)+", at most", "g", x.g*x.part.unsap/100, "mass * at_most_pct / 100", s.of("mass", x.mass), row("at_most_pct", x.part.unsap, "percent", "fats/"+x.part.row.ID+"/unsaponifiable_max_pct"))
			unsap = append(unsap, id)
		}
	}
	sum := func(id, label, unit string, ids []string) string {
		v := 0.0
		for _, i := range ids {
			v += s.lines[s.at[i]].Value
		}
		s.total(id, label, unit, v, ids...)
		return id
	}
	sum("profile.fats_g", "All fats", "g", all)
	sum("profile.known_g", "Fats whose fatty acids are known", "g", known)
	if len(unsap) > 0 {
		s.pctOf("profile.unsaponifiable_max_pct", "Unsaponifiable matter, at most", f.UnsaponifiableMaxPct, sum("profile.unsaponifiable_g", "Unsaponifiable matter, at most", "g", unsap), "profile.fats_g")
	}
	if len(known) == 0 {
		return
	}
	s.pctOf("profile.known_of_fats_pct", "Fats whose fatty acids are known", f.KnownOfFatsPct, "profile.known_g", "profile.fats_g")
	s.compositions(parts)
	s.acidAmounts(parts)
}

// acidPart is a fat with the line that holds its mass.
type acidPart struct {
	id, mass, sv string
	part         *planPart
	g            float64
}

// acidParts are the recipe fats and what doses bring.
func (s *sheet) acidParts() []acidPart {
	var out []acidPart
	for i := range s.w.p.lines {
		for j := range s.w.p.lines[i].parts {
			pt := &s.w.p.lines[i].parts[j]
			out = append(out, acidPart{pt.id, "fats." + pt.id + ".mass_g", "fats." + pt.id + ".sv_mg_koh_per_g", pt, float64(s.w.in.Lines[i].G * pt.share)})
		}
	}
	for i := range s.w.p.doses {
		d := &s.w.p.doses[i]
		if d.onSurface() {
			continue
		}
		for j := range d.fats {
			b := &d.fats[j]
			id := b.part.row.ID + "@" + d.id
			g := float64(s.w.in.Doses[i].G * b.perG)
			mass := "fats." + id + ".mass_g"
			s.put(mass, b.part.name+" in "+lowerFirst(d.name), "g", g, "mass * per_g", s.of("mass", "doses."+d.id+".mass_g"), d.adjusted("per_g", b.perG, "g/g", "fat_g_per_g."+b.part.row.ID))
			out = append(out, acidPart{id, mass, "fats." + id + ".sv_mg_koh_per_g", &b.part, g})
		}
	}
	return out
}

// compositions writes what the fatty acids of each fat give, and the means.
func (s *sheet) compositions(parts []acidPart) {
	f := &s.f.Profile
	var sv, use, iv [][2]string
	for _, x := range parts {
		if len(x.part.acids) == 0 {
			continue
		}
		base, name := "profile."+x.id, lowerFirst(x.part.name)
		moles := 0.0
		var mol, iodine []string
		var inputs []WorksheetInput
		for n, a := range x.part.acids {
			moles += float64(a.Pct) / acids[a.Acid].MolarMass
			p := "p" + strconv.Itoa(n+1)
			m := strconv.FormatFloat(acids[a.Acid].MolarMass, 'f', -1, 64)
			factor := acids[a.Acid].IVTriglyceride
			if x.part.free {
				factor = acids[a.Acid].IVFreeAcid
			}
			mol = append(mol, p+" / "+m)
			iodine = append(iodine, p+" * "+strconv.FormatFloat(factor, 'f', -1, 64))
			inputs = append(inputs, x.pct(p, a))
		}
		s.put(base+".acid_mol_per_100g", "Mol of fatty acid in 100 g of the acids of "+name, "mol", moles, strings.Join(mol, " + "), inputs...)
		glycerol := "(100 + mol * (92.094 - 3 * 18.015) / 3)"
		if x.part.free {
			glycerol = "100"
		}
		csv := x.part.acidsSV
		s.put(base+".calculated_sv_mg_koh_per_g", "Saponification value of "+name+" from its fatty acids", "mg KOH/g", csv, "1000 * 56.1056 * mol / "+glycerol, s.of("mol", base+".acid_mol_per_100g"))
		s.put(base+".calculated_iodine_value", "Iodine value of "+name+" from its fatty acids", "g/100 g", x.part.acidsIV, strings.Join(iodine, " + "), inputs...)
		s.put(base+".acid_mol", "Fatty acid from "+name, "mol", float64(x.g*molPerG(csv)), "mass * sv / (1000 * 56.1056)", s.of("mass", x.mass), s.of("sv", base+".calculated_sv_mg_koh_per_g"))
		sv = append(sv, [2]string{x.mass, base + ".calculated_sv_mg_koh_per_g"})
		use = append(use, [2]string{x.mass, x.sv})
		iv = append(iv, [2]string{x.mass, base + ".calculated_iodine_value"})
	}
	mean := func(id, label, unit string, v float64, pairs [][2]string) {
		total := v * s.lines[s.at["profile.known_g"]].Value
		s.products(id+"_times_mass", label+", times mass", unit+" g", total, pairs)
		s.put(id, label, unit, v, "total / mass", s.of("total", id+"_times_mass"), s.of("mass", "profile.known_g"))
	}
	mean("profile.calculated_sv_mg_koh_per_g", "Saponification value from the fatty acids", "mg KOH/g", float64(f.CalculatedSV), sv)
	mean("profile.sv_in_use_mg_koh_per_g", "Saponification value in use", "mg KOH/g", float64(f.SVInUse), use)
	mean("profile.calculated_iodine_value", "Iodine value from the fatty acids", "g/100 g", f.CalculatedIV, iv)
}

// pct is the share of a fatty acid in a fat.
func (x *acidPart) pct(name string, a fat.Share) WorksheetInput {
	id := acids[a.Acid].ID
	if x.part.row != nil {
		return row(name, float64(a.Pct), "percent", "fatty_acids/"+x.part.row.ID+"/"+id)
	}
	return request(name, float64(a.Pct), "percent", strings.TrimSuffix(x.part.path, "sv_mg_koh_per_g.value")+"fatty_acid_pct."+id)
}

// acidAmounts writes mol, mass and share of every fatty acid and group.
func (s *sheet) acidAmounts(parts []acidPart) {
	f := &s.f.Profile
	var masses []string
	byGroup := map[string][2][]string{}
	for _, a := range f.Acids {
		index, _ := fat.AcidIndex(a.Acid)
		var terms []string
		var inputs []WorksheetInput
		for _, x := range parts {
			for _, c := range x.part.acids {
				if c.Acid != index {
					continue
				}
				n := strconv.Itoa(len(terms) + 1)
				terms = append(terms, "t"+n+" * (p"+n+" / "+strconv.FormatFloat(acids[index].MolarMass, 'f', -1, 64)+") / m"+n)
				inputs = append(inputs, s.of("t"+n, "profile."+x.id+".acid_mol"), x.pct("p"+n, c), s.of("m"+n, "profile."+x.id+".acid_mol_per_100g"))
			}
		}
		base := "profile.acids." + a.Acid
		s.put(base+".amount_mol", upperFirst(a.Name)+" acid", "mol", float64(a.AmountMol), strings.Join(terms, " + "), inputs...)
		s.put(base+".mass_g", upperFirst(a.Name)+" acid", "g", float64(a.MassG), "mol * "+strconv.FormatFloat(acids[index].MolarMass, 'f', -1, 64), s.of("mol", base+".amount_mol"))
		masses = append(masses, base+".mass_g")
		g := acids[index].Group.String()
		both := byGroup[g]
		both[0], both[1] = append(both[0], base+".mass_g"), append(both[1], base+".amount_mol")
		byGroup[g] = both
	}
	sum := 0.0
	for _, id := range masses {
		sum += s.lines[s.at[id]].Value
	}
	s.total("profile.acids_g", "All fatty acids known", "g", sum, masses...)
	for _, a := range f.Acids {
		s.pctOf("profile.acids."+a.Acid+".share_pct", upperFirst(a.Name)+" acid of the fatty acids", a.SharePct, "profile.acids."+a.Acid+".mass_g", "profile.acids_g")
	}
	for _, g := range f.Groups {
		if g.MassG == 0 {
			continue
		}
		base := "profile.groups." + strings.ReplaceAll(g.Name, " ", "-")
		s.total(base+".mass_g", g.Name, "g", float64(g.MassG), byGroup[g.Name][0]...)
		s.total(base+".amount_mol", g.Name, "mol", float64(g.AmountMol), byGroup[g.Name][1]...)
		s.pctOf(base+".share_pct", g.Name+" of the fatty acids", g.SharePct, base+".mass_g", "profile.acids_g")
	}
}
