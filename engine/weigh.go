package engine

import (
	"math"
	"slices"
	"strings"

	"lixivium.example/engine/lye"
	"lixivium.example/engine/settle"
	"lixivium.example/engine/unit"
)

// weight is what goes on a balance for one line.
type weight struct {
	exact, g float64
	scale    int // index of the balance, or -1
	parts    int
}

// weights are those of a whole batch.
type weights struct {
	lines  []weight // the part of each fat line that goes into the pot
	doses  []weight
	grants []weight             // water granted to doses of a portion
	alkali [settle.Kinds]weight // of the material: solid or stock
	water  weight               // jug, granted requests of whole-batch doses included
}

// direction of rounding.
type direction int

const (
	nearest direction = iota
	up
	down
)

// onScale rounds a mass to the finest balance that holds the rounded mass. A
// mass above every capacity is split evenly, each part with a step of its own.
func (p *plan) onScale(g float64, d direction) weight {
	best, largest := -1, -1
	for i := range p.balances {
		s := &p.balances[i]
		if largest < 0 || s.capacity > p.balances[largest].capacity {
			largest = i
		}
		if toStep(g, s.step, d) <= s.capacity && (best < 0 || s.step < p.balances[best].step) {
			best = i
		}
	}
	if best >= 0 {
		return weight{exact: g, g: toStep(g, p.balances[best].step, d), scale: best, parts: 1}
	}
	s := &p.balances[largest]
	n := math.Ceil(g / s.capacity)
	for toStep(g/n, s.step, d) > s.capacity {
		n++
	}
	return weight{exact: g, g: n * toStep(g/n, s.step, d), scale: largest, parts: int(n)}
}

// stepSlack is how near to a step counts as on it, in steps: it absorbs the
// rounding of sums.
const stepSlack = 1e-9

// toStep rounds to whole steps. Where 1/step is whole the result is the decimal
// nearest to it (0.3, not 3 × 0.1).
func toStep(g, step float64, d direction) float64 {
	k := g / step
	switch d {
	case up:
		k = math.Ceil(k - stepSlack)
	case down:
		k = math.Floor(k + stepSlack)
	default:
		k = math.Floor(k + 0.5 + stepSlack)
	}
	if inv := math.Round(1 / step); inv >= 1 && math.Abs(1/step-inv) < 1e-9*inv {
		return k / inv
	}
	return k * step
}

// exactWeights are those of a batch without balances.
func (w *work) exactWeights() {
	one := func(g float64) weight { return weight{exact: g, g: g, scale: -1, parts: 1} }
	w.weigh.lines = make([]weight, len(w.p.lines))
	for i := range w.p.lines {
		w.weigh.lines[i] = one(w.rest(i))
	}
	w.weigh.doses = make([]weight, len(w.p.doses))
	w.weigh.grants = make([]weight, len(w.p.doses))
	for i := range w.p.doses {
		w.weigh.doses[i] = one(w.doseG[i])
		w.weigh.grants[i] = one(w.in.Doses[i].Granted)
	}
	for i := range w.p.doses {
		if d := &w.p.doses[i]; d.carrierOf >= 0 && d.premixed {
			w.weigh.doses[d.carrierOf] = one(w.doseG[d.carrierOf] + w.doseG[i])
			w.weigh.doses[i] = weight{scale: -1}
		}
	}
	for k := range w.weigh.alkali {
		w.weigh.alkali[k] = one(float64(w.r.Mol[k] * w.in.Alkali.Stock[k].MassGMol))
	}
	w.weigh.water = one(w.r.Plain + w.r.GrantJug)
}

// held is what doses take out of a line, g.
func (w *work) held(line int) float64 {
	g := 0.0
	for i := range w.in.Doses {
		if w.in.Doses[i].HeldBack == line {
			g += w.in.Doses[i].G
		}
	}
	return g
}

// heldSlack is how far doses may seem to hold back more or less of a line than
// there is, a fraction of it: the rounding of the sums.
const heldSlack = 1e-12

// rest is what stays of a line beside what doses take out of it, g. A remainder
// within the rounding of the sums is none, or it would be a line of its own.
func (w *work) rest(line int) float64 {
	g := w.in.Lines[line].G
	rest := g - w.held(line)
	if math.Abs(rest) <= heldSlack*g {
		return 0
	}
	return rest
}

// direction in which a dose is rounded: up where it takes alkali or brings fat,
// so that rounding cannot make the batch lye-heavy.
func (w *work) doseDirection(i int) direction {
	d := &w.in.Doses[i]
	if d.HeldBack >= 0 || d.Acid > 0 || d.Need > 0 {
		return up
	}
	return nearest
}

// round brings every line to a balance and settles the batch anew from what is
// weighed: fats up; then doses from the rounded fats; then alkali from both,
// down, each kind; then water from the rounded alkali. Given alkali is never
// rounded.
func (w *work) round() error {
	p := w.p
	w.weigh.lines = make([]weight, len(p.lines))
	w.weigh.doses = make([]weight, len(p.doses))
	in := w.in
	in.Lines = slices.Clone(w.in.Lines)
	for i := range p.lines {
		w.weigh.lines[i] = p.onScale(w.rest(i), up)
		in.Lines[i].G = w.weigh.lines[i].g + w.held(i)
	}
	exact := w.in
	w.in = in
	g := slices.Clone(w.doseG)
	p.doseGrams(&w.in, g)
	for i := range p.doses {
		if d := &p.doses[i]; d.carrierOf >= 0 {
			g[i] = float64(g[d.carrierOf] * d.perG) // of the rounded dose
		}
		w.weigh.doses[i] = p.onScale(g[i], w.doseDirection(i))
		g[i] = w.weigh.doses[i].g
	}
	w.premixes(g)
	w.in.Doses = p.settleDoses(g)
	w.grants()
	for i := range p.lines {
		w.in.Lines[i].G = w.weigh.lines[i].g + w.held(i)
	}
	w.exactIn = exact
	w.roundAlkali()
	w.roundWater()
	return w.zeros()
}

// grants rounds the water that doses of a portion are granted; what the whole
// batch is granted goes into the jug with the plain water.
func (w *work) grants() {
	w.weigh.grants = make([]weight, len(w.p.doses))
	for i := range w.in.Doses {
		d := &w.in.Doses[i]
		w.weigh.grants[i] = weight{exact: d.Granted, g: d.Granted, scale: -1, parts: 1}
		if d.Portion != settle.Whole && d.Granted > 0 {
			w.weigh.grants[i] = w.p.onScale(d.Granted, nearest)
			d.Granted = w.weigh.grants[i].g
		}
	}
}

// premixes rounds a premixed dose and its carrier as the one line they are.
func (w *work) premixes(g []float64) {
	for i := range w.p.doses {
		d := &w.p.doses[i]
		if d.carrierOf < 0 || !d.premixed {
			continue
		}
		dose := d.carrierOf
		dir := nearest
		if w.doseDirection(i) == up || w.doseDirection(dose) == up {
			dir = up
		}
		all := w.p.onScale(float64(w.weigh.doses[dose].exact*(1+d.perG)), dir)
		w.weigh.doses[dose], w.weigh.doses[i] = all, weight{scale: -1}
		g[dose] = all.g / (1 + d.perG)
		g[i] = all.g - g[dose]
	}
}

// roundAlkali works the alkali out from what is weighed and rounds it down.
func (w *work) roundAlkali() {
	w.r = settle.Settle(&w.in)
	for k := range w.weigh.alkali {
		per := w.in.Alkali.Stock[k].MassGMol
		g := float64(w.r.Mol[k] * per)
		a := &w.weigh.alkali[k]
		*a = weight{exact: g, g: g, scale: -1, parts: 1}
		if w.p.given || !w.p.alkali[k].used {
			continue
		}
		*a = w.p.onScale(g, down)
		w.in.Alkali.Mol[k] = a.g / per
	}
	w.in.Alkali.Fixed = true
	w.r = settle.Settle(&w.in)
}

// roundWater brings the water of the jug to a balance: to the nearest step, up
// where the jug's limit would be passed.
func (w *work) roundWater() {
	exact := w.r.Plain + w.r.GrantJug
	if exact == 0 {
		w.weigh.water = weight{scale: -1, parts: 1}
		return
	}
	w.weigh.water = w.p.onScale(exact, nearest)
	w.in.Water.PlainFixed = true
	w.setPlain()
	if w.jugLoad() > 1 {
		w.weigh.water = w.p.onScale(exact, up)
		w.setPlain()
	}
}

func (w *work) setPlain() {
	w.in.Water.Plain = w.weigh.water.g - w.r.GrantJug
	w.r = settle.Settle(&w.in)
}

// jugPct are the pure alkalis over the whole mass in the jug, in percent.
func (w *work) jugPct() [settle.Kinds]unit.Percent {
	var pct [settle.Kinds]unit.Percent
	for k := range pct {
		pct[k] = unit.PercentOf(w.r.JugPure[k], w.r.JugMass)
	}
	return pct
}

// jugLoad is above 1 where the alkali cannot dissolve.
func (w *work) jugLoad() float64 {
	pct := w.jugPct()
	return lye.JugLoad(pct[settle.NaOH], pct[settle.KOH])
}

// zeros refuses a batch of which a line rounds to nothing.
func (w *work) zeros() error {
	var names []string
	var numbers []Figure
	zero := func(x weight, name, id string) {
		if x.scale >= 0 && x.g == 0 && x.exact > 0 {
			names = append(names, name+" ("+rounded(x.exact, 4)+" g)")
			numbers = append(numbers, Figure{id, x.exact, "g"})
		}
	}
	for i := range w.p.lines {
		zero(w.weigh.lines[i], w.p.lines[i].name, w.p.lines[i].id)
	}
	for k := range w.weigh.alkali {
		zero(w.weigh.alkali[k], w.p.alkali[k].name, alkaliField[k])
	}
	zero(w.weigh.water, "Water", lineWater)
	for i := range w.p.doses {
		zero(w.weigh.doses[i], w.p.doses[i].name, w.p.doses[i].id)
		zero(w.weigh.grants[i], "Water for "+lowerFirst(w.p.doses[i].name), w.p.doses[i].id)
	}
	if len(names) == 0 {
		return nil
	}
	return &Impossible{
		Reason:  ImpossibleRounding,
		Text:    "The balance shows nothing for: " + strings.Join(names, ", ") + ". Name a finer balance, make a larger batch, or dose from a stock solution.",
		Numbers: numbers,
	}
}
