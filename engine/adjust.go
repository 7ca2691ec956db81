package engine

import (
	"context"
	"fmt"

	"lixivium.example/engine/settle"
)

// adjust asks the owners of the doses what one gram of each does. The question
// holds shares and no gram of the batch.
func (e *Engine) adjust(ctx context.Context, p *plan, b *settle.Batch, g []float64) error {
	q := AdjustQuestion{Conditions: p.conditions()}
	for i := range p.doses {
		d := &p.doses[i]
		if !d.owned {
			continue
		}
		if e.additives == nil {
			return &MissingOwner{Additive: d.spec.Additive, DoseID: d.id}
		}
		if _, ok := e.additives.Owner(d.spec.Additive); !ok {
			return &MissingOwner{Additive: d.spec.Additive, DoseID: d.id}
		}
		q.Doses = append(q.Doses, p.view(i, b, g))
	}
	if len(q.Doses) == 0 {
		return nil
	}
	q.FatPct = p.fatPct(b)
	answers, err := e.additives.Adjust(ctx, q)
	if err != nil {
		return err
	}
	byID := make(map[string]*Adjustment, len(answers))
	for i := range answers {
		byID[answers[i].DoseID] = &answers[i]
	}
	for i := range p.doses {
		d := &p.doses[i]
		if !d.owned {
			continue
		}
		a, ok := byID[d.id]
		if !ok {
			return fmt.Errorf("the owner of %q answered nothing for dose %q", d.spec.Additive, d.id)
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
	fats := 0.0
	for i := range b.Lines {
		fats += b.Lines[i].G
	}
	out := map[string]float64{}
	for i := range p.lines {
		for j := range p.lines[i].parts {
			if pt := &p.lines[i].parts[j]; pt.row != nil {
				out[pt.row.ID] += 100 * b.Lines[i].G * pt.share / fats
			}
		}
	}
	return out
}

// view is a dose as owners see it.
func (p *plan) view(i int, b *settle.Batch, g []float64) DoseView {
	d := &p.doses[i]
	fats := 0.0
	for j := range b.Lines {
		fats += b.Lines[j].G
	}
	share := 1.0
	v := DoseView{ID: d.id, Additive: d.spec.Additive, Stage: d.stage, OfFatsPct: 100 * g[i] / fats}
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
