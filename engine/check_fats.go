package engine

import (
	"errors"
	"math"
	"strconv"

	"lixivium.example/engine/fat"
	"lixivium.example/engine/unit"
)

// Limits of a recipe's lists.
const (
	maxFats     = 1000
	maxDoses    = 200
	maxPortions = 50
)

// leastSVHalfWidth is the least half-width of a saponification value that no
// certificate narrows, mg KOH/g.
const leastSVHalfWidth = 3

// fats resolves the fat lines and their grams.
func (c *checker) fats(r *Recipe, p *plan, seen map[string]where) {
	list := in("recipe.fats")
	switch {
	case len(r.Fats) == 0:
		c.add(list, ReasonRequired, "A recipe needs at least one fat.")
		return
	case len(r.Fats) > maxFats:
		c.add(list, ReasonTooMany, strconv.Itoa(len(r.Fats))+" fat lines; at most "+strconv.Itoa(maxFats)+". Put lines of the same fat together.")
		return
	}
	shares := 0
	for i := range r.Fats {
		if r.Fats[i].SharePct.Set() {
			shares++
		}
	}
	total := 0.0
	byShare := shares > 0
	if byShare {
		if shares < len(r.Fats) {
			c.add(list, ReasonConflict, "Some fats have a mass and some a share. Give every line the same way.")
		} else {
			total = c.totalFats(r)
		}
	} else if r.TotalFats.Given() {
		c.add(in("recipe.total_fats"), ReasonConflict, "The lines carry masses, so their sum is the total. Leave total_fats out, or give shares.")
	}
	p.lines = make([]planLine, len(r.Fats))
	parts := make([]planPart, len(r.Fats))
	sum := 0.0
	for i := range r.Fats {
		w := element("recipe.fats", i)
		l, pl := &r.Fats[i], &p.lines[i]
		c.id(w, l.ID, seen)
		pl.id = l.ID
		if l.Premix != nil {
			c.one(w, "State one of fat, custom and premix.", l.Fat != "", l.Custom != nil, true)
			c.premix(w, l, pl)
		} else {
			pl.parts = parts[i : i+1 : i+1]
			c.part(w, l, &pl.parts[0])
			pl.parts[0].share = 1
			pl.name = pl.parts[0].name
		}
		if l.InfusedWith != "" {
			pl.name += ", infused with " + l.InfusedWith
		}
		c.one(w, "State the mass or share_of_fats_pct.", l.Mass.Given(), l.SharePct.Set())
		if s, ok := l.SharePct.Get(); ok {
			c.within(w.at("share_of_fats_pct"), s, 0, 100, "%", "A share is percent of the recipe fats.")
			sum += s
		} else if l.Mass.Given() {
			c.fatMass(w, l, pl, p)
		}
		for j := range pl.parts {
			pt := &pl.parts[j]
			pl.need += float64(pt.share * molPerG(pt.sv))
			if pt.free {
				pl.free += float64(pt.share * molPerG(pt.sv))
			}
		}
	}
	if byShare && shares == len(r.Fats) {
		c.sum100(list, sum, "share_of_fats_pct")
		for i := range p.lines {
			p.lines[i].grams = total * r.Fats[i].SharePct.Or(0) / sum
			if r.Fats[i].SharePct.Or(0) == 0 {
				c.add(element("recipe.fats", i).at("share_of_fats_pct"), ReasonRange, "The share is zero. Leave the line out, or write its share.")
			}
		}
	}
}

// totalFats is the mass that shares are shares of.
func (c *checker) totalFats(r *Recipe) float64 {
	w := in("recipe.total_fats")
	if !r.TotalFats.Given() {
		c.add(w, ReasonRequired, "The lines carry shares, so the mass of all fats must be stated, such as {kg: 1}.")
		return 0
	}
	total, _ := c.grams(w, r.TotalFats, "State the total of the fats by mass: g, kg, oz or lb.")
	return total
}

// fatMass turns the amount of a line into grams.
func (c *checker) fatMass(w where, l *FatLine, pl *planLine, p *plan) {
	if !l.Mass.IsVolume() {
		pl.grams, _ = c.grams(w.at("mass"), l.Mass, "")
		return
	}
	density := 0.0
	switch {
	case l.Premix != nil:
	case l.Custom != nil:
		density = l.Custom.DensityGPerML.Or(0)
	case pl.parts[0].row != nil && pl.parts[0].row.LiquidAt20C && pl.parts[0].row.Density != nil:
		density = float64(pl.parts[0].row.Density.GramsPerML)
	}
	if density == 0 {
		c.add(w.at("mass").at(l.Mass.Unit.String()), ReasonUnit, "Only a fat that is liquid at room temperature and whose density is known can be given by volume. Weigh it.")
		return
	}
	var byVolume bool
	pl.grams, byVolume, _ = c.gramsOrVolume(w.at("mass"), l.Mass, density)
	if byVolume {
		p.byVolume = append(p.byVolume, l.ID)
	}
}

// sum100 refuses shares that do not sum to 100 within 1e-4.
func (c *checker) sum100(w where, sum float64, field string) {
	switch {
	case math.Abs(sum-100) <= 1e-4:
	case math.Abs(sum-1) <= 1e-4:
		c.add(w, ReasonSum, "The values of "+field+" sum to 1, so they may be fractions of one. Shares are percent: write each a hundred times as large, 70 for 0.7.")
	default:
		c.add(w, ReasonSum, "The values of "+field+" sum to "+rounded(sum, 4)+", not 100. Change one by "+rounded(100-sum, 4)+".")
	}
}

// premix expands a mixture made beforehand.
func (c *checker) premix(w where, l *FatLine, pl *planLine) {
	list := w.at("premix.fats")
	pl.name = l.Premix.Name
	if pl.name == "" {
		c.add(w.at("premix.name"), ReasonRequired, "Name the premix as the shop calls it.")
	}
	if l.CertificateSV != nil {
		c.add(w.at("certificate_sv_mg_koh_per_g"), ReasonConflict, "A certificate belongs to a single fat. Put it on the lines of the premix.")
	}
	if n := len(l.Premix.Fats); n == 0 || n > maxFats {
		c.add(list, ReasonRequired, "A premix needs 1 to "+strconv.Itoa(maxFats)+" fats.")
		return
	}
	pl.parts = make([]planPart, len(l.Premix.Fats))
	own := make(map[string]where, len(l.Premix.Fats))
	sum, whole := 0.0, true
	for j := range l.Premix.Fats {
		pw := element(list.String(), j)
		f := &l.Premix.Fats[j]
		c.id(pw, f.ID, own)
		if f.Premix != nil {
			c.add(pw.at("premix"), ReasonConflict, "A premix cannot hold another premix. Write its fats here.")
			whole = false
			continue
		}
		c.part(pw, f, &pl.parts[j])
		pl.parts[j].id = l.ID + "/" + f.ID
		s, ok := f.SharePct.Get()
		if !ok || f.Mass.Given() {
			c.add(pw.at("share_of_fats_pct"), ReasonRequired, "Give the fats of a premix by share_of_fats_pct.")
			whole = false
			continue
		}
		c.within(pw.at("share_of_fats_pct"), s, 0, 100, "%", "A share is percent of the premix.")
		sum += s
	}
	if whole {
		c.sum100(list, sum, "share_of_fats_pct")
	}
	for j := range pl.parts {
		pl.parts[j].share = l.Premix.Fats[j].SharePct.Or(0) / sum
	}
}

// part resolves one fat and the saponification value it is reckoned with.
func (c *checker) part(w where, l *FatLine, pt *planPart) {
	pt.id = l.ID
	switch {
	case l.Custom != nil:
		c.one(w, "State one of fat, custom and premix.", l.Fat != "", true)
		c.customFat(w.at("custom"), l.Custom, pt)
	case l.Fat != "":
		c.tableFat(w, l.Fat, pt)
	case l.Premix == nil:
		c.add(w, ReasonRequired, "State which fat: fat, custom or premix.")
	}
	if l.CertificateSV != nil && l.Premix == nil {
		c.certificate(w.at("certificate_sv_mg_koh_per_g"), l.CertificateSV, pt)
	}
}

// tableFat takes a fat of the catalog. A wax counts at its acid value; the rest
// of its saponification value is an upper bound.
func (c *checker) tableFat(w where, name string, pt *planPart) {
	row, ok := c.resolve(w.at("fat"), name)
	if !ok {
		return
	}
	pt.row, pt.name, pt.key = row, row.Name, row.ID
	pt.acids, pt.free = row.Composition, row.FreeAcid
	pt.acidsSV, pt.acidsIV = float64(row.CalculatedSV), row.CalculatedIV
	pt.evidence = Evidence{Basis: basisOf(row.Status), Source: row.SourceText}
	if row.UnsaponifiableMaxPct != nil {
		pt.unsap = float64(*row.UnsaponifiableMaxPct)
	}
	v := row.SV
	if row.CountsAtAcidValue() {
		pt.extra = float64(row.SV.Max - row.AcidValue.Best)
		v = *row.AcidValue
		pt.free = true
		pt.acids = nil // what does not react is not soap
		pt.evidence.Basis = basisOf(row.AcidValueStatus)
	}
	pt.sv = float64(v.Best)
	pt.low = max(0, min(float64(v.Min), pt.sv-leastSVHalfWidth))
	pt.high = max(float64(v.Max), pt.sv+leastSVHalfWidth)
}

// resolve finds a fat of the catalog, or says why not.
func (c *checker) resolve(w where, name string) (*fat.Fat, bool) {
	row, err := fat.Resolve(name)
	if err == nil {
		return row, true
	}
	var many *fat.AmbiguousError
	var unknown *fat.UnknownError
	switch {
	case errors.As(err, &many):
		ids := make([]string, len(many.Candidates))
		for i, f := range many.Candidates {
			ids[i] = f.ID
		}
		c.add(w, ReasonAmbiguous, sentence(strconv.Quote(name)+" can mean several fats: "+many.Why)+" Write the id of the one that is meant.", ids...)
	case errors.As(err, &unknown):
		c.add(w, ReasonUnknown, "No fat is called "+strconv.Quote(name)+". Take one from the catalog, or declare it as custom with its saponification value.", unknown.Suggestions...)
	}
	return nil, false
}

// customFat takes a fat with the caller's own figures.
func (c *checker) customFat(w where, f *CustomFat, pt *planPart) {
	pt.name, pt.free = f.Name, f.FreeAcid
	pt.key = "custom " + f.Name
	pt.evidence = Evidence{Basis: FromCaller, Source: "stated with the recipe"}
	if f.Name == "" {
		c.add(w.at("name"), ReasonRequired, "Name the fat.")
	}
	sv := w.at("sv_mg_koh_per_g")
	pt.path = sv.at("value").String()
	c.svValue(sv, f.SV.Value)
	half := f.SV.HalfWidth.Or(leastSVHalfWidth)
	c.within(sv.at("half_width"), half, 0, 100, "mg KOH/g", "It is how far the true value may lie on either side.")
	half = max(half, leastSVHalfWidth)
	pt.sv, pt.low, pt.high = f.SV.Value, f.SV.Value-half, f.SV.Value+half
	c.optional(w.at("density_g_per_ml"), f.DensityGPerML, 0.8, 1.1, "g/mL", "State the density at 25 °C.")
	c.fattyAcids(w.at("fatty_acid_pct"), f.FattyAcidsPct, pt)
}

// fattyAcids takes the caller's composition, in the order of the catalog.
func (c *checker) fattyAcids(w where, pct map[string]float64, pt *planPart) {
	if len(pct) == 0 {
		return
	}
	sum := 0.0
	for i := range acids {
		v, ok := pct[acids[i].ID]
		if !ok {
			continue
		}
		c.within(w.at(acids[i].ID), v, 0, 100, "%", "Fatty acids are percent of all fatty acids.")
		sum += v
		pt.acids = append(pt.acids, fat.Share{Acid: i, Pct: unit.Percent(v)})
	}
	for _, id := range sortedKeys(pct) {
		if _, ok := fat.AcidIndex(id); !ok {
			c.add(w.at(id), ReasonUnknown, "No fatty acid has the id "+strconv.Quote(id)+". Use ids such as C18:1.")
		}
	}
	if !(math.Abs(sum-100) <= 0.5) {
		c.add(w, ReasonSum, "The fatty acids sum to "+rounded(sum, 2)+" %, not 100 within 0.5.")
	}
	for i := range pt.acids {
		pt.acids[i].Pct = unit.Percent(100 * float64(pt.acids[i].Pct) / sum)
	}
	pt.acidsSV, pt.acidsIV = float64(fat.CalculatedSV(pt.acids, pt.free)), fat.CalculatedIV(pt.acids, pt.free)
}

// certificate takes the value of a lot. On a wax it moves the upper bound only.
func (c *checker) certificate(w where, m *Measured, pt *planPart) {
	if !c.svValue(w, m.Value) {
		return
	}
	half := m.HalfWidth.Or(1)
	c.within(w.at("half_width"), half, 0, 50, "mg KOH/g", "It is how far the true value may lie on either side.")
	if pt.row != nil && pt.row.CountsAtAcidValue() {
		pt.extra = max(0, m.Value+half-pt.sv)
		pt.bound = upperBound{path: w.String(), value: m.Value, half: half, halfStated: m.HalfWidth.Set()}
		return
	}
	pt.sv, pt.low, pt.high = m.Value, m.Value-half, m.Value+half
	pt.evidence = Evidence{Basis: FromCaller, Source: "certificate of the lot"}
	pt.certified, pt.key, pt.path = true, "certificate "+pt.id, w.at("value").String()
}

// svValue refuses values that are no saponification value in mg KOH/g.
func (c *checker) svValue(w where, v float64) bool {
	w = w.at("value")
	if !c.finite(w, v) {
		return false
	}
	if v >= 60 && v <= 400 {
		return true
	}
	text := num(v) + " is not a saponification value in mg KOH/g (60 to 400)."
	switch {
	case v >= 0.09 && v <= 0.29:
		text += " " + num(v) + " looks like grams per gram: of NaOH that is " + rounded(v*56.1056/39.997*1000, 1) + " mg KOH/g, of KOH " + rounded(v*1000, 1) + ". Write the one that is meant."
	case v > 0.29 && v <= 0.4:
		text += " " + num(v) + " looks like grams of KOH per gram: write " + rounded(v*1000, 1) + "."
	default:
		text += " Take it from the fat's certificate or data sheet."
	}
	c.add(w, ReasonRange, text)
	return false
}

// basisOf gives the kind of support behind a row of the table.
func basisOf(s fat.Status) Basis {
	switch s {
	case fat.Seen:
		return PublishedSeen
	case fat.FromMemory:
		return PublishedFromMemory
	case fat.Calculated:
		return Derived
	}
	return Estimate
}
