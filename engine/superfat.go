package engine

import (
	"math"
	"strings"

	"lixivium.example/engine/settle"
	"lixivium.example/engine/spread"
	"lixivium.example/engine/unit"
)

// interval is the probability of the answered interval.
const interval = 0.95

// sourceKind tells what a source of uncertainty is.
type sourceKind int

const (
	fromPurity sourceKind = iota
	fromAlkaliBalance
	fromSV
	fromFatBalance
	fromAcid
	fromDoseBalance
)

// source is a source of uncertainty and what it is about.
type source struct {
	kind sourceKind
	name string
	id   string
	cert bool
}

// shareModel is the superfat of one portion, or of the batch, with everything
// that is unsure about it. Two lots of one fat are one source.
type shareModel struct {
	model   spread.Model
	sources []source
	// upper bounds: further need of waxes, alkali that acids may take beyond
	// their best estimate; they widen the superfat upward only.
	moreNeed, moreAcid float64
	contributions      []spread.Contribution
}

// model builds the uncertainty of a portion of share f of the base, or of the
// batch (portion settle.Whole, f 1).
func (w *work) model(portion int, f float64, m *shareModel) {
	m.model.Sources, m.sources = m.model.Sources[:0], m.sources[:0]
	m.moreNeed, m.moreAcid = 0, 0
	if portion == settle.Whole {
		m.model.Alkali, m.model.Fat = w.r.A-w.r.SumQ, w.r.B-w.r.Lacking+w.r.SumB
	} else {
		p := &w.r.Portions[portion]
		m.model.Alkali, m.model.Fat = p.Alkali, p.Need
	}
	for k := range w.r.Mol {
		if mol := float64(f * w.r.Mol[k]); mol != 0 {
			a := &w.p.alkali[k]
			m.add(source{kind: fromPurity, name: a.name, id: alkaliField[k], cert: a.stated}, mol*a.half/a.pure, 0, false)
			m.balance(w, w.weigh.alkali[k], source{kind: fromAlkaliBalance, name: a.name, id: alkaliField[k]}, f/w.in.Alkali.Stock[k].MassGMol, 0)
		}
	}
	for i := range w.p.lines {
		w.fatSources(portion, f, i, m)
	}
	for i := range w.p.doses {
		w.doseSources(portion, f, i, m)
	}
}

// add appends a source that is not nothing.
func (m *shareModel) add(s source, alkali, fat float64, twice bool) {
	if alkali == 0 && fat == 0 {
		return
	}
	m.sources = append(m.sources, s)
	m.model.Sources = append(m.model.Sources, spread.Source{Name: s.id, Alkali: alkali, Fat: fat, Twice: twice})
}

// balance adds the step of a balance: tare and reading both rounded, each part
// of a split line on its own.
func (m *shareModel) balance(w *work, x weight, s source, alkaliPerG, fatPerG float64) {
	if x.scale < 0 {
		return
	}
	half := w.p.balances[x.scale].step / 2
	if x.parts > 1 {
		half *= math.Sqrt(float64(x.parts))
	}
	m.add(s, half*alkaliPerG, half*fatPerG, true)
}

// fatSources adds what is unsure about a fat line: the value of each of its
// fats, and the balance.
func (w *work) fatSources(portion int, f float64, i int, m *shareModel) {
	l := &w.p.lines[i]
	everywhere, here, surface := w.heldFor(i, portion)
	g := w.in.Lines[i].G - surface
	if portion != settle.Whole {
		g = float64(f*(g-everywhere)) + here
	}
	for j := range l.parts {
		m.sv(&l.parts[j], float64(g*l.parts[j].share))
	}
	m.balance(w, w.weigh.lines[i], source{kind: fromFatBalance, name: l.name, id: l.id}, 0, f*l.need)
}

// heldFor is what doses take out of a line for all portions, for one of them,
// and for the surface, g.
func (w *work) heldFor(line, portion int) (everywhere, here, surface float64) {
	for i := range w.in.Doses {
		d := &w.in.Doses[i]
		switch {
		case d.HeldBack != line:
		case d.OnSurface:
			surface += d.G
		case d.Portion != settle.Whole:
			everywhere += d.G
			if d.Portion == portion {
				here += d.G
			}
		}
	}
	return everywhere, here, surface
}

// sv adds a saponification value: a rectangle over its range, joined with an
// earlier source of the same key.
func (m *shareModel) sv(pt *planPart, g float64) {
	if g == 0 {
		return
	}
	m.moreNeed += float64(g * molPerG(pt.extra))
	half := float64(g * molPerG((pt.high-pt.low)/2))
	// The range need not lie evenly about the value in use.
	m.model.Fat += float64(g * molPerG(float64((pt.high+pt.low)/2)-pt.sv))
	for i := range m.sources {
		if m.sources[i].kind == fromSV && m.sources[i].id == pt.key {
			m.model.Sources[i].Fat += half
			return
		}
	}
	m.add(source{kind: fromSV, name: pt.name, id: pt.key, cert: pt.certified}, 0, half, false)
}

// doseSources adds what is unsure about a dose: its assay, the fats it brings,
// the balance.
func (w *work) doseSources(portion int, f float64, i int, m *shareModel) {
	d, x := &w.p.doses[i], &w.in.Doses[i]
	c := 1.0
	switch {
	case x.HeldBack >= 0 || x.OnSurface:
		return
	case portion == settle.Whole || x.Portion == portion:
	case x.Portion == settle.Whole:
		c = f
	default:
		return
	}
	g := float64(c * x.G)
	s := source{kind: fromAcid, name: d.name, id: d.id}
	m.add(s, -g*d.adj.AlkaliHalfMolPerG, 0, false)
	m.moreAcid += float64(g * max(0, d.adj.AlkaliHighMolPerG-d.adj.AlkaliMolPerG))
	for j := range d.fats {
		m.sv(&d.fats[j].part, g*d.fats[j].perG)
	}
	if x.Acid != 0 || x.Need != 0 {
		s.kind = fromDoseBalance
		m.balance(w, w.weigh.doses[i], s, -c*x.Acid, c*x.Need)
	}
}

// superfats answers the batch and every portion. Portions without doses of
// their own share the batch's figures.
func (w *work) superfats() {
	n := 4 + 2*len(w.p.lines) + 2*len(w.p.doses)
	m := &shareModel{sources: make([]source, 0, n)}
	m.model.Sources = make([]spread.Source, 0, n)
	m.contributions = make([]spread.Contribution, 0, n)
	w.batch = w.superfat(settle.Whole, 1, w.r.Superfat, m)
	w.portions = make([]Superfat, len(w.shares))
	own := w.ownFigures()
	for i, f := range w.shares {
		if own {
			w.portions[i] = w.superfat(i, f, w.r.Portions[i].Superfat, m)
		} else {
			w.portions[i] = w.batch
		}
		w.portions[i].PortionID = w.p.portions[i].id
	}
	w.r.Lowest = w.lowestPortion()
}

// lowestPortion is the one with the least superfat; of those that are equal but
// for the rounding of the sums, the one that may be leanest.
func (w *work) lowestPortion() int {
	low := 0
	for i := range w.portions {
		switch d := float64(w.portions[i].Pct - w.portions[low].Pct); {
		case d < -1e-9, d < 1e-9 && w.portions[i].LowPct < w.portions[low].LowPct:
			low = i
		}
	}
	return low
}

// ownFigures tells whether any dose makes one portion's superfat, or the doubt
// about it, its own.
func (w *work) ownFigures() bool {
	for i := range w.in.Doses {
		d, a := &w.in.Doses[i], &w.p.doses[i].adj
		if d.Portion == settle.Whole || d.OnSurface {
			continue
		}
		if d.Acid != 0 || d.Need != 0 || d.HeldBack >= 0 || a.AlkaliHalfMolPerG != 0 || a.AlkaliHighMolPerG != 0 {
			return true
		}
	}
	return false
}

// superfat is the best estimate and its uncertainty.
func (w *work) superfat(portion int, f, best float64, m *shareModel) Superfat {
	w.model(portion, f, m)
	o := m.model.Odds(interval)
	if m.model.Check() != nil {
		// The need is as unsure as it is large: nothing can be said, and nothing
		// is never harmless.
		o = spread.Odds{Low: -1, High: 1, WorstLow: -1, Excess: 1, OverCaustic: 1}
	}
	bounded := false
	if m.moreNeed > 0 || m.moreAcid > 0 {
		upper := m.model
		upper.Alkali -= m.moreAcid
		upper.Fat += m.moreNeed
		with := max(o.High, upper.Quantile((1+interval)/2))
		bounded = with-o.High > worthWords
		o.High = with
	}
	// A value at the end of its range can lie beyond the interval of the rest.
	o.Low, o.High = min(o.Low, best), max(o.High, best)
	o.WorstLow = min(o.WorstLow, o.Low)
	s := Superfat{
		Pct: pct(best), UncertaintyPct: pct(o.Uncertainty),
		LowPct: pct(o.Low), HighPct: pct(o.High), WorstPct: pct(o.WorstLow),
		ExcessPct: pct(o.Excess), FreeCausticPct: pct(o.OverCaustic),
	}
	if most, share := m.mostUnsure(); most != nil {
		s.DominatedBy, s.DominatedSharePct = most.words(), share
	}
	if bounded {
		s.DominatedBy = strings.TrimPrefix(s.DominatedBy+"; the upper end, alkali that waxes or sugars may take", "; ")
	}
	s.Verdict = w.verdict(&s)
	return s
}

func pct(fraction float64) unit.Percent { return unit.Percent(100 * fraction) }

// mostUnsure is the source that the uncertainty comes from mostly, and its share
// of the variance; nil when nothing is unsure.
func (m *shareModel) mostUnsure() (*source, unit.Percent) {
	m.contributions = m.model.Contributions(m.contributions[:0])
	best := -1
	for i := range m.contributions {
		if best < 0 || m.contributions[i].Share > m.contributions[best].Share {
			best = i
		}
	}
	if best < 0 {
		return nil, 0
	}
	return &m.sources[best], pct(m.contributions[best].Share)
}

// words names a source for people.
func (s *source) words() string {
	name := lowerFirst(s.name)
	switch s.kind {
	case fromPurity:
		return "purity of the " + name
	case fromAlkaliBalance, fromFatBalance, fromDoseBalance:
		return "balance step for " + name
	case fromAcid:
		return "strength of " + name
	}
	return "saponification value of " + name
}

// worthWords is the widening by upper bounds from which it is said, a fraction.
const worthWords = 0.005

// Probabilities in percent at which a verdict changes.
const (
	excessDanger  = 25
	causticDanger = 10
	excessCaution = 2.5
)

// verdict judges a superfat. A cleaning bar is meant to have little, so only
// its best estimate can make it a danger; it always carries a caution.
func (w *work) verdict(s *Superfat) Severity {
	switch {
	case s.Pct < 0:
		return Danger
	case w.p.recipe.CleaningBar:
		return Caution
	case s.ExcessPct >= excessDanger || s.FreeCausticPct >= causticDanger:
		return Danger
	case s.ExcessPct >= excessCaution:
		return Caution
	}
	return Silent
}
