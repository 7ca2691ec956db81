package sheet

import (
	"fmt"
	"strings"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// Formulation writes the sheet that a batch is weighed out by.
func Formulation(f *lixiviumv1.Formulation, o Options) string {
	p := &page{}
	p.title(o.title())
	if o.FitLeftOut {
		p.wrap("", "  ", "At the size of the recipe; lixi scale brings it to the fit in the file.")
	}
	p.incomplete(f)
	v := verdict(f)
	danger := strings.HasPrefix(v, "DANGER")
	if danger {
		p.wrap("", "  ", v)
	}
	p.superfat(f.GetSuperfat(), o)
	p.wholeBatch(f)
	p.assumptions(f.GetSuperfatIfPct())
	p.water(f, o)
	list := f.GetFindings()
	above := min(mostAbove, len(list))
	p.findings("LOOK FIRST", list[:above])
	if danger {
		p.heading("DO NOT WEIGH THIS OUT AS IT STANDS. The lines below show what was asked.")
	}
	p.weighOut(f, o)
	p.handling(f.GetDoses())
	p.findings("ALSO", list[above:])
	p.trace(f.GetBehavior().GetTrace())
	p.safety(f.GetSafety())
	p.after(f, o)
	p.origin(f.GetOrigin())
	return p.String()
}

// incomplete says first what an answer lacks.
func (p *page) incomplete(f *lixiviumv1.Formulation) {
	if missing := f.GetMissingPlugins(); len(missing) > 0 {
		p.wrapf("", "  ", "INCOMPLETE: no answer from %s. What they know is missing from this sheet.", strings.Join(missing, ", "))
		p.blank()
	}
}

// wholeBatch shows the superfat of the batch where a portion has less.
func (p *page) wholeBatch(f *lixiviumv1.Formulation) {
	if f.GetSuperfat().GetPortionId() != "" {
		p.wrapf("  ", "  ", "The batch as a whole has %s.", percent(f.GetBatchSuperfat().GetSuperfatPct()))
	}
}

// water writes the asked water in its four forms and both strengths.
func (p *page) water(f *lixiviumv1.Formulation, o Options) {
	w := f.GetWater()
	if w == nil {
		if len(f.GetMissingPlugins()) > 0 {
			p.wrap("", "  ", "Water: withheld, because it depends on what is missing.")
		}
		return
	}
	p.wrapf("", "  ", "Water %s: %s lye, %s g for each g of alkali, %s of the fats.", o.inText(w.GetAskedG()),
		percent(w.GetLyeConcentrationPct()), decimal(w.GetWaterPerAlkaliRatio(), 2), percent(w.GetWaterOfFatsPct()))
	p.wrapf("  ", "  ", "Strength in the jug %s, of the batch %s.", percent(w.GetJugStrengthPct()), percent(w.GetBatchStrengthPct()))
	var parts []string
	add := func(g float64, words string) {
		if g > 0.005 {
			parts = append(parts, o.inText(g)+" "+words)
		}
	}
	add(w.GetFromStockG(), "from the stock")
	add(w.GetInAlkaliG(), "held by the solid alkali")
	add(w.GetBroughtG(), "brought by additives")
	add(w.GetFormedG(), "formed by acids")
	add(w.GetGrantedG(), "granted on request")
	add(w.GetBoundG(), "bound")
	if len(parts) > 0 {
		p.wrapf("  ", "  ", "Of all water %s: %s; %s free.", o.inText(w.GetTotalG()), strings.Join(parts, ", "), o.inText(w.GetFreeG()))
	}
}

func (p *page) safety(lines []*lixiviumv1.SafetyLine) {
	if len(lines) == 0 {
		return
	}
	p.heading("SAFETY")
	for _, l := range lines {
		p.wrap("  - ", "    ", l.GetText())
	}
}

func (p *page) origin(o *lixiviumv1.Origin) {
	p.blank()
	plugins := "no plugins"
	if list := o.GetPlugins(); len(list) > 0 {
		words := make([]string, len(list))
		for i, x := range list {
			words[i] = fmt.Sprintf("%s %s (%s)", x.GetName(), x.GetVersion(), x.GetDigest())
		}
		plugins = "plugins " + strings.Join(words, ", ")
	}
	p.wrapf("", "  ", "Lixivium engine %s, %s,", o.GetEngineVersion(), plugins)
	p.wrapf("", "  ", "data %s", o.GetDataDigest())
}
