package engine

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"lixivium.example/engine/settle"
	"lixivium.example/engine/spell"
)

// adjust asks the owners of the doses what one gram of each does. The question
// holds shares and no gram of the batch.
func (e *Engine) adjust(ctx context.Context, p *plan, b *settle.Batch, g []float64) error {
	q := &AdjustQuestion{Conditions: p.conditions()}
	for i := range p.doses {
		d := &p.doses[i]
		if !d.owned {
			continue
		}
		if d.info.ID == "" {
			return &MissingOwner{Additive: d.spec.Additive, DoseID: d.id, Path: d.path.at("additive").String(), Suggestions: e.ownedLike(d.spec.Additive)}
		}
		q.Doses = append(q.Doses, p.view(i, b, g))
	}
	if len(q.Doses) == 0 && !e.watched(p) {
		return nil
	}
	q.FatPct = p.fatPct(b)
	a, err := e.additives.Adjust(ctx, q)
	if err != nil {
		return err
	}
	if err := p.rejected(a.Rejections); err != nil {
		return err
	}
	if err := p.failed(a.Failures); err != nil {
		return err
	}
	for i := range a.FatFactors {
		f := &a.FatFactors[i]
		if err := errors.Join(f.TraceTime.check("trace_time_factor"), f.Firmness.check("firmness_factor")); err != nil {
			return fmt.Errorf("the plugin that watches %q broke its contract: %w", f.Fat, err)
		}
	}
	p.fatFactors = a.FatFactors
	return p.take(a.Adjustments)
}

// ownedLike are owned additives whose names resemble one that nobody owns.
func (e *Engine) ownedLike(name string) []string {
	all, ok := e.additives.(Lister)
	if !ok {
		return nil
	}
	others := slices.DeleteFunc(slices.Clone(all.Owned()), func(id string) bool { return id == name })
	return spell.Near(name, others, maxNear)
}

// watched tells whether an owner watches a fat of the recipe.
func (e *Engine) watched(p *plan) bool {
	w, ok := e.additives.(FatWatcher)
	if !ok {
		return false
	}
	watched := w.WatchedFats()
	if len(watched) == 0 {
		return false
	}
	for i := range p.lines {
		for j := range p.lines[i].parts {
			if row := p.lines[i].parts[j].row; row != nil && slices.Contains(watched, row.ID) {
				return true
			}
		}
	}
	return false
}

// take hands every dose its adjustment.
func (p *plan) take(answers []Adjustment) error {
	byID := make(map[string]*Adjustment, len(answers))
	for i := range answers {
		byID[answers[i].DoseID] = &answers[i]
	}
	for i := range p.doses {
		d := &p.doses[i]
		if !d.owned || d.missing {
			continue
		}
		a, ok := byID[d.id]
		if !ok {
			return fmt.Errorf("the owner of %q answered nothing for dose %q", d.spec.Additive, d.id)
		}
		if err := a.Check(); err != nil {
			return fmt.Errorf("the owner of %q broke its contract for dose %q: %w", d.spec.Additive, d.id, err)
		}
		var c checker
		d.adj = *a
		c.brought(d.path.at("additive"), d)
		if err := c.err(); err != nil {
			return fmt.Errorf("the owner of %q brings a fat that is not in the catalog: %w", d.spec.Additive, err)
		}
	}
	return nil
}

// rejected turns what owners reject into violations at the caller's paths.
func (p *plan) rejected(list []Rejection) error {
	var c checker
	for _, r := range list {
		for i := range p.doses {
			if d := &p.doses[i]; d.id == r.DoseID && d.carrierOf < 0 {
				w := d.path
				if r.Field != "" {
					w = w.at(r.Field)
				}
				c.add(w, r.Reason, r.Text)
			}
		}
	}
	return c.err()
}

// failed refuses a batch whose owner did not answer, unless the caller allowed
// an incomplete answer and no mass of alkali or fat depends on that owner.
func (p *plan) failed(list []Failure) error {
	for _, f := range list {
		if !p.allowIncomplete || grants(f.Grants, GrantAlkali, GrantFats) {
			return &OwnerFailed{Failure: f}
		}
		p.waterUnknown = p.waterUnknown || grants(f.Grants, GrantWater)
		p.missing = append(p.missing, f.Plugin)
		for i := range p.doses {
			for _, id := range f.DoseIDs {
				if p.doses[i].id == id {
					p.doses[i].missing = true
					p.doses[i].adj = Adjustment{DoseID: id, DensityGPerML: 1, Evidence: Evidence{Basis: BasisUnknown, Source: "its plugin did not answer"}}
				}
			}
		}
	}
	return nil
}

// grants tells whether any of the rights is among those held.
func grants(held []Grant, any ...Grant) bool {
	for _, h := range held {
		for _, a := range any {
			if h == a {
				return true
			}
		}
	}
	return false
}

// conditions are the process as owners see it.
func (p *plan) conditions() Conditions {
	q := &p.recipe.Process
	n, k := p.alkali[settle.NaOH].share, p.alkali[settle.KOH].share
	if p.given {
		n, k = p.alkali[settle.NaOH].mol, p.alkali[settle.KOH].mol
	}
	c := Conditions{FatsC: q.FatsC, LyeC: q.LyeC, RoomC: q.RoomC, Gel: q.Gel}
	if n+k > 0 {
		c.KOHOfMolesPct = 100 * k / (n + k)
	}
	return c
}

// fatPct is the recipe fats by catalog id, in percent.
func (p *plan) fatPct(b *settle.Batch) map[string]float64 {
	fats := totalFats(b)
	out := map[string]float64{}
	for i := range p.lines {
		for j := range p.lines[i].parts {
			if pt := &p.lines[i].parts[j]; pt.row != nil {
				out[pt.row.ID] += float64(100*b.Lines[i].G*pt.share) / fats
			}
		}
	}
	return out
}

// totalFats is the recipe fats of a batch, g.
func totalFats(b *settle.Batch) float64 {
	fats := 0.0
	for j := range b.Lines {
		fats += b.Lines[j].G
	}
	return fats
}

// view is a dose as owners see it.
func (p *plan) view(i int, b *settle.Batch, g []float64) DoseView {
	d := &p.doses[i]
	share := 1.0
	v := DoseView{ID: d.id, Additive: d.spec.Additive, Stage: d.stage, OfFatsPct: 100 * g[i] / totalFats(b)}
	if d.portion != settle.Whole {
		share, v.PortionID = p.portions[d.portion].share, p.portions[d.portion].id
	}
	v.OfPortionFatsPct = v.OfFatsPct / share
	v.Parameters = make(map[string]float64, len(d.info.Parameters))
	for _, q := range d.info.Parameters {
		v.Parameters[q.Name] = q.Default
	}
	for _, name := range sortedKeys(d.spec.Parameters) {
		v.Parameters[name] = d.spec.Parameters[name]
	}
	if c := d.spec.Carrier; c != nil {
		v.CarrierGPerG = c.GPerG
		switch {
		case c.Water:
			v.CarrierKind = "water"
		case c.Custom != nil:
			v.CarrierKind = "other"
		default:
			v.CarrierKind = c.Fat
		}
	}
	return v
}
