package engine

import (
	"lixivium.example/engine/settle"
	"lixivium.example/engine/unit"
)

// size is what a fit comes to for a batch.
type size struct {
	k        float64 // every unrounded mass times this
	scarcest int     // index of the stock that sets it, or -1
	bar      *BarAnswer
	molds    []MoldFill
}

// poured is the batter that goes into molds, g and mL: what lies on the surface
// is not counted.
func (w *work) poured() (g, ml float64) {
	_, base, _, own := w.volumes()
	ml = base
	for i := range own {
		ml += own[i]
	}
	return w.r.Mass - w.r.Surface, ml
}

// size works out the factor on the exact batch.
func (c *checker) size(q *fitting, w *work) size {
	s := size{scarcest: -1}
	if q.spec.Fats.Given() {
		s.k = q.g / w.r.F
		c.losses(q, w, s.k)
		return s
	}
	batter, ml := w.poured()
	filled := 0.0 // batter that is wanted without losses
	switch {
	case q.spec.Molds != nil:
		filled = s.fillMolds(q, batter/ml)
		s.k = (filled + q.losses) / batter
	case q.spec.Bars != nil:
		s.bar = q.bar(w)
		filled = float64(float64(s.bar.FreshG)*float64(q.spec.Bars.Count)) + q.trim
		s.k = (filled + q.losses) / w.r.Mass
	case q.spec.Stock != nil:
		s.k, s.scarcest = q.stockFactor(w)
		if s.scarcest < 0 {
			c.add(q.target.at("on_hand"), ReasonConflict, "The recipe takes none of this, so it sets no size. Name something that the batch uses.")
			return s
		}
	default:
		filled = q.g
		s.k = (filled + q.losses) / batter
	}
	if filled > 0 && filled <= q.losses {
		c.add(lossField(q.spec), ReasonConflict, "The losses ("+rounded(q.losses, 1)+" g) are more than the batter that is wanted ("+rounded(filled, 1)+" g). Look at the units.")
		return s
	}
	c.losses(q, w, s.k)
	return s
}

// losses refuses losses that leave nothing of the batch.
func (c *checker) losses(q *fitting, w *work, k float64) {
	if w.p.waterUnknown {
		return
	}
	if all := k * (w.r.Mass - w.r.Surface); q.losses > 0 && q.losses >= all {
		c.add(lossField(q.spec), ReasonConflict, "The losses ("+rounded(q.losses, 1)+" g) are the whole batch ("+rounded(all, 1)+" g of batter). Look at the units.")
	}
}

// lossField is the field of the larger loss.
func lossField(f *Fit) where {
	w := in("fit")
	if f.TransferLoss.Given() && (!f.PotLoss.Given() || f.TransferLoss.Grams() > f.PotLoss.Grams()) {
		return w.at("transfer_loss")
	}
	return w.at("pot_loss")
}

// fillMolds works out what each mold takes of batter of a density, and the sum
// in grams.
func (s *size) fillMolds(q *fitting, density float64) float64 {
	sum := 0.0
	s.molds = make([]MoldFill, len(q.molds))
	for i := range q.molds {
		m := &q.molds[i]
		ml, g := m.FilledML, m.FilledML*density
		if m.lastG > 0 {
			ml, g = m.lastG/density, m.lastG
		}
		g *= q.texture
		n := q.spec.Molds.Molds[i].Count
		s.molds[i] = MoldFill{Name: m.name, Count: n, FilledML: unit.Milliliters(ml), BatterG: unit.Grams(g), BrimML: unit.Milliliters(m.BrimML)}
		sum += float64(g * float64(n))
	}
	return sum
}

// The cure that a wanted mass is reckoned with where no loss is stated: the
// water above what a bar keeps in a dry room leaves it exponentially with 23
// days, of which six weeks are 84 %.
const (
	keptWater    = 0.08
	curedInWeeks = 0.84
)

var cureEvidence = Evidence{
	Basis:  Estimate,
	Source: "water beyond 8 % at six weeks, 84 % of it gone; fitted to makers' weighings of 10 to 15 % in four weeks. 0 to 3 % lost in the mold come on top",
}

// bar is the bar that is asked for, fresh and cured.
func (q *fitting) bar(w *work) *BarAnswer {
	loss, stated := q.loss.Get()
	b := &BarAnswer{Evidence: Evidence{Basis: FromCaller, Source: "stated with the fit"}}
	if !stated {
		b.Evidence = cureEvidence
		water := w.r.Total / w.r.Mass
		loss = max(0, (water-keptWater)/(1-keptWater)*curedInWeeks) // a drier bar loses nothing
	}
	fresh := q.g
	if q.spec.Bars.Cured {
		fresh = q.g / (1 - loss)
	}
	b.FreshG, b.CuredG, b.CureLossPct = unit.Grams(fresh), unit.Grams(fresh*(1-loss)), pct(loss)
	return b
}

// masses are what a recipe in grams states.
type masses struct {
	lines  []float64
	doses  []float64
	alkali [settle.Kinds]float64
	water  float64 // asked by mass; 0: asked in another way
}

// times are the exact masses of a batch times k.
func (w *work) times(k float64) *masses {
	m := &masses{lines: make([]float64, len(w.p.lines)), doses: make([]float64, len(w.p.doses))}
	for i := range m.lines {
		m.lines[i] = k * w.in.Lines[i].G
	}
	for i := range m.doses {
		m.doses[i] = k * w.doseG[i]
	}
	for a := range m.alkali {
		m.alkali[a] = k * (w.r.Mol[a] * w.in.Alkali.Stock[a].MassGMol)
	}
	if w.p.water.Ask == settle.AskGrams {
		m.water = k * w.p.water.Value
	}
	return m
}

// rounded are the masses of a weighed batch, so that weighing it out again gives
// the same lines. What is held back goes into its line as the doses will take it.
func (w *work) rounded() *masses {
	m := &masses{lines: make([]float64, len(w.p.lines)), doses: make([]float64, len(w.p.doses)), water: w.p.water.Value}
	for i := range m.doses {
		m.doses[i] = w.in.Doses[i].G
	}
	for a := range m.alkali {
		m.alkali[a] = w.weigh.alkali[a].g
	}
	held := w.heldWhenRounded(m)
	for i := range m.lines {
		m.lines[i] = w.weigh.lines[i].g + held[i]
	}
	ofWater := false
	for i := range w.p.doses {
		ofWater = ofWater || w.p.doses[i].spec.OfAskedWaterPct.Set()
	}
	if w.p.recipe.Water != nil && w.p.recipe.Water.Measure != nil && !ofWater && w.r.Short == 0 {
		m.water += w.r.Plain - (w.weigh.water.exact - w.r.GrantJug)
	}
	return m
}

// heldWhenRounded is what the carriers will take out of each line once the
// recipe states rounded masses. Doses in percent follow the fats, which follow
// what is held back: a few rounds settle that.
func (w *work) heldWhenRounded(m *masses) []float64 {
	held := make([]float64, len(w.p.lines))
	pot := 0.0
	for i := range w.weigh.lines {
		pot += w.weigh.lines[i].g
	}
	fats := 0.0
	for next, rounds := pot, 0; next != fats && rounds < 100; rounds++ {
		fats, next = next, pot
		clear(held)
		for i := range w.p.doses {
			d := &w.p.doses[i]
			if d.heldBack < 0 {
				continue
			}
			dose := &w.p.doses[d.carrierOf]
			g := m.doses[d.carrierOf]
			if dose.spec.OfFatsPct.Set() {
				g = dose.grams(fats, w.p.shareOf(dose))
			}
			held[d.heldBack] += float64(g * d.perG)
		}
		for i := range held {
			next += held[i]
		}
	}
	return held
}

// weighsLike tells whether two batches are weighed out alike, gram for gram.
func (w *work) weighsLike(o *work) bool {
	same := func(a, b []weight) bool {
		for i := range a {
			if a[i].g != b[i].g {
				return false
			}
		}
		return true
	}
	return same(w.weigh.lines, o.weigh.lines) && same(w.weigh.doses, o.weigh.doses) && same(w.weigh.grants, o.weigh.grants) &&
		same(w.weigh.alkali[:], o.weigh.alkali[:]) && w.weigh.water.g == o.weigh.water.g
}
