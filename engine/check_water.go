package engine

import "lixivium.example/engine/settle"

// waterDensity is that of water at 20 °C in g/mL (IAPWS formulation, from
// memory).
const waterDensity = 0.9982

// discountMeanings are what makers mean by a water discount; without its
// reference none of them can be told from the others (common practice, no
// source).
const discountMeanings = "A discount alone has six meanings: a percent less than some usual water; the lye concentration itself; the usual water in percent of the fats; percentage points of the fats; a ratio below a usual one; or water held back for another liquid. State the reference, such as water_of_fats_pct: 38, or ask for the lye concentration."

// water resolves the asked water.
func (c *checker) water(r *Recipe, p *plan) {
	w := in("recipe.water")
	if r.Water == nil {
		if !p.given {
			c.add(w, ReasonRequired, "State the water: a mass, lye_concentration_pct, water_per_alkali_ratio or water_of_fats_pct. There is no default.")
		}
		return
	}
	p.water, p.grant = settle.Water{Keep: 1}, r.Water.GrantRequests
	if !c.one(w, "State the water as a measure or as a discount.", r.Water.Measure != nil, r.Water.Discount != nil) {
		return
	}
	p.wantsWater = true
	if m := r.Water.Measure; m != nil {
		c.measure(w.at("measure"), m, p)
		return
	}
	d, dw := r.Water.Discount, w.at("discount")
	if c.within(dw.at("off_pct"), d.OffPct, 0, 95, "%", "It is the percent taken off the reference.") {
		c.fraction(dw.at("off_pct"), d.OffPct, 1.5)
	}
	p.water.Keep = 1 - d.OffPct/100
	if d.Reference == nil {
		c.add(dw.at("reference"), ReasonNoReference, discountMeanings)
		return
	}
	c.measure(dw.at("reference"), d.Reference, p)
}

// measure resolves one measure of water.
func (c *checker) measure(w where, m *WaterMeasure, p *plan) {
	if !c.one(w, "State one of mass, lye_concentration_pct, water_per_alkali_ratio and water_of_fats_pct.",
		m.Mass.Given(), m.LyeConcentrationPct.Set(), m.WaterPerAlkali.Set(), m.OfFatsPct.Set()) {
		return
	}
	percent := func(field string, v, high float64, advice string) {
		if c.fraction(w.at(field), v, 1.5) {
			c.within(w.at(field), v, 1.5, high, "%", advice)
		}
		p.water.Value = v / 100
	}
	if m.Mass.Given() {
		p.water.Ask = settle.AskGrams
		p.water.Value, _, _ = c.gramsOrVolume(w.at("mass"), m.Mass, waterDensity)
		return
	}
	if v, ok := m.LyeConcentrationPct.Get(); ok {
		p.water.Ask = settle.AskConcentration
		percent("lye_concentration_pct", v, 70, "Lye concentration is alkali over alkali and water, usually 25 to 40 %.")
		return
	}
	if v, ok := m.OfFatsPct.Get(); ok {
		p.water.Ask = settle.AskOfFats
		percent("water_of_fats_pct", v, 200, "Water is usually 25 to 40 % of the fats.")
		return
	}
	v, _ := m.WaterPerAlkali.Get()
	p.water.Ask, p.water.Value = settle.AskRatio, v
	c.within(w.at("water_per_alkali_ratio"), v, 0.3, 20, "", "It is grams of water per gram of alkali, usually 1.5 to 3; for a strength in percent use lye_concentration_pct.")
}
