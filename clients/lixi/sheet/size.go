package sheet

import (
	"fmt"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// Size writes how a recipe was brought to a size: what the molds take, what is
// left on the shelf, what a bar weighs, and what does not carry over. The sheet
// to weigh out by follows it.
func Size(s *lixiviumv1.ScaleResponse, o Options) string {
	p := &page{}
	p.title(o.title() + ", brought to size")
	p.wrapf("", "  ", "Every mass of the recipe times %s.", significant(s.GetFactor()))
	if wanted := s.GetWantedBatterG(); wanted > 0 {
		p.wrapf("  ", "  ", "Batter wanted, losses included: %s.", o.inText(wanted))
		made := s.GetFormulation().GetTotals().GetBatterG()
		if len(s.GetBalances()) > 0 {
			p.wrapf("  ", "  ", "Batter on the balances named: %s.", o.inText(made))
		}
	}
	p.molds(s.GetMolds(), o)
	p.bar(s.GetBar(), o)
	p.shelf(s.GetStock(), o)
	p.findings("ABOUT THE SIZE", s.GetFindings())
	p.blank()
	return p.String()
}

func (p *page) molds(list []*lixiviumv1.MoldFill, o Options) {
	if len(list) == 0 {
		return
	}
	p.heading("MOLDS")
	cells := [][]string{{"count", "batter each", "filled", "to the brim", "mold"}}
	for _, m := range list {
		large, _ := o.mass(m.GetBatterG(), nil)
		brim := "-"
		if m.GetBrimMl() > 0 {
			brim = decimal(m.GetBrimMl(), 0) + " mL"
		}
		cells = append(cells, []string{fmt.Sprint(m.GetCount()), large, decimal(m.GetFilledMl(), 0) + " mL", brim, m.GetName()})
	}
	p.table(cells)
}

func (p *page) bar(b *lixiviumv1.BarAnswer, o Options) {
	if b == nil {
		return
	}
	p.heading("A BAR")
	p.wrapf("  ", "  ", "Fresh %s, cured %s: %s lost in the cure (%s).",
		o.inText(b.GetFreshG()), o.inText(b.GetCuredG()), percent(b.GetCureLossPct()), evidence(b.GetEvidence()))
}

// shelf writes what is left, first what runs out first.
func (p *page) shelf(list []*lixiviumv1.StockLeft, o Options) {
	if len(list) == 0 {
		return
	}
	p.heading("LEFT ON THE SHELF (what runs out first stands first)")
	cells := [][]string{{"left", "used", "on hand", "line"}}
	for _, x := range list {
		left, _ := o.mass(x.GetLeftG(), nil)
		used, _ := o.mass(x.GetUsedG(), nil)
		onHand, _ := o.mass(x.GetOnHandG(), nil)
		name := x.GetLineId()
		if x.GetScarcest() {
			name += " (sets the size)"
		}
		cells = append(cells, []string{left, used, onHand, name})
	}
	p.table(cells)
}
