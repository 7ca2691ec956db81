package engine

import (
	"math"
	"strconv"

	"lixivium.example/engine/mold"
)

// Limits of a fit.
const (
	maxMolds      = 100
	maxMoldCount  = 1000
	maxBars       = 100000
	mostTexture   = 50
	mostCureLoss  = 40
	maxStockLines = maxFats + maxDoses + 3
)

// fitting is a fit with every mass in grams.
type fitting struct {
	spec    *Fit
	losses  float64
	target  where   // the field that states the size
	g       float64 // batter, fats or mass of one bar
	trim    float64
	loss    Optional // stated loss in the cure, a fraction
	molds   []fittedMold
	texture float64 // 1 and the allowance
	stock   []onHand
}

// fittedMold is a kind of mold with its volumes.
type fittedMold struct {
	mold.Filled
	lastG float64 // grams that filled it last time; 0: reckoned from the volume
	name  string
}

// onHand is a thing on the shelf; ref is found once the recipe is resolved.
type onHand struct {
	id  string
	g   float64
	at  where
	ref stockRef
}

// fit checks a size. What depends on the recipe is checked later.
func (c *checker) fit(f *Fit) *fitting {
	w := in("fit")
	if f == nil {
		c.add(w, ReasonRequired, sizeAdvice)
		return nil
	}
	q := &fitting{spec: f}
	for _, l := range []struct {
		field string
		mass  Quantity
	}{{"pot_loss", f.PotLoss}, {"transfer_loss", f.TransferLoss}} {
		if l.mass.Given() {
			g, _ := c.grams(w.at(l.field), l.mass, "A loss is stated by mass: weigh the pot with what stays in it.")
			q.losses += g
		}
	}
	if !c.one(w, sizeAdvice, f.Molds != nil, f.Batter.Given(), f.Fats.Given(), f.Bars != nil, f.Stock != nil) {
		return q
	}
	switch {
	case f.Molds != nil:
		q.target = w.at("molds")
		c.molds(f.Molds, q)
	case f.Batter.Given():
		q.target = w.at("batter")
		q.g, _ = c.grams(q.target, f.Batter, "State the batter by mass; for a volume describe the mold, or the water it holds.")
	case f.Fats.Given():
		q.target = w.at("fats")
		q.g, _ = c.grams(q.target, f.Fats, "State the fats by mass.")
	case f.Bars != nil:
		q.target = w.at("bars")
		c.bars(q.target, f.Bars, q)
	default:
		q.target = w.at("stock")
		c.onHand(f.Stock, q)
	}
	return q
}

const sizeAdvice = "State one size: molds, batter, fats, bars or stock."

// count checks a whole number of things.
func (c *checker) count(w where, n, most int, advice string) bool {
	return c.within(w, float64(n), 1, float64(most), "", advice)
}

// molds checks the molds to fill.
func (c *checker) molds(m *Molds, q *fitting) {
	list := in("fit.molds.molds")
	tw := in("fit.molds").at("texture_allowance_pct")
	if c.within(tw, m.TextureAllowancePct, 0, mostTexture, "%", "It is batter beyond the filled volume, for peaks on top; usually 0 to 5.") {
		c.fraction(tw, m.TextureAllowancePct, mostTexture/100.0)
	}
	q.texture = 1 + m.TextureAllowancePct/100
	switch n := len(m.Molds); {
	case n == 0:
		c.add(list, ReasonRequired, "Name at least one mold to fill.")
		return
	case n > maxMolds:
		c.add(list, ReasonTooMany, strconv.Itoa(n)+" kinds of molds; at most "+strconv.Itoa(maxMolds)+".")
		return
	}
	q.molds = make([]fittedMold, len(m.Molds))
	for i := range m.Molds {
		c.mold(where{list: list.list, index: i}, &m.Molds[i], &q.molds[i])
	}
}

// mold checks one kind of mold and works out what it holds.
func (c *checker) mold(w where, m *Mold, out *fittedMold) {
	out.name = m.Name
	if out.name == "" {
		out.name = "mold " + strconv.Itoa(w.index+1)
	}
	c.count(w.at("count"), m.Count, maxMoldCount, "It is how many of this mold are filled.")
	if m.Material < MoldMaterialNotSaid || m.Material > Tin {
		c.add(w.at("material"), ReasonRange, "Use silicone, wood, plastic, stainless_steel, card, glass, aluminum, zinc or tin, or leave it out.")
	}
	if !c.one(w, "State one shape: box, tapered_box, cylinder, cavities, water or batter_last_time.",
		m.Box != nil, m.TaperedBox != nil, m.Cylinder != nil, m.Cavities != nil, m.Water.Given(), m.BatterLastTime.Given()) {
		return
	}
	if v, ok := m.FillPct.Get(); ok && !c.fraction(w.at("fill_pct"), v, 1) {
		return
	}
	if m.BatterLastTime.Given() {
		out.lastG, _ = c.grams(w.at("batter_last_time"), m.BatterLastTime, "State what was poured by mass; for the water that fills the mold use water.")
		for _, l := range []struct {
			field string
			set   bool
		}{{"liner_mm", m.LinerMM != 0}, {"fill_height_mm", m.FillHeightMM.Set()}, {"fill_pct", m.FillPct.Set()}} {
			if l.set {
				c.add(w.at(l.field), ReasonConflict, "What was poured last time already is the wanted fill. Leave this out.")
			}
		}
		return
	}
	shape, ok := c.shape(w, m)
	if !ok {
		return
	}
	var level mold.Level
	level.HeightMM, level.ByHeight = m.FillHeightMM.Get()
	level.Pct, level.ByPct = m.FillPct.Get()
	var wrong []*mold.Problem
	out.Filled, wrong = mold.Fill(shape, m.LinerMM, level)
	for _, p := range wrong {
		reason := ReasonConflict
		switch {
		case math.IsNaN(p.Value) || math.IsInf(p.Value, 0):
			reason = ReasonNotFinite
		case p.Kind == mold.OutOfRange || p.Kind == mold.AboveBrim:
			reason = ReasonRange
		}
		c.add(w.at(p.Field), reason, p.Error())
	}
}

// shape is the geometry of a mold.
func (c *checker) shape(w where, m *Mold) (mold.Shape, bool) {
	switch {
	case m.Box != nil:
		return *m.Box, true
	case m.TaperedBox != nil:
		return *m.TaperedBox, true
	case m.Cylinder != nil:
		return *m.Cylinder, true
	case m.Cavities != nil:
		return *m.Cavities, true
	}
	ww := w.at("water")
	if !c.known(ww, m.Water) {
		return nil, false
	}
	ml := float64(m.Water.Milliliters())
	if !m.Water.IsVolume() {
		ml = float64(m.Water.Grams()) / waterDensity
	}
	return mold.Held{Field: "water." + m.Water.Unit.String(), ML: ml}, true
}

// bars checks bars to make.
func (c *checker) bars(w where, b *Bars, q *fitting) {
	c.count(w.at("count"), b.Count, maxBars, "It is how many bars are wanted.")
	g, ok := c.grams(w.at("mass"), b.Mass, "A bar is stated by mass.")
	q.g = g
	all := g * float64(b.Count)
	if ok && all > mostGrams {
		c.add(w.at("mass"), ReasonRange, strconv.Itoa(b.Count)+" bars of "+num(g)+" g are more than a batch can hold ("+num(mostGrams)+" g). Look at the unit, or make several batches.")
	}
	if v, set := b.CureLossPct.Get(); set {
		lw := w.at("cure_loss_pct")
		if c.within(lw, v, 0, mostCureLoss, "%", "It is what a bar loses in the cure, of its fresh mass; usually 5 to 15.") {
			c.fraction(lw, v, mostCureLoss/100.0)
		}
		q.loss = Some(v / 100)
	}
	if b.Trimmings.Given() {
		var trimOK bool
		q.trim, trimOK = c.grams(w.at("trimmings"), b.Trimmings, "Ends and shavings are stated by mass.")
		if ok && trimOK && q.trim > all {
			c.add(w.at("trimmings"), ReasonConflict, "More is trimmed off ("+num(q.trim)+" g) than there are bars ("+rounded(all, 1)+" g). Look at the units.")
		}
	}
}

// onHand checks what is on the shelf, as far as that needs no recipe.
func (c *checker) onHand(s *Stock, q *fitting) {
	list := in("fit.stock.on_hand")
	switch n := len(s.OnHand); {
	case n == 0:
		c.add(list, ReasonRequired, "Name at least one thing on the shelf; what is left out is plentiful.")
		return
	case n > maxStockLines:
		c.add(list, ReasonTooMany, strconv.Itoa(n)+" lines; at most "+strconv.Itoa(maxStockLines)+".")
		return
	}
	seen := make(map[string]where, len(s.OnHand))
	for i := range s.OnHand {
		x, w := &s.OnHand[i], where{list: list.list, index: i}
		if first, ok := seen[x.LineID]; ok {
			c.add(w.at("line_id"), ReasonDuplicate, strconv.Quote(x.LineID)+" is already "+first.String()+". Add the masses up.")
			continue
		}
		seen[x.LineID] = w
		if x.Mass.Given() && !x.Mass.IsVolume() && x.Mass.Value == 0 {
			c.add(w.at("mass"), ReasonRange, "With nothing on hand there is no batch. Buy it, or leave the line out if it is plentiful.")
			continue
		}
		g, _ := c.grams(w.at("mass"), x.Mass, "State what is on hand by mass: put it on a balance.")
		q.stock = append(q.stock, onHand{id: x.LineID, g: g, at: w})
	}
}
