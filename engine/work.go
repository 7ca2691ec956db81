package engine

import (
	"context"

	"lixivium.example/engine/settle"
)

// work is a batch on its way from plan to answer.
type work struct {
	p        *plan
	doseG    []float64 // exact grams of every dose and carrier
	in       settle.Batch
	r        *settle.Result
	exactIn  settle.Batch // before rounding; equal to in without balances
	exact    *settle.Result
	weigh    weights
	shares   []float64
	portions []Superfat
	batch    Superfat
}

// begin works out grams, asks the owners and settles the exact batch.
func (e *Engine) begin(ctx context.Context, p *plan) (*work, error) {
	w := &work{p: p, shares: make([]float64, len(p.portions))}
	for i := range p.portions {
		w.shares[i] = p.portions[i].share
	}
	lineG := make([]float64, len(p.lines))
	for i := range p.lines {
		lineG[i] = p.lines[i].grams
	}
	w.in = p.batch(lineG, w.shares)
	w.doseG = make([]float64, len(p.doses))
	p.doseGrams(&w.in, w.doseG)
	if err := e.adjust(ctx, p, &w.in, w.doseG); err != nil {
		return nil, err
	}
	w.in.Doses = p.settleDoses(w.doseG)
	if err := p.heldBackFits(&w.in); err != nil {
		return nil, err
	}
	w.r = settle.Settle(&w.in)
	w.exactIn, w.exact = w.in, w.r
	return w, nil
}

// batch is the settling input without its doses.
func (p *plan) batch(lineG, shares []float64) settle.Batch {
	b := settle.Batch{Shares: shares, Water: p.water, Lines: make([]settle.Line, len(p.lines))}
	for i := range p.lines {
		b.Lines[i] = settle.Line{G: lineG[i], Need: p.lines[i].need, Free: p.lines[i].free}
	}
	for k := range p.alkali {
		b.Alkali.Stock[k] = p.stockOf(k)
		b.Alkali.Share[k] = p.alkali[k].share
		b.Alkali.Mol[k] = p.alkali[k].mol
	}
	b.Alkali.Fixed = p.given
	b.Alkali.Superfat = p.recipe.Alkali.SuperfatPct.Or(0) / 100
	return b
}

// doseGrams works out the grams of every dose and carrier from the fats of the
// batch. Doses in percent of the asked water come last: W0 may depend on what
// other doses hold back.
func (p *plan) doseGrams(b *settle.Batch, g []float64) {
	if len(p.doses) == 0 {
		return
	}
	fats := totalFats(b)
	ofWater := false
	for i := range p.doses {
		d := &p.doses[i]
		switch {
		case d.carrierOf >= 0:
			g[i] = float64(g[d.carrierOf] * d.perG)
		case d.spec.OfAskedWaterPct.Set():
			ofWater, g[i] = true, 0
		default:
			g[i] = d.grams(fats, p.shareOf(d))
		}
	}
	if !ofWater {
		return
	}
	in := *b
	in.Doses = p.settleDoses(g)
	asked := settle.AskedBeforeAcids(&in)
	for i := range p.doses {
		d := &p.doses[i]
		if v, ok := d.spec.OfAskedWaterPct.Get(); ok && d.carrierOf < 0 {
			g[i] = float64(asked*p.shareOf(d)) * v / 100
		} else if d.carrierOf >= 0 {
			g[i] = float64(g[d.carrierOf] * d.perG)
		}
	}
}

// shareOf is the share of the batch that a dose's percent refers to.
func (p *plan) shareOf(d *planDose) float64 {
	if d.portion == settle.Whole || d.spec.Basis == BasisBatchFats {
		return 1
	}
	return p.portions[d.portion].share
}

// grams of a dose stated by mass, percent of fats or spoons.
func (d *planDose) grams(fats, share float64) float64 {
	switch {
	case d.spec.Mass.Given():
		return float64(d.spec.Mass.Grams())
	case d.spec.OfFatsPct.Set():
		return float64(fats*share) * d.spec.OfFatsPct.Or(0) / 100
	case d.spec.Spoons != nil:
		g := float64(d.spec.Spoons.TeaspoonsUS * d.perTsp)
		if per := d.spec.Spoons.PerFats; per.Given() {
			return g * float64(fats*share) / float64(per.Grams())
		}
		return g
	}
	return 0
}

// settleDoses are the doses as the settling rules see them.
func (p *plan) settleDoses(g []float64) []settle.Dose {
	if len(p.doses) == 0 {
		return nil
	}
	out := make([]settle.Dose, len(p.doses))
	for i := range p.doses {
		d := &p.doses[i]
		s := settle.Dose{
			G: g[i], Portion: d.portion, HeldBack: d.heldBack, Added: d.added,
			Acid: d.adj.AlkaliMolPerG, Dry: d.dry,
			Water: d.adj.WaterGPerG, FromRecipe: d.fromRec,
			Bound: d.adj.BoundWaterGPerG, Requested: d.adj.RequestedWaterGPerG,
			BeforeLye: d.stage == StageWaterBeforeLye,
		}
		if d.onSurface() {
			// It meets no lye and no water of the batter; only its mass counts.
			out[i] = settle.Dose{G: g[i], Portion: d.portion, HeldBack: d.heldBack, OnSurface: true}
			continue
		}
		if p.grant {
			s.Granted = float64(g[i] * s.Requested)
		}
		for j := range d.fats {
			f := &d.fats[j]
			s.Need += float64(f.perG * molPerG(f.part.sv))
			if f.part.free {
				s.Free += float64(f.perG * molPerG(f.part.sv))
			}
		}
		out[i] = s
	}
	return out
}

// onSurface tells whether a dose stays on the poured surface.
func (d *planDose) onSurface() bool { return d.stage == StageSurface }

// heldBackFits refuses a batch that holds back more of a fat than it has.
func (p *plan) heldBackFits(b *settle.Batch) error {
	for i := range p.lines {
		held := 0.0
		for j := range b.Doses {
			if b.Doses[j].HeldBack == i {
				held += b.Doses[j].G
			}
		}
		if held > b.Lines[i].G*(1+heldSlack) {
			return &Impossible{
				Reason:  ImpossibleHeldBack,
				Text:    "The doses hold back " + rounded(held, 2) + " g of " + p.lines[i].name + ", but the recipe has " + rounded(b.Lines[i].G, 2) + " g. Use less carrier, another fat, or extra: true for fat beyond the recipe.",
				Numbers: []Figure{{"held_back_g", held, "g"}, {"on_recipe_g", b.Lines[i].G, "g"}},
			}
		}
	}
	return nil
}
