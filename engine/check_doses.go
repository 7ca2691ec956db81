package engine

import (
	"strconv"

	"lixivium.example/engine/settle"
	"lixivium.example/engine/unit"
)

// planDose is an additive with its rules, or a carrier, as an entry of its own.
type planDose struct {
	id, name  string
	spec      *Dose
	info      AdditiveInfo
	owned     bool
	missing   bool // its owner did not answer, and the caller allowed that
	carrierOf int  // index of the dose it carries, or -1
	perG      float64
	portion   int
	stage     Stage
	added     bool
	fromRec   bool
	heldBack  int // line index, or -1
	dry       bool
	adj       Adjustment
	fats      []planBrought
	perTsp    float64 // g per teaspoon, 0: not known
	premixed  bool    // weighed together with its carrier
	path      where
}

// planBrought is a fat that a dose brings, per gram.
type planBrought struct {
	part planPart
	perG float64
}

// doses resolves the additives and their carriers.
func (c *checker) doses(r *Recipe, p *plan, a Additives, seen map[string]where) {
	if len(r.Doses) > maxDoses {
		c.add(in("recipe.doses"), ReasonTooMany, strconv.Itoa(len(r.Doses))+" doses; at most "+strconv.Itoa(maxDoses)+". Put doses of the same additive together.")
		return
	}
	if len(r.Doses) == 0 {
		return
	}
	p.doses = make([]planDose, 0, 2*len(r.Doses))
	for i := range r.Doses {
		w := element("recipe.doses", i)
		c.id(w, r.Doses[i].ID, seen)
		c.dose(w, &r.Doses[i], p, a)
	}
}

// dose resolves one additive.
func (c *checker) dose(w where, d *Dose, p *plan, a Additives) {
	pd := planDose{id: d.ID, spec: d, carrierOf: -1, heldBack: -1, portion: settle.Whole, stage: d.Stage, path: w}
	if c.one(w, "State one of additive and custom.", d.Additive != "", d.Custom != nil) {
		if d.Custom != nil {
			c.customDose(w.at("custom"), d.Custom, &pd)
			if len(d.Parameters) > 0 {
				c.add(w.at("parameters"), ReasonParameter, "A custom additive has no parameters. Put its figures into custom.")
			}
		} else {
			c.ownedDose(w, d, &pd, a)
		}
	}
	pd.portion = c.portionOf(w, d, p)
	c.amount(w, d, &pd, p)
	c.stage(w, d, &pd)
	c.treatment(w, d, &pd, p)
	switch d.WaterSource {
	case WaterSourceNotSaid:
		pd.fromRec = !pd.info.WaterOnTop
	default:
		pd.fromRec = d.WaterSource == WaterFromRecipe
	}
	p.doses = append(p.doses, pd)
	if d.Carrier != nil {
		c.carrier(w.at("carrier"), d, p, len(p.doses)-1)
	}
}

// customDose takes the caller's own figures.
func (c *checker) customDose(w where, a *CustomAdditive, pd *planDose) {
	pd.name, pd.dry = a.Name, a.AlkaliFormsNoWater
	pd.perTsp = a.GPerTeaspoonUS.Or(0)
	if a.Name == "" {
		c.add(w.at("name"), ReasonRequired, "Name the additive.")
	}
	c.within(w.at("water_g_per_g"), a.WaterGPerG, 0, 1, "g/g", "It is the water in one gram of the additive.")
	c.within(w.at("bound_water_g_per_g"), a.BoundWaterGPerG, 0, 20, "g/g", "It is the water that one gram binds.")
	c.optional(w.at("density_g_per_ml"), a.DensityGPerML, 0.2, 8, "g/mL", "It is the density of the additive.")
	c.optional(w.at("g_per_teaspoon_us"), a.GPerTeaspoonUS, 0.1, 40, "g", "It is the mass of one level US teaspoon.")
	adj := Adjustment{
		DoseID: pd.id, WaterGPerG: a.WaterGPerG, BoundWaterGPerG: a.BoundWaterGPerG,
		DensityGPerML: 1, Evidence: Evidence{Basis: FromCaller, Source: "stated with the recipe"},
	}
	if v, ok := a.DensityGPerML.Get(); ok {
		adj.DensityGPerML = unit.GramsPerML(v)
	}
	if m := a.AlkaliMolPerG; m != nil {
		aw := w.at("alkali_mol_per_g")
		c.within(aw.at("value"), m.Value, 0, 0.035, "mol/g", "It is the alkali that one gram takes; 0.0156 for anhydrous citric acid. What brings alkali is a lye, not an additive.")
		c.optional(aw.at("half_width"), m.HalfWidth, 0, 0.035, "mol/g", "It is how far the true value may lie on either side.")
		adj.AlkaliMolPerG, adj.AlkaliHalfMolPerG = m.Value, m.HalfWidth.Or(0)
	}
	sum := a.WaterGPerG
	for _, name := range sortedKeys(a.FatGPerG) {
		g, fw := a.FatGPerG[name], w.at("fat_g_per_g").at(name)
		sum += g
		if row, ok := c.resolve(fw, name); ok && c.within(fw, g, 0, 1, "g/g", "It is the fat in one gram of the additive.") {
			adj.FatGPerG = append(adj.FatGPerG, FatShare{Fat: row.ID, GPerG: g})
		}
	}
	if sum > 1+1e-9 {
		c.add(w, ReasonSum, "Water and fats come to "+rounded(sum, 4)+" g in one gram. They can be 1 at most.")
	}
	pd.adj = adj
	c.brought(w, pd)
}

// brought resolves the fats that a dose brings.
func (c *checker) brought(w where, pd *planDose) {
	for _, f := range pd.adj.FatGPerG {
		var pt planPart
		c.tableFat(w, f.Fat, &pt)
		pt.id = pd.id
		pd.fats = append(pd.fats, planBrought{part: pt, perG: f.GPerG})
	}
}

// portionOf finds the portion a dose goes into.
func (c *checker) portionOf(w where, d *Dose, p *plan) int {
	if d.PortionID == "" {
		return settle.Whole
	}
	ids := make([]string, 0, len(p.portions))
	for i := range p.portions {
		if p.portions[i].id == d.PortionID {
			return i
		}
		ids = append(ids, p.portions[i].id)
	}
	c.unknown(w.at("portion_id"), ReasonUnknown, "The recipe has no portion "+strconv.Quote(d.PortionID)+". Name one of recipe.portions by its id, or leave portion_id out for the whole batch.", d.PortionID, ids)
	return settle.Whole
}

// amount checks how a dose is stated; grams are worked out with the fats.
func (c *checker) amount(w where, d *Dose, pd *planDose, p *plan) {
	if !c.one(w, "State one of mass, of_fats_pct, of_asked_water_pct and spoons.",
		d.Mass.Given(), d.OfFatsPct.Set(), d.OfAskedWaterPct.Set(), d.Spoons != nil) {
		return
	}
	if d.Basis == BasisPortionFats && pd.portion == settle.Whole {
		c.add(w.at("basis"), ReasonConflict, "The dose goes into no portion, so there are no portion fats. Leave the basis out.")
	}
	if d.Mass.Given() {
		c.grams(w.at("mass"), d.Mass, "Weigh additives; a volume of them says little. Teaspoons go under spoons.")
		return
	}
	if v, ok := d.OfFatsPct.Get(); ok {
		c.within(w.at("of_fats_pct"), v, 0, 200, "%", "It is percent of the fats.")
		if v == 0 {
			c.add(w.at("of_fats_pct"), ReasonRange, "The dose is zero. Leave it out, or write its share.")
		}
		return
	}
	if v, ok := d.OfAskedWaterPct.Get(); ok {
		aw := w.at("of_asked_water_pct")
		if c.within(aw, v, 0, 100, "%", "It is percent of the asked water.") && v == 0 {
			c.add(aw, ReasonRange, "The dose is zero. Leave it out, or write its share.")
		}
		if !p.wantsWater {
			c.add(aw, ReasonConflict, "The recipe states no water to take a percent of. State the water, or the mass.")
		}
		if cr := d.Carrier; cr != nil && cr.Fat != "" && !cr.Extra && !cr.Premixed {
			c.add(aw, ReasonConflict, "A dose in percent of the asked water cannot hold fat back: each would depend on the other. State its mass or percent of fats.")
		}
		return
	}
	sw := w.at("spoons")
	c.within(sw.at("teaspoons_us"), d.Spoons.TeaspoonsUS, 0.01, 1000, "teaspoons", "Count level teaspoons.")
	if d.Spoons.PerFats.Given() {
		c.grams(sw.at("per_fats"), d.Spoons.PerFats, "State the fats by mass, such as {lb: 1}.")
	}
	if pd.perTsp == 0 {
		c.add(sw, ReasonRequired, "Nobody knows what a teaspoon of this weighs. Weigh the dose, or state g_per_teaspoon_us.")
	}
}

// stage checks when a dose goes in.
func (c *checker) stage(w where, d *Dose, pd *planDose) {
	if pd.stage == StageNotSaid {
		pd.stage = pd.info.UsualStage
		if pd.stage == StageNotSaid || pd.portion != settle.Whole && pd.stage < StageTrace {
			pd.stage = StageTrace
		}
	}
	switch {
	case pd.stage == StageAlkali || pd.stage < 0 || pd.stage > StageSurface:
		c.add(w.at("stage"), ReasonConflict, "That stage belongs to the alkali. Use water_before_lye, cooled_lye, fats, trace or surface.")
	case pd.portion != settle.Whole && pd.stage < StageTrace:
		c.add(w.at("stage"), ReasonConflict, "A portion exists only once the batter is split. Use trace or surface, or dose the whole batch.")
	}
}

// treatment decides whether the alkali a dose takes is added.
func (c *checker) treatment(w where, d *Dose, pd *planDose, p *plan) {
	tw := w.at("treatment")
	whole := pd.portion == settle.Whole
	switch d.Treatment {
	case TreatmentAdd:
		switch {
		case p.given:
			c.add(tw, ReasonAddWithGiven, "The alkali is given, so nothing is added to it: the dose absorbs. Leave the treatment out, or ask for a superfat.")
		case pd.onSurface():
			c.add(tw, ReasonConflict, "On the surface it meets no lye, so there is no alkali to add. Leave the treatment out.")
		case !whole:
			c.add(tw, ReasonAddInPortion, "Alkali added for a dose in one portion would make the other portions lye-heavy. Dose the whole batch, or let it absorb.")
		case d.Custom != nil && d.Custom.AlkaliMolPerG != nil && !d.Custom.AlkaliMolPerG.HalfWidth.Set():
			c.add(w.at("custom.alkali_mol_per_g.half_width"), ReasonRequired, "Alkali is added only for a value whose half-width is stated.")
		}
		pd.added = whole && !p.given && !pd.onSurface()
	case TreatmentNotSaid:
		pd.added = whole && !p.given && pd.owned && !pd.onSurface()
	}
}
