package sheet

import (
	"fmt"
	"strings"
	"unicode/utf8"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// after writes what is looked up once the weights are known.
func (p *page) after(f *lixiviumv1.Formulation, o Options) {
	t := f.GetTotals()
	p.heading("BATCH")
	p.wrapf("  ", "  ", "Fats %s, batter %s or %s mL (%s g/mL), lye in the jug %s mL.", o.inText(t.GetFatsG()),
		o.inText(t.GetBatterG()), decimal(t.GetBatterMl(), 0), decimal(t.GetDensityGPerMl(), 3), decimal(t.GetJugMl(), 0))
	p.alkali(f.GetAlkali(), o)
	if len(o.Balances) == 0 {
		p.wrap("  ", "  ", "No balance was named: masses are exact and shown to 0.1 g.")
	}
	p.portions(f, o)
	p.fats(f)
}

// alkali writes with which purity the alkali was reckoned.
func (p *page) alkali(a *lixiviumv1.AlkaliAnswer, o Options) {
	one := func(name string, g, stockG, purity float64) {
		switch {
		case stockG > 0:
			p.wrapf("  ", "  ", "%s: %s of stock that holds %s pure alkali.", name, o.inText(stockG), percent(purity))
		case g > 0:
			p.wrapf("  ", "  ", "%s: reckoned with a purity of %s.", name, percent(purity))
		}
	}
	one("Sodium hydroxide", a.GetNaohG(), a.GetNaohStockG(), a.GetNaohPurityPct())
	one("Potassium hydroxide", a.GetKohG(), a.GetKohStockG(), a.GetKohPurityPct())
	if a.GetKohG() > 0 && a.GetNaohG() > 0 {
		p.wrapf("  ", "  ", "Potassium hydroxide is %s of the mol and %s of the grams of alkali.", percent(a.GetKohOfMolesPct()), percent(a.GetKohOfGramsPct()))
	}
}

func (p *page) portions(f *lixiviumv1.Formulation, o Options) {
	list := f.GetPortions()
	if len(list) < 2 {
		return
	}
	p.heading("PORTIONS")
	cells := [][]string{{"with doses", "mL", "strength", "superfat", "portion"}}
	for _, a := range list {
		large, _ := o.mass(a.GetBatterG(), nil)
		cells = append(cells, []string{large, decimal(a.GetBatterMl(), 0), percent(a.GetBatchStrengthPct()),
			percent(a.GetSuperfat().GetSuperfatPct()), o.portionName(a.GetPortionId())})
	}
	p.table(cells)
}

func (p *page) fats(f *lixiviumv1.Formulation) {
	p.heading("FATS (saponification value, mg KOH/g)")
	cells := [][]string{{"share", "value", "range", "basis", "fat"}}
	for _, x := range f.GetFats() {
		span := fmt.Sprintf("%s-%s", significant(x.GetSvLowMgKohPerG()), significant(x.GetSvHighMgKohPerG()))
		name := x.GetName()
		if extra := x.GetSvUpperBoundExtraMgKohPerG(); extra > 0 {
			name += fmt.Sprintf(" (may take up to %s more)", significant(extra))
		}
		cells = append(cells, []string{percent(x.GetShareOfFatsPct()), decimal(x.GetSvMgKohPerG(), 1), span, basis(x.GetEvidence()), name})
	}
	p.table(cells)
}

// table writes rows of cells: the last column is text and wraps, the others
// are as wide as they must be and stand to the right.
func (p *page) table(rows [][]string) {
	last := len(rows[0]) - 1
	widths := make([]int, last)
	for _, cells := range rows {
		for i := range last {
			widths[i] = max(widths[i], utf8.RuneCountInString(Plain(cells[i])))
		}
	}
	for _, cells := range rows {
		head := ""
		for i := range last {
			head += "  " + padLeft(Plain(cells[i]), widths[i])
		}
		head += "  "
		p.wrap(head, strings.Repeat(" ", utf8.RuneCountInString(head)), cells[last])
	}
}
