package engine

import (
	"strconv"
	"strings"

	"lixivium.example/engine/fat"
	"lixivium.example/engine/settle"
	"lixivium.example/engine/unit"
)

// An implied superfat outside these bounds is more likely a slip than a design.
const (
	slipBelowPct = -15
	slipAbovePct = 25
	// a slip explains the figures when it brings the superfat in here
	plainLowPct, plainHighPct = -2, 15
)

// slips names what may have gone wrong when given alkali implies a superfat that
// nobody designs.
func (j *judged) slips(f *Formulation) {
	s := float64(f.BatchSuperfat.Pct)
	if !j.w.p.given || s >= slipBelowPct && s <= slipAbovePct {
		return
	}
	text := "A superfat of " + rounded(s, 1) + " % is hardly meant."
	numbers := []Figure{{"superfat_pct", s, "percent"}}
	var named []string
	for _, h := range j.hypotheses() {
		if h.superfat >= plainLowPct && h.superfat <= plainHighPct {
			named = append(named, h.text+" (superfat "+rounded(h.superfat, 1)+" %)")
			numbers = append(numbers, Figure{h.name, h.superfat, "percent"})
		}
	}
	if len(named) > 0 {
		text += " It would make sense if " + strings.Join(named, ", or if ") + "."
	} else {
		text += " Look at the weights and their units once more."
	}
	j.add(Finding{
		Code: codeLikelySlip, Severity: Caution, Text: text, Numbers: numbers,
		Remedies: []Remedy{{Text: "Compare the recipe with where it came from, line by line, with the units."}},
		Evidence: Evidence{Basis: Estimate},
	})
}

// hypothesis is a slip and the superfat without it.
type hypothesis struct {
	name, text string
	superfat   float64
}

// hypotheses are the slips that are common: one alkali for the other, ounces
// for grams, palm for palm kernel.
func (j *judged) hypotheses() []hypothesis {
	r := j.w.r
	need := r.B - r.Lacking + r.SumB
	if need <= 0 {
		return nil
	}
	at := func(alkali, need float64) float64 { return 100 - 100*(alkali-r.SumQ)/need }
	out := make([]hypothesis, 0, 6)
	if r.Mol[settle.KOH] == 0 {
		out = append(out, hypothesis{"if_koh_pct", "the weight is of potassium hydroxide", at(j.asOther(settle.KOH), need)})
	}
	if r.Mol[settle.NaOH] == 0 {
		out = append(out, hypothesis{"if_naoh_pct", "the weight is of sodium hydroxide", at(j.asOther(settle.NaOH), need)})
	}
	out = append(out,
		hypothesis{"if_alkali_oz_pct", "the alkali is in ounces", at(float64(r.A*unit.GramsPerOz), need)},
		hypothesis{"if_fats_oz_pct", "the fats are in ounces", at(r.A, float64(need*unit.GramsPerOz))},
		hypothesis{"if_alkali_g_pct", "the alkali is in grams, not ounces", at(r.A/unit.GramsPerOz, need)},
	)
	return append(out, j.swapped(at)...)
}

// asOther is the alkali in mol if what was weighed were of the other kind, at the
// purity that kind is judged with when none is stated.
func (j *judged) asOther(kind int) float64 {
	grams := 0.0
	for k, mol := range j.w.r.Mol {
		grams += float64(mol * j.w.in.Alkali.Stock[k].MassGMol)
	}
	pure, _ := unstatedPurity(kind, true)
	return grams * pure / kindOf[kind].MolarMass()
}

// swapped tries fats that are mistaken for each other.
func (j *judged) swapped(at func(alkali, need float64) float64) []hypothesis {
	pairs := map[string]string{"palm-oil": "palm-kernel-oil", "palm-kernel-oil": "palm-oil", "coconut-oil": "palm-oil"}
	var out []hypothesis
	need := j.w.need()
	for i := range j.w.p.lines {
		for k := range j.w.p.lines[i].parts {
			pt := &j.w.p.lines[i].parts[k]
			if pt.row == nil {
				continue
			}
			other, ok := fat.ByID(pairs[pt.row.ID])
			if !ok {
				continue
			}
			g := float64(j.w.in.Lines[i].G * pt.share)
			out = append(out, hypothesis{
				"if_" + strings.ReplaceAll(other.ID, "-", "_") + "_pct", strconv.Quote(pt.id) + " is " + lowerFirst(other.Name),
				at(j.w.r.A, need+float64(g*molPerG(float64(other.SV.Best)-pt.sv))),
			})
		}
	}
	return out
}

// purity asks for the purity where its absence matters: a judged recipe, or a
// doubt that comes mostly from it.
func (j *judged) purity(f *Formulation) {
	for k := range j.w.p.alkali {
		a := &j.w.p.alkali[k]
		mostly := f.Superfat.Verdict != Silent && strings.HasPrefix(f.Superfat.DominatedBy, "purity of the "+lowerFirst(a.name))
		if !a.used || a.stated || !j.w.p.given && !mostly {
			continue
		}
		text := a.name + " is reckoned at " + rounded(100*a.pure, 1) + " %: its purity is not stated."
		numbers := []Figure{{"purity_pct", 100 * a.pure, "percent"}}
		for _, x := range f.SuperfatIf {
			if strings.HasPrefix(x.Name, alkaliField[k]+" ") {
				text += " At " + strings.TrimPrefix(x.Name, alkaliField[k]+" ") + " the batch has a superfat of " + rounded(x.Value, 1) + " %."
				numbers = append(numbers, x)
			}
		}
		j.add(Finding{
			Code: codePurityUnstated, Severity: Note, Subjects: []string{alkaliField[k]}, Text: text, Numbers: numbers,
			Remedies: []Remedy{{Text: "State the purity from the label (" + alkaliField[k] + ": {purity_pct: ...})."}},
			Evidence: Evidence{Basis: CommonPractice},
		})
	}
}
