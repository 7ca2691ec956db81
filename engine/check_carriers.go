package engine

import (
	"strconv"

	"lixivium.example/engine/fat"
)

// carrier resolves what a dose is wetted or premixed with, as an entry of its
// own after the dose. Carriers always absorb.
func (c *checker) carrier(w where, d *Dose, p *plan, of int) {
	cr := d.Carrier
	dose := p.doses[of]
	pd := planDose{
		id: d.ID + "/carrier", spec: d, carrierOf: of, perG: cr.GPerG, portion: dose.portion,
		stage: dose.stage, fromRec: dose.fromRec && !cr.Extra, heldBack: -1, premixed: cr.Premixed, path: w,
	}
	c.within(w.at("g_per_g_dose"), cr.GPerG, 1e-3, 100, "g/g", "It is grams of carrier for each gram of the dose.")
	pd.adj = Adjustment{DoseID: pd.id, DensityGPerML: 1, Evidence: Evidence{Basis: FromCaller, Source: "stated with the recipe"}}
	if !c.one(w, "State one of water, fat and custom.", cr.Water, cr.Fat != "", cr.Custom != nil) {
		return
	}
	switch {
	case cr.Water:
		pd.name = "Water for " + lowerFirst(dose.name)
		pd.adj.WaterGPerG = 1
	case cr.Custom != nil:
		c.customDose(w.at("custom"), cr.Custom, &pd)
		pd.fromRec = pd.fromRec || dose.fromRec && !cr.Extra
	case cr.Extra || cr.Premixed:
		pd.adj.FatGPerG = []FatShare{{Fat: cr.Fat, GPerG: 1}}
		if row, ok := c.resolve(w.at("fat"), cr.Fat); ok {
			pd.adj.FatGPerG[0].Fat = row.ID
			pd.adj.DensityGPerML = fatDensity
			pd.name = row.Name + " for " + lowerFirst(dose.name)
			c.brought(w.at("fat"), &pd)
		}
	default:
		pd.adj.DensityGPerML = fatDensity
		pd.heldBack = c.heldBackLine(w.at("fat"), cr.Fat, p)
		if pd.heldBack >= 0 {
			pd.name = p.lines[pd.heldBack].name + " for " + lowerFirst(dose.name)
		}
	}
	p.doses = append(p.doses, pd)
}

// heldBackLine finds the recipe line that a carrier is taken out of: by line id,
// else by fat.
func (c *checker) heldBackLine(w where, name string, p *plan) int {
	ids := make([]string, 0, len(p.lines))
	for i := range p.lines {
		if p.lines[i].id == name {
			return i
		}
		ids = append(ids, p.lines[i].id)
	}
	row, err := fat.Resolve(name)
	found := -1
	for i := range p.lines {
		if err == nil && len(p.lines[i].parts) == 1 && p.lines[i].parts[0].row == row {
			if found >= 0 {
				c.unknown(w, ReasonAmbiguous, "Several lines are "+strconv.Quote(name)+". Name the line it is taken out of.", "", []string{p.lines[found].id, p.lines[i].id})
				return -1
			}
			found = i
		}
	}
	if found < 0 {
		c.unknown(w, ReasonNotOnRecipe, "The recipe has no line "+strconv.Quote(name)+" to hold fat back from. Name a line of the recipe, or set extra: true for fat beyond it.", name, ids)
	}
	return found
}
