package engine

import (
	"context"
	"math"
	"slices"
	"strconv"

	"lixivium.example/engine/settle"
	"lixivium.example/engine/unit"
)

const (
	// goOnPoints is how far the implied superfat may lie from the plan, in
	// percentage points, and goOnWater how far the water, as a share, before a
	// correction is worth its weighing (estimate).
	goOnPoints = 0.5
	goOnWater  = 0.03
	// startOverFactor is the factor from which starting again is better than
	// bringing every line up (estimate).
	startOverFactor = 1.3
	// leastAddG is the smallest addition worth weighing where no balance is named.
	leastAddG = 0.05
)

// Reconcile compares weighed masses with the plan of a recipe and says how to
// put them right before lye and fats are combined.
func (e *Engine) Reconcile(ctx context.Context, r *Recipe, o Options, actual []ActualWeight) (*Reconciliation, error) {
	w, err := e.settled(ctx, r, o)
	if err != nil {
		return nil, err
	}
	plan, err := e.finish(ctx, w, o)
	if err != nil {
		return nil, err
	}
	rc := &reconciler{w: w, plan: plan}
	if err := rc.read(actual); err != nil {
		return nil, err
	}
	return rc.answer(o), nil
}

// reconciler compares weights line by line, in the order of the weigh lines.
type reconciler struct {
	w      *work
	plan   *Formulation
	actual []float64 // g by weigh line
	said   []int     // index into the request by weigh line, or -1
	stated []ActualWeight
	real   *work // the batch as weighed
	fixed  *work // the batch once corrected
	factor float64
	// largestOf is the weigh line that the factor comes from, or -1.
	largestOf int
}

// read takes the weighed masses; a line left out was weighed as planned.
func (rc *reconciler) read(list []ActualWeight) error {
	var c checker
	rc.stated = list
	rc.actual = make([]float64, len(rc.plan.WeighOut))
	rc.said = make([]int, len(rc.plan.WeighOut))
	ids := make([]string, len(rc.plan.WeighOut))
	for i := range rc.plan.WeighOut {
		rc.actual[i], rc.said[i] = float64(rc.plan.WeighOut[i].WeighG), -1
		ids[i] = rc.plan.WeighOut[i].LineID
	}
	if len(list) == 0 {
		c.add(in("actual"), ReasonRequired, "State what was weighed, line by line.")
	}
	for n := range list {
		w := element("actual", n)
		line := rc.index(list[n].LineID)
		if line < 0 {
			c.unknown(w.at("line_id"), ReasonUnknown, "The plan has no weigh line "+strconv.Quote(list[n].LineID)+". Name a line of the plan by its id.", list[n].LineID, ids)
			continue
		}
		if rc.said[line] >= 0 {
			c.add(w.at("line_id"), ReasonDuplicate, strconv.Quote(list[n].LineID)+" is weighed twice. Add the weights up.")
			continue
		}
		rc.said[line] = n
		if q := list[n].Mass; q.Given() && q.Value == 0 {
			rc.actual[line] = 0 // nothing weighed yet
			continue
		}
		rc.actual[line], _ = c.grams(w.at("mass"), list[n].Mass, "Put it on the balance: volumes say too little here.")
	}
	return c.err()
}

func (rc *reconciler) index(id string) int {
	for i := range rc.plan.WeighOut {
		if rc.plan.WeighOut[i].LineID == id {
			return i
		}
	}
	return -1
}

// gramsOf is the weighed mass of a line, 0 when the plan has no such line.
func (rc *reconciler) gramsOf(id string, masses []float64) float64 {
	if i := rc.index(id); i >= 0 {
		return masses[i]
	}
	return 0
}

// weighed settles the batch with these masses on the weigh lines. The plan's
// balances keep carrying them.
func (rc *reconciler) weighed(masses []float64) *work {
	w := rc.w
	given := *w.p
	given.given = true // nothing is added to what is in the vessels
	n := &work{p: &given, shares: w.shares, in: w.in, weigh: w.weigh, doseG: make([]float64, len(w.p.doses))}
	for i := range w.p.doses {
		d := &w.p.doses[i]
		switch {
		case d.carrierOf >= 0 && d.premixed:
			all := rc.gramsOf(w.p.doses[d.carrierOf].id, masses)
			n.doseG[d.carrierOf] = all / (1 + d.perG)
			n.doseG[i] = all - n.doseG[d.carrierOf]
		default:
			n.doseG[i] = rc.gramsOf(d.id, masses)
		}
	}
	n.in.Doses = given.settleDoses(n.doseG)
	for i := range n.in.Doses {
		if d := &n.in.Doses[i]; d.Portion != settle.Whole && d.Granted > 0 {
			d.Granted = rc.gramsOf(w.p.doses[i].id+"/water", masses)
		}
	}
	n.in.Lines = append([]settle.Line(nil), w.in.Lines...)
	for i := range n.in.Lines {
		n.in.Lines[i].G = rc.gramsOf(w.p.lines[i].id, masses) + n.held(i)
	}
	n.in.Alkali.Fixed = true
	for k := range n.in.Alkali.Mol {
		n.in.Alkali.Mol[k] = rc.gramsOf(alkaliField[k], masses) / n.in.Alkali.Stock[k].MassGMol
	}
	n.in.Water.PlainFixed = true
	n.in.Water.Plain = rc.gramsOf(lineWater, masses) - grantedJug(&n.in)
	n.r = settle.Settle(&n.in)
	n.exactIn, n.exact = n.in, n.r
	n.superfats()
	return n
}

// grantedJug is the water of the jug that doses were granted, g.
func grantedJug(in *settle.Batch) float64 {
	g := 0.0
	for i := range in.Doses {
		if in.Doses[i].Portion == settle.Whole {
			g += in.Doses[i].Granted
		}
	}
	return g
}

// answer compares, names the factor and the way back to the plan.
func (rc *reconciler) answer(o Options) *Reconciliation {
	rc.real = rc.weighed(rc.actual)
	rc.factor = rc.largest()
	targets := rc.targets()
	rc.fixed = rc.weighed(targets)
	out := &Reconciliation{
		Superfat:        rc.real.portions[rc.real.r.Lowest],
		PlannedSuperfat: rc.plan.Superfat,
		Factor:          rc.factor,
		CorrectedPct:    rc.fixed.portions[rc.fixed.r.Lowest].Pct,
		Plan:            rc.plan,
	}
	out.GoOn = rc.goOn(out)
	for i := range rc.plan.WeighOut {
		l := &rc.plan.WeighOut[i]
		add := targets[i] - rc.actual[i]
		if l.Balance == "" && add < leastAddG {
			add = 0
		}
		out.Corrections = append(out.Corrections, Correction{
			LineID: l.LineID, Material: l.Material, PlannedG: l.WeighG, ActualG: unit.Grams(rc.actual[i]),
			TargetG: unit.Grams(rc.actual[i] + add), AddG: unit.Grams(add),
		})
	}
	out.Findings = rc.findings(out)
	if o.IncludeWorksheet {
		out.Worksheet = rc.worksheet(out)
	}
	return out
}

// net is the alkali of a kind that is left for fats: its share of the acids
// taken off.
func net(r *settle.Result, share [settle.Kinds]float64, k int) float64 {
	return r.Mol[k] - float64(share[k]*r.SumQ)
}

// shares of the mol that each kind gives in the plan.
func (rc *reconciler) shares() (s [settle.Kinds]float64) {
	for k := range s {
		if rc.w.r.A > 0 {
			s[k] = rc.w.r.Mol[k] / rc.w.r.A
		}
	}
	return s
}

// largest is the largest actual over planned of fats, water and net alkali, and
// 1 at least: nothing can be taken out again.
func (rc *reconciler) largest() float64 {
	k := 1.0
	rc.largestOf = -1
	share := rc.shares()
	for i := range rc.plan.WeighOut {
		l := &rc.plan.WeighOut[i]
		planned, actual := float64(l.WeighG), rc.actual[i]
		if kind, ok := alkaliOf(l.LineID); ok {
			planned, actual = net(rc.w.r, share, kind), net(rc.real.r, share, kind)
		} else if l.LineID != lineWater && !rc.isFat(l) {
			continue
		}
		if planned > 0 && actual/planned > k {
			k, rc.largestOf = actual/planned, i
		}
	}
	return k
}

// alkaliOf is the alkali of a weigh line.
func alkaliOf(id string) (kind int, ok bool) {
	kind = slices.Index(alkaliField[:], id)
	return kind, kind >= 0
}

// isFat tells whether a weigh line is recipe fat.
func (rc *reconciler) isFat(l *WeighLine) bool {
	if l.OfLineID != "" && l.OfLineID != lineWater {
		return true
	}
	for i := range rc.w.p.lines {
		if rc.w.p.lines[i].id == l.LineID {
			return true
		}
	}
	return false
}

// targets bring fats and water to the factor times the plan, doses likewise
// unless there is more already, and alkali to what that needs. What is added is
// rounded to the balance of its line as the plan is: fats up, alkali down.
func (rc *reconciler) targets() []float64 {
	t := make([]float64, len(rc.actual))
	for i := range rc.plan.WeighOut {
		l := &rc.plan.WeighOut[i]
		d := nearest
		if rc.isFat(l) || rc.takesAlkali(l.LineID) {
			d = up
		}
		t[i] = rc.raised(i, rc.factor*float64(l.WeighG), d)
	}
	acids := rc.weighed(t).r.SumQ
	share := rc.shares()
	for k := range share {
		i := rc.index(alkaliField[k])
		if i < 0 {
			continue
		}
		mol := float64(rc.factor*net(rc.w.r, share, k)) + float64(share[k]*acids)
		t[i] = rc.raised(i, mol*rc.w.in.Alkali.Stock[k].MassGMol, down)
	}
	return t
}

// raised brings a line to a mass by an addition its balance can show. What is
// there already stays.
func (rc *reconciler) raised(i int, to float64, d direction) float64 {
	add := to - rc.actual[i]
	if add <= 0 {
		return rc.actual[i]
	}
	if b := rc.balanceOf(i); b >= 0 {
		add = toStep(add, rc.w.p.balances[b].step, d)
	}
	return rc.actual[i] + add
}

// balanceOf is the balance of a weigh line, or -1.
func (rc *reconciler) balanceOf(i int) int {
	for b := range rc.w.p.balances {
		if rc.w.p.balances[b].name == rc.plan.WeighOut[i].Balance {
			return b
		}
	}
	return -1
}

// takesAlkali tells whether a dose is rounded up.
func (rc *reconciler) takesAlkali(id string) bool {
	for i := range rc.w.p.doses {
		if rc.w.p.doses[i].id == id {
			return rc.w.doseDirection(i) == up
		}
	}
	return false
}

// goOn tells whether the weighed masses are as good as the plan.
func (rc *reconciler) goOn(out *Reconciliation) bool {
	planned, real := out.PlannedSuperfat, out.Superfat
	if real.Verdict > planned.Verdict || math.Abs(float64(real.Pct-planned.Pct)) > goOnPoints || rc.real.jugLoad() > 1 {
		return false
	}
	if w := rc.w.r.Total; w > 0 && math.Abs(rc.real.r.Total/w-1) > goOnWater {
		return false
	}
	return true
}

// findings speak about the weighed masses.
func (rc *reconciler) findings(out *Reconciliation) []Finding {
	j := &judged{w: rc.real}
	j.superfat(&Formulation{Superfat: out.Superfat})
	j.list = withoutNotes(j.list)
	numbers := []Figure{{"factor", rc.factor, "1"}, {"corrected_superfat_pct", float64(out.CorrectedPct), "percent"}}
	switch {
	case out.GoOn:
	case rc.factor > startOverFactor:
		j.add(Finding{
			Code: codeStartOver, Severity: Danger,
			Text:     "One line is " + rounded(rc.factor, 2) + " times the plan. Bringing every line there makes a batch of " + rounded(rc.factor*float64(rc.plan.Totals.BatterG), 0) + " g: starting over may be better. Do not combine as it stands.",
			Numbers:  numbers,
			Evidence: Evidence{Basis: Derived},
		})
	default:
		way := "Add what is missing"
		if rc.factor > 1+1e-9 {
			way = "Bring every line to " + rounded(rc.factor, 3) + " times the plan"
		}
		j.add(Finding{
			Code: codeWeighedOver, Severity: Caution,
			Text:     "The weighed masses are not the plan. " + way + " before lye and fats are combined, or start over.",
			Numbers:  numbers,
			Remedies: []Remedy{{Text: "Add what the lines say, in the vessel each stands in."}},
			Evidence: Evidence{Basis: Derived},
		})
	}
	for i := range rc.plan.WeighOut {
		l := &rc.plan.WeighOut[i]
		ratio := rc.actual[i] / float64(l.WeighG)
		if rc.isFat(l) || l.LineID == lineWater || l.LineID == lineNaOH || l.LineID == lineKOH || ratio <= rc.factor+0.02 {
			continue
		}
		j.add(Finding{
			Code: codeDoseOver, Severity: Note, Subjects: []string{l.LineID},
			Text:     l.Material + ": " + rounded(rc.actual[i], 2) + " g, " + rounded(ratio, 2) + " times the plan. It is not worth a larger batch; expect more of what it does.",
			Numbers:  []Figure{{"ratio", ratio, "1"}},
			Evidence: Evidence{Basis: Derived},
		})
	}
	return byHarm(j.list)
}

// withoutNotes keeps cautions and dangers.
func withoutNotes(list []Finding) []Finding {
	kept := list[:0]
	for _, f := range list {
		if f.Severity > Note {
			kept = append(kept, f)
		}
	}
	return kept
}
