package engine

import (
	"cmp"
	"slices"

	"lixivium.example/engine/settle"
	"lixivium.example/engine/unit"
)

// weighOut lists everything that goes on a balance, in order of vessel and
// moment. The sum is the batter and what goes on its surface.
func (w *work) weighOut() []WeighLine {
	out := make([]WeighLine, 0, 3+len(w.p.lines)+2*len(w.p.doses))
	if w.weigh.water.g > 0 {
		out = append(out, w.line(lineWater, "Water", w.weigh.water, StageWaterBeforeLye, LyeJug))
	}
	for k := range w.weigh.alkali {
		if w.weigh.alkali[k].g > 0 {
			out = append(out, w.line(alkaliField[k], w.p.alkali[k].words(), w.weigh.alkali[k], StageAlkali, LyeJug))
		}
	}
	for i := range w.p.lines {
		if w.weigh.lines[i].g > 0 {
			out = append(out, w.line(w.p.lines[i].id, w.p.lines[i].name, w.weigh.lines[i], StageFats, FatPot))
		}
	}
	for i := range w.p.doses {
		out = w.doseLines(out, i)
	}
	slices.SortStableFunc(out, func(a, b WeighLine) int {
		return cmp.Or(cmp.Compare(a.Vessel, b.Vessel), cmp.Compare(w.portionOrder(a.PortionID), w.portionOrder(b.PortionID)), cmp.Compare(a.Stage, b.Stage))
	})
	return out
}

// words names an alkali as it is weighed.
func (a *planAlkali) words() string {
	if a.solution {
		return a.name + ", " + rounded(100*a.pure, 1) + " %"
	}
	if !a.stated {
		return a.name + ", solid, purity not stated (" + rounded(100*a.pure, 1) + " % reckoned)"
	}
	return a.name + ", solid, " + rounded(100*a.pure, 1) + " % pure"
}

func (w *work) line(id, material string, x weight, s Stage, v Vessel) WeighLine {
	l := WeighLine{LineID: id, Material: material, Stage: s, Vessel: v, ExactG: unit.Grams(x.exact), WeighG: unit.Grams(x.g), Parts: x.parts}
	if x.scale >= 0 {
		l.Balance = w.p.balances[x.scale].name
	}
	return l
}

// doseLines adds a dose or carrier, and the water it was granted in a portion.
func (w *work) doseLines(out []WeighLine, i int) []WeighLine {
	d, x := &w.p.doses[i], &w.in.Doses[i]
	v := vesselOf(d.stage, d.portion)
	if w.weigh.doses[i].parts > 0 {
		name := d.name
		if d.carrierOf < 0 && d.spec.Carrier != nil && d.spec.Carrier.Premixed {
			name += ", premixed with its carrier"
		}
		l := w.line(d.id, name, w.weigh.doses[i], d.stage, v)
		if d.portion != settle.Whole {
			l.PortionID = w.p.portions[d.portion].id
		}
		switch {
		case d.heldBack >= 0:
			l.OfLineID = w.p.lines[d.heldBack].id
		case d.carrierOf >= 0 && d.spec.Carrier.Water && d.fromRec:
			l.OfLineID = lineWater
		}
		if d.perTsp > 0 && d.carrierOf < 0 && !d.premixed {
			l.TeaspoonsUS = x.G / d.perTsp
		}
		out = append(out, l)
	}
	if d.portion != settle.Whole && x.Granted > 0 {
		l := w.line(d.id+"/water", "Water for "+lowerFirst(d.name), w.weigh.grants[i], d.stage, v)
		l.PortionID = w.p.portions[d.portion].id
		out = append(out, l)
	}
	return out
}

// vesselOf is where a dose is weighed into.
func vesselOf(s Stage, portion int) Vessel {
	switch {
	case s == StageSurface:
		return MoldVessel
	case portion != settle.Whole:
		return PortionCup
	case s == StageWaterBeforeLye || s == StageCooledLye:
		return LyeJug
	case s == StageFats:
		return FatPot
	}
	return BatterPot
}

func (w *work) portionOrder(id string) int {
	for i := range w.p.portions {
		if w.p.portions[i].id == id {
			return i
		}
	}
	return -1
}
