package sheet

import (
	"fmt"
	"slices"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// Reconciliation writes what weighed masses imply and how to put them right
// before lye and fats are combined.
func Reconciliation(r *lixiviumv1.ReconcileWeightsResponse, o Options) string {
	p := &page{}
	p.title(o.title() + ", before combining")
	p.incomplete(r.GetPlan())
	switch {
	case r.GetGoOn():
		p.wrap("", "  ", "Go on: the weighed masses serve as well as the planned ones.")
	case len(r.GetCorrections()) > 0:
		p.wrap("", "  ", "STOP: put the masses right before lye and fats meet.")
	default:
		p.wrap("", "  ", "STOP: do not combine. Read the findings.")
	}
	p.superfat(r.GetSuperfat(), o)
	p.wrapf("  ", "  ", "Planned: %s.", percent(r.GetPlannedSuperfat().GetSuperfatPct()))
	p.findings("LOOK FIRST", r.GetFindings())
	if !r.GetGoOn() {
		p.corrections(r, o)
	}
	p.origin(r.GetPlan().GetOrigin())
	return p.String()
}

// corrections writes what to add, in the order in which vessels are filled.
func (p *page) corrections(r *lixiviumv1.ReconcileWeightsResponse, o Options) {
	place := map[string]int{}
	vessel := map[string]string{}
	for _, b := range blocks(r.GetPlan(), o) {
		for _, l := range b.lines {
			place[l.GetLineId()] = len(place)
			vessel[l.GetLineId()] = b.heading
		}
	}
	list := slices.Clone(r.GetCorrections())
	slices.SortStableFunc(list, func(a, b *lixiviumv1.WeightCorrection) int { return place[a.GetLineId()] - place[b.GetLineId()] })

	var c columns
	rows := make([]row, len(list))
	for i, x := range list {
		rows[i] = correction(x, o)
		if x.GetAddG() != 0 {
			c.fit(rows[i])
		}
	}
	p.heading("TO ADD")
	p.wrapf("  ", "  ", "Every line is brought to %s times the plan; the batch then has a superfat of %s.",
		decimal(r.GetFactor(), 4), percent(r.GetCorrectedSuperfatPct()))
	last := ""
	for i, x := range list {
		if heading := vessel[x.GetLineId()]; heading != last {
			p.heading(heading)
			last = heading
		}
		if x.GetAddG() == 0 {
			p.wrap("      ", "        ", rows[i].what)
			continue
		}
		p.row(c, rows[i])
	}
}

// correction is what to add to one line. It is no multiple of any balance's
// step, and is shown to a tenth of a gram.
func correction(x *lixiviumv1.WeightCorrection, o Options) row {
	large, small := o.mass(x.GetAddG(), nil)
	planned, _ := o.mass(x.GetPlannedG(), nil)
	actual, _ := o.mass(x.GetActualG(), nil)
	target, _ := o.mass(x.GetTargetG(), nil)
	if x.GetAddG() == 0 {
		return row{what: fmt.Sprintf("%s: nothing to add (%s weighed, %s planned)", x.GetMaterial(), actual, planned)}
	}
	return row{large, small, fmt.Sprintf("more %s: %s weighed, %s planned, to %s", x.GetMaterial(), actual, planned, target)}
}
