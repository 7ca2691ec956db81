package sheet

import (
	"fmt"
	"strings"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// block is what belongs to one vessel.
type block struct {
	heading string
	lines   []*lixiviumv1.WeighLine
	portion *lixiviumv1.PortionAnswer // for the cup of a portion
}

// weighOut writes everything that goes on a balance, vessel by vessel.
func (p *page) weighOut(f *lixiviumv1.Formulation, o Options) {
	w := weigher{o: o, f: f, manyBalances: countBalances(f) > 1, vessels: map[string]lixiviumv1.Vessel{}}
	for _, l := range f.GetWeighOut() {
		w.vessels[l.GetLineId()] = l.GetVessel()
		w.columns.fit(w.row(l))
	}
	for _, a := range f.GetPortions() {
		if a.GetPortionId() != "" {
			w.columns.fit(w.pour(a))
		}
	}
	for _, b := range blocks(f, o) {
		p.block(&w, b)
	}
}

// blocks sorts the lines into vessels. A line of a vessel that this lixi does
// not know still gets a place, at the end.
func blocks(f *lixiviumv1.Formulation, o Options) []block {
	of := func(heading string, v lixiviumv1.Vessel) block {
		b := block{heading: heading}
		for _, l := range f.GetWeighOut() {
			if l.GetVessel() == v {
				b.lines = append(b.lines, l)
			}
		}
		return b
	}
	all := []block{
		of("LYE JUG", lixiviumv1.Vessel_VESSEL_LYE_JUG),
		of("FAT POT", lixiviumv1.Vessel_VESSEL_FAT_POT),
		of("AT EMULSION, into the whole batter", lixiviumv1.Vessel_VESSEL_BATTER),
	}
	placed := map[*lixiviumv1.WeighLine]bool{}
	cups := of("", lixiviumv1.Vessel_VESSEL_PORTION_CUP).lines
	for _, a := range f.GetPortions() {
		if a.GetPortionId() == "" {
			continue
		}
		b := block{heading: fmt.Sprintf("PORTION %q", o.portionName(a.GetPortionId())), portion: a}
		for _, l := range cups {
			if l.GetPortionId() == a.GetPortionId() {
				b.lines = append(b.lines, l)
			}
		}
		all = append(all, b)
	}
	all = append(all, of("IN THE MOLD, later", lixiviumv1.Vessel_VESSEL_MOLD))
	for _, b := range all {
		for _, l := range b.lines {
			placed[l] = true
		}
	}
	other := block{heading: "ELSEWHERE"}
	for _, l := range f.GetWeighOut() {
		if !placed[l] {
			other.lines = append(other.lines, l)
		}
	}
	return append(all, other)
}

func (p *page) block(w *weigher, b block) {
	if len(b.lines) == 0 && b.portion == nil {
		return
	}
	p.heading(b.heading)
	if b.portion != nil {
		p.row(w.columns, w.pour(b.portion))
	}
	stage := lixiviumv1.Stage_STAGE_UNSPECIFIED
	for _, l := range b.lines {
		if l.GetStage() != stage && l.GetVessel() == lixiviumv1.Vessel_VESSEL_LYE_JUG {
			p.moment(l.GetStage(), w.f.GetAlkali().GetLyeEndC())
		}
		stage = l.GetStage()
		p.row(w.columns, w.row(l))
	}
}

// moment says between the lines of the lye jug what to mind next.
func (p *page) moment(s lixiviumv1.Stage, lyeEndC float64) {
	switch s {
	case lixiviumv1.Stage_STAGE_ALKALI:
		text := "Goggles and gloves on. Alkali into the cold water, a little at a time, never water onto alkali."
		if lyeEndC > 0 {
			text += fmt.Sprintf(" The lye may reach %s.", quantityWords(lyeEndC, "degC"))
		}
		p.wrap("  ", "  ", text)
	case lixiviumv1.Stage_STAGE_COOLED_LYE:
		p.wrap("  ", "  ", "Once the lye has cooled:")
	}
}

// weigher turns lines of the answer into rows.
type weigher struct {
	o            Options
	f            *lixiviumv1.Formulation
	columns      columns
	manyBalances bool
	vessels      map[string]lixiviumv1.Vessel // by line id
}

func (w *weigher) row(l *lixiviumv1.WeighLine) row {
	on := w.o.balanceOf(l.GetBalance())
	large, small := w.o.mass(l.GetWeighG(), on)
	what := []string{l.GetMaterial()}
	if of := l.GetOfLineId(); of != "" {
		what = append(what, "(already left out "+w.whereIs(of)+")")
	}
	if n := l.GetParts(); n > 1 {
		part, _ := w.o.mass(l.GetWeighG()/float64(n), on)
		what = append(what, fmt.Sprintf("in %d weighings of %s", n, part))
	}
	if t := l.GetTeaspoonsUs(); t > 0 {
		what = append(what, fmt.Sprintf("(about %s level teaspoons)", decimal(t, 1)))
	}
	if w.manyBalances && l.GetBalance() != "" {
		what = append(what, "["+l.GetBalance()+"]")
	}
	return row{large, small, strings.Join(what, " ")}
}

// whereIs names the vessel of a line, so that a hand finds it.
func (w *weigher) whereIs(lineID string) string {
	switch w.vessels[lineID] {
	case lixiviumv1.Vessel_VESSEL_LYE_JUG:
		return "in the lye jug"
	case lixiviumv1.Vessel_VESSEL_FAT_POT:
		return "in the fat pot"
	}
	return fmt.Sprintf("of the line %q", lineID)
}

// pour is the base batter of a portion.
func (w *weigher) pour(a *lixiviumv1.PortionAnswer) row {
	large, small := w.o.mass(a.GetBaseG(), nil)
	return row{large, small, "base batter, poured off"}
}

func countBalances(f *lixiviumv1.Formulation) int {
	names := map[string]bool{}
	for _, l := range f.GetWeighOut() {
		if l.GetBalance() != "" {
			names[l.GetBalance()] = true
		}
	}
	return len(names)
}
