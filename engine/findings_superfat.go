package engine

import (
	"math"
	"slices"

	"lixivium.example/engine/settle"
	"lixivium.example/engine/unit"
)

// superfat judges the portion that has least, and every other one whose verdict
// is worse than that: a portion with more superfat can be more in doubt.
func (j *judged) superfat(f *Formulation) {
	lowest := j.w.r.Lowest
	j.superfatOf(f, lowest)
	if !j.w.ownFigures() {
		return
	}
	for i := range j.w.portions {
		if i != lowest && j.w.portions[i].Verdict > j.w.portions[lowest].Verdict {
			j.superfatOf(f, i)
		}
	}
}

// superfatOf says what the verdict says, what dominates and what would help.
func (j *judged) superfatOf(f *Formulation, portion int) {
	s := &j.w.portions[portion]
	fd := Finding{
		Severity: s.Verdict, Subjects: subjects(s.PortionID),
		Numbers: []Figure{
			{"superfat_pct", float64(s.Pct), "percent"},
			{"low95_pct", float64(s.LowPct), "percent"},
			{"lye_excess_probability_pct", float64(s.ExcessPct), "percent"},
			{"free_caustic_probability_pct", float64(s.FreeCausticPct), "percent"},
		},
		Evidence: Evidence{Basis: Derived, Source: "distribution of the inputs, first-order terms as in JCGM 100:2008; 0.05 % free caustic alkali is the limit of IS 2888:2004"},
	}
	where := "The batch"
	if s.PortionID != "" {
		where = "Portion " + s.PortionID
	}
	switch {
	case s.Verdict == Danger && s.Pct < 0:
		fd.Code = codeLyeHeavy
		fd.Text = where + " has more alkali than its fats take: superfat " + rounded(float64(s.Pct), 1) + " %. The bar would hold free lye, which burns skin. Do not use it."
		fd.Numbers = append(fd.Numbers, j.zeroSuperfat()...)
		fd.Remedies = append(fd.Remedies, Remedy{Text: "Weigh less alkali, or more fat, before lye and fats are combined. After setting there is no mending it: hold, label, gloves."})
	case s.Verdict == Danger:
		fd.Code = codeLyeHeavyLikely
		fd.Text = where + " may well be lye-heavy: " + oneIn(s.ExcessPct) + " that alkali is left over."
	case s.Verdict == Caution && j.w.p.recipe.CleaningBar:
		fd.Code = codeCleaningBar
		fd.Text = "A cleaning bar leaves little margin: " + oneIn(s.ExcessPct) + " that alkali is left over. Test each batch before use, and keep it off skin until then."
		j.add(fd)
		return
	case s.Verdict == Caution:
		fd.Code = codeLyeHeavyPossible
		fd.Text = where + " could be lye-heavy: " + oneIn(s.ExcessPct) + " that alkali is left over."
	default:
		j.high(f)
		return
	}
	if s.DominatedBy != "" && s.ExcessPct < certainPct {
		fd.Text += " The doubt comes mostly from the " + s.DominatedBy + "."
		fd.Remedies = append(fd.Remedies, Remedy{Text: j.help(portion)})
	}
	fd.Remedies = append(fd.Remedies, j.raise(s)...)
	j.add(fd)
}

// certainPct is the probability from which doubt is not worth words.
const certainPct = 99.5

// oneIn puts a probability into words.
func oneIn(p unit.Percent) string {
	switch {
	case p >= certainPct:
		return "it is all but certain"
	case p >= 50:
		return "it is likelier than not (" + rounded(float64(p), 0) + " %)"
	case p < 0.1:
		return "less than 1 chance in 1,000"
	}
	return "about 1 chance in " + rounded(100/float64(p), 0)
}

// zeroSuperfat gives the alkali at which nothing is left over, as weighed.
func (j *judged) zeroSuperfat() []Figure {
	r := j.w.r
	if r.A <= 0 {
		return nil
	}
	limit := (j.w.need() + r.SumQ) / r.A
	var out []Figure
	for k, mol := range r.Mol {
		if mol > 0 {
			out = append(out, Figure{alkaliField[k] + "_at_zero_superfat_g", float64(mol*j.w.in.Alkali.Stock[k].MassGMol) * limit, "g"})
		}
	}
	return out
}

// help says what would narrow the interval.
func (j *judged) help(portion int) string {
	m := &shareModel{}
	if j.w.ownFigures() {
		j.w.model(portion, j.w.shares[portion], m)
	} else {
		j.w.model(settle.Whole, 1, m)
	}
	s, _ := m.mostUnsure()
	if s == nil {
		return ""
	}
	switch s.kind {
	case fromPurity:
		if s.cert {
			return "A fresh, sealed or titrated lot of alkali narrows the interval."
		}
		return "State the purity on the label of the alkali."
	case fromAlkaliBalance, fromFatBalance, fromDoseBalance:
		return "A finer balance for " + lowerFirst(s.name) + ", or a larger batch, narrows the interval."
	case fromAcid:
		return "State the strength of " + lowerFirst(s.name) + " with its half-width."
	default:
		return "The saponification value on the certificate of " + lowerFirst(s.name) + " narrows the interval."
	}
}

// raise offers the superfat at which the caution goes, with its effect worked
// out again.
func (j *judged) raise(judged *Superfat) []Remedy {
	w := j.w
	if w.p.given || w.p.recipe.CleaningBar {
		return nil
	}
	asked := float64(100 * w.in.Alkali.Superfat)
	first := math.Ceil(2*(asked-float64(judged.LowPct))) / 2
	for s := max(first, float64(math.Floor(2*asked)/2)+0.5); s <= mostRaisedPct; s += 0.5 {
		again, err := w.again(func(in *settle.Batch) { in.Alkali.Superfat = s / 100 })
		if err != nil {
			return nil
		}
		low := again.portions[again.r.Lowest]
		if slices.ContainsFunc(again.portions, func(s Superfat) bool { return s.Verdict != Silent }) {
			continue
		}
		return []Remedy{{
			Text:        "Ask for a superfat of " + num(s) + " %.",
			SuperfatPct: Some(s),
			Effect: []Figure{
				{"superfat_pct", float64(low.Pct), "percent"},
				{"lye_excess_probability_pct", float64(low.ExcessPct), "percent"},
			},
		}}
	}
	return nil
}

// mostRaisedPct is the highest superfat worth offering.
const mostRaisedPct = 25

// again settles the exact batch once more with a change.
func (w *work) again(change func(*settle.Batch)) (*work, error) {
	n := &work{p: w.p, doseG: make([]float64, len(w.p.doses)), shares: w.shares, in: w.exactIn}
	change(&n.in)
	w.p.doseGrams(&n.in, n.doseG) // a dose in percent of the asked water moves along
	n.in.Doses = w.p.settleDoses(n.doseG)
	n.r = settle.Settle(&n.in)
	n.exactIn, n.exact = n.in, n.r
	if len(w.p.balances) > 0 {
		if err := n.round(); err != nil {
			return nil, err
		}
	} else {
		n.exactWeights()
	}
	n.superfats()
	return n, nil
}

// Superfat above which keeping suffers, and the share of lauric and myristic
// acid from which that hardly counts (common practice, no source).
const (
	highSuperfatPct = 8
	coconutBarPct   = 40
)

// high notes a superfat that shortens the life of the bar.
func (j *judged) high(f *Formulation) {
	s := float64(f.Superfat.Pct)
	if s <= highSuperfatPct || j.w.p.given && s > slipAbovePct {
		return
	}
	for _, g := range f.Profile.Groups {
		if g.Name == "C12-C14" && g.SharePct >= coconutBarPct {
			return
		}
	}
	j.add(Finding{
		Code: codeSuperfatHigh, Severity: Note,
		Text:     "Superfat " + rounded(s, 1) + " %: above 8 % a bar is softer and goes rancid sooner, unless most of its fat is coconut.",
		Numbers:  []Figure{{"superfat_pct", s, "percent"}},
		Evidence: Evidence{Basis: CommonPractice},
	})
}
