package engine

import (
	"math"
	"slices"
	"strings"

	"lixivium.example/engine/fat"
	"lixivium.example/engine/unit"
)

// coarseDivisions is the least number of divisions a weighing should have.
const coarseDivisions = 20

// measures speaks about how things are measured.
func (j *judged) measures(*Formulation) {
	p := j.w.p
	if len(p.byVolume) > 0 {
		j.add(Finding{
			Code: codeByVolume, Severity: Caution, Subjects: slices.Clone(p.byVolume),
			Text:     "Measured by volume: a fat's density varies by 1 %, a kitchen measure by more. Weigh it.",
			Evidence: Evidence{Basis: Estimate},
		})
	}
	var spoons []string
	for i := range p.doses {
		if d := &p.doses[i]; d.carrierOf < 0 && d.spec.Spoons != nil {
			spoons = append(spoons, d.id)
		}
	}
	if len(spoons) > 0 {
		j.add(Finding{
			Code: codeBySpoon, Severity: Note, Subjects: spoons,
			Text:     "A level teaspoon may be off by half either way. Weigh the grams shown.",
			Evidence: Evidence{Basis: CommonPractice},
		})
	}
	j.coarse()
}

// coarse says which lines the balances can hardly show.
func (j *judged) coarse() {
	w := j.w
	look := func(x weight, name, id string, takesAlkali bool) {
		if x.scale < 0 || x.parts == 0 {
			return
		}
		step := w.p.balances[x.scale].step
		divisions := math.Round(x.g / float64(x.parts) / step)
		if divisions >= coarseDivisions {
			return
		}
		s := Note
		if takesAlkali {
			s = Caution
		}
		j.add(Finding{
			Code: codeCoarseBalance, Severity: s, Subjects: []string{id},
			Text:     name + ": " + rounded(x.g, 3) + " g is only " + counted(divisions, "division") + " of the balance. Use a finer balance, a larger batch, or a stock solution.",
			Numbers:  []Figure{{"divisions", divisions, "1"}},
			Evidence: Evidence{Basis: CommonPractice},
		})
	}
	for i := range w.p.lines {
		look(w.weigh.lines[i], w.p.lines[i].name, w.p.lines[i].id, true)
	}
	for k := range w.weigh.alkali {
		look(w.weigh.alkali[k], w.p.alkali[k].name, alkaliField[k], true)
	}
	for i := range w.p.doses {
		look(w.weigh.doses[i], w.p.doses[i].name, w.p.doses[i].id, w.doseDirection(i) == up)
	}
	look(w.weigh.water, "Water", lineWater, false)
}

// absorbedPoints is the rise of superfat from which absorbed alkali is said.
const absorbedPoints = 0.5

// Shares of the fats from which a doubt about one of them is worth words.
const (
	memorySharePct   = 5
	svDisagreesPct   = 4
	waxSuperfatPoint = 0.5
)

// materials speaks about what the batch is made of.
func (j *judged) materials(f *Formulation) {
	j.custom()
	if s, ok := j.w.p.recipe.Alkali.SuperfatPct.Get(); ok {
		// The rise by rounding is no absorption: compare the exact batch.
		high := 0.0
		for i := range j.w.exact.Portions {
			high = max(high, 100*j.w.exact.Portions[i].Superfat)
		}
		if high-s > absorbedPoints {
			j.add(Finding{
				Code: codeAbsorbed, Severity: Note,
				Text:     "Doses take alkali, or bring fat, that the lye does not cover: superfat " + rounded(100*j.w.exact.Superfat, 1) + " % in the batch, up to " + rounded(high, 1) + " % in a portion, instead of " + num(s) + " %.",
				Numbers:  []Figure{{"asked_superfat_pct", s, "percent"}, {"exact_superfat_pct", 100 * j.w.exact.Superfat, "percent"}, {"exact_superfat_high_pct", high, "percent"}},
				Evidence: Evidence{Basis: Derived},
			})
		}
	}
	if extra := j.w.extraNeed(); extra > 0 {
		points := 100 * extra / (j.w.need())
		if points > waxSuperfatPoint {
			j.add(Finding{
				Code: codeWaxAtAcidValue, Severity: Note,
				Text:     "Waxes hardly react in the cold, so they count at their acid value. If they reacted fully, the superfat would be about " + rounded(points, 1) + " points higher, never lower.",
				Numbers:  []Figure{{"wax_superfat_points", points, "percent"}},
				Evidence: Evidence{Basis: CommonPractice},
			})
		}
	}
	for i := range j.w.p.lines {
		for k := range j.w.p.lines[i].parts {
			j.part(&j.w.p.lines[i].parts[k], j.w.in.Lines[i].G)
		}
	}
}

// custom carries a caution for every additive with the caller's own figures.
func (j *judged) custom() {
	var ids, names []string
	for i := range j.w.p.doses {
		d := &j.w.p.doses[i]
		if d.carrierOf < 0 && d.spec.Custom != nil {
			ids = append(ids, d.id)
			names = append(names, lowerFirst(d.name))
		}
	}
	if len(ids) == 0 {
		return
	}
	j.add(Finding{
		Code: codeCustomAdditive, Severity: Caution, Subjects: ids,
		Text:     "Reckoned with the recipe's own figures: " + strings.Join(names, ", ") + ". Nothing here knows what else that does to trace, heat, color or skin; try a small batch first.",
		Evidence: Evidence{Basis: FromCaller},
	})
}

// part speaks about one fat.
func (j *judged) part(pt *planPart, lineG float64) {
	share := float64(unit.PercentOf(lineG*pt.share, j.w.r.F))
	switch {
	case pt.row == nil || pt.certified:
		j.disagrees(pt)
	case pt.row.Kind == fat.Blend:
		j.add(Finding{
			Code: codeUnstatedBlend, Severity: Caution, Subjects: []string{pt.id},
			Text:     pt.name + " can be many things: its saponification value lies between " + rounded(pt.low, 0) + " and " + rounded(pt.high, 0) + " mg KOH/g.",
			Numbers:  []Figure{{"sv_low_mg_koh_per_g", pt.low, "mg KOH/g"}, {"sv_high_mg_koh_per_g", pt.high, "mg KOH/g"}},
			Remedies: []Remedy{{Text: "Write the fats that its label names, or state the value from a certificate."}},
			Evidence: pt.evidence,
		})
	case pt.row.Status == fat.FromMemory && share >= memorySharePct:
		j.add(Finding{
			Code: codeSVFromMemory, Severity: Note, Subjects: []string{pt.id},
			Text:     "The saponification value of " + lowerFirst(pt.name) + " is written down from memory, not read in its source.",
			Numbers:  []Figure{{"sv_mg_koh_per_g", pt.sv, "mg KOH/g"}},
			Remedies: []Remedy{{Text: "Ask for the certificate of the lot and state its saponification value."}}, Evidence: pt.evidence,
		})
	}
}

// disagrees compares a stated value with the fatty acids of the fat.
func (j *judged) disagrees(pt *planPart) {
	if len(pt.acids) == 0 {
		return
	}
	calculated := pt.acidsSV
	off := 100 * (pt.sv - calculated) / calculated
	if math.Abs(off) <= svDisagreesPct+pt.unsap {
		return
	}
	j.add(Finding{
		Code: codeSVDisagrees, Severity: Caution, Subjects: []string{pt.id},
		Text:     "The stated saponification value " + num(pt.sv) + " is " + rounded(math.Abs(off), 1) + " % " + map[bool]string{true: "above", false: "below"}[off > 0] + " what the fatty acids of " + lowerFirst(pt.name) + " give (" + rounded(calculated, 1) + "). Is it that fat, and in mg KOH/g?",
		Numbers:  []Figure{{"stated_sv_mg_koh_per_g", pt.sv, "mg KOH/g"}, {"calculated_sv_mg_koh_per_g", calculated, "mg KOH/g"}},
		Evidence: Evidence{Basis: Derived, Source: "saponification value from composition by moles, the idea of AOCS Cd 3a-94"},
	})
}
