package wire

import (
	"slices"
	"strings"

	"lixivium.example/engine"
	"lixivium.example/engine/unit"
	additivev1 "lixivium.example/proto/lixivium/additive/v1"
)

// Bounds per gram of dose as weighed.
const (
	maxWaterGPerG = 20.0 // bound and requested
	maxAlkaliMol  = 0.035
	minDensity    = 0.2
	maxDensity    = 8.0
	maxHeatJ      = 2000.0
	minFactor     = 0.05
	maxFactor     = 20.0
	sumSlack      = 1e-9 // fractions that are meant to come to 1 may miss it by rounding
)

// Answer is what one owner answered, checked: adjustments and rejections in
// the order of the question's doses, factors in order of the fats. Read it,
// never write to it: it may be remembered and handed to others.
type Answer struct {
	Adjustments []engine.Adjustment
	Rejections  []engine.Rejection
	FatFactors  []engine.FatFactor
}

// ReadAnswer judges what an owner answered to q. Every dose is answered once,
// nothing else is, and every figure lies within bounds and grants.
func ReadAnswer(q *additivev1.AdjustRequest, m *additivev1.AdjustResponse, granted []engine.Grant) (*Answer, error) {
	j := judge{granted: granted}
	place := make(map[string]int, len(q.GetDoses()))
	for i, d := range q.GetDoses() {
		place[d.GetId()] = i
	}
	if n := len(m.GetAdjustments()) + len(m.GetRejections()); n != len(place) || len(place) != len(q.GetDoses()) {
		j.unless(false, "%d answers for %d doses", n, len(q.GetDoses()))
		return nil, j.err()
	}
	answered := make([]bool, len(q.GetDoses()))
	once := func(id string) {
		i, ok := place[id]
		j.unless(ok, "dose %q was not asked about", shown(id))
		if ok {
			j.unless(!answered[i], "dose %s is answered twice", id)
			answered[i] = true
		}
	}
	out := &Answer{}
	for _, a := range m.GetAdjustments() {
		once(a.GetDoseId())
		out.Adjustments = append(out.Adjustments, j.adjustment(a))
	}
	for _, r := range m.GetRejections() {
		once(r.GetDoseId())
		out.Rejections = append(out.Rejections, j.rejection(r))
	}
	j.unless(len(m.GetFatFactors()) <= len(q.GetWatchedFatPct()), "%d fat factors for %d fats", len(m.GetFatFactors()), len(q.GetWatchedFatPct()))
	for _, f := range m.GetFatFactors() {
		_, asked := q.GetWatchedFatPct()[f.GetFat()]
		what := "fat " + shown(f.GetFat())
		j.unless(asked, "%s: it was not asked about", what)
		j.unless(!slices.ContainsFunc(out.FatFactors, func(o engine.FatFactor) bool { return o.Fat == f.GetFat() }), "%s is answered twice", what)
		out.FatFactors = append(out.FatFactors, engine.FatFactor{
			Fat: f.GetFat(), TraceTime: j.band(what, "trace time", f.GetTraceTimeFactor(), engine.GrantTrace),
			Firmness: j.band(what, "firmness", f.GetFirmnessFactor(), engine.GrantFirmness), Evidence: j.evidence(what, f.GetBasis(), f.GetSource()),
		})
	}
	if err := j.err(); err != nil {
		return nil, err
	}
	slices.SortFunc(out.Adjustments, func(a, b engine.Adjustment) int { return place[a.DoseID] - place[b.DoseID] })
	slices.SortFunc(out.Rejections, func(a, b engine.Rejection) int { return place[a.DoseID] - place[b.DoseID] })
	slices.SortFunc(out.FatFactors, func(a, b engine.FatFactor) int { return strings.Compare(a.Fat, b.Fat) })
	return out, nil
}

func (j *judge) adjustment(m *additivev1.Adjustment) engine.Adjustment {
	what := "dose " + shown(m.GetDoseId())
	out := engine.Adjustment{
		DoseID: m.GetDoseId(), WaterGPerG: m.GetWaterGPerG(), AlkaliMolPerG: m.GetAlkaliMolPerG(),
		AlkaliHalfMolPerG: m.GetAlkaliHalfWidthMolPerG(), AlkaliHighMolPerG: m.GetAlkaliHighMolPerG(),
		BoundWaterGPerG: m.GetBoundWaterGPerG(), RequestedWaterGPerG: m.GetRequestedWaterGPerG(),
		DensityGPerML: unit.GramsPerML(m.GetDensityGPerMl()), HeatJPerG: m.GetHeatJPerG(),
	}
	sum := out.WaterGPerG
	j.figure(what, "water brought", out.WaterGPerG, 0, 1, engine.GrantWater)
	j.unless(len(m.GetFats()) <= maxFatsBrought, "%s: it brings %d fats, more than %d", what, len(m.GetFats()), maxFatsBrought)
	for _, f := range m.GetFats() {
		sum += f.GetGPerG()
		j.unless(IsID(f.GetFat()), "%s: the fat brought %q is no catalog id", what, shown(f.GetFat()))
		j.unless(!slices.ContainsFunc(out.FatGPerG, func(o engine.FatShare) bool { return o.Fat == f.GetFat() }), "%s: the fat %q is brought twice", what, shown(f.GetFat()))
		j.figure(what, "fat brought", f.GetGPerG(), 0, 1, "")
		j.right(what, "a fat brought", engine.GrantFats)
		out.FatGPerG = append(out.FatGPerG, engine.FatShare{Fat: f.GetFat(), GPerG: f.GetGPerG()})
	}
	j.unless(within(sum, 0, 1+sumSlack), "%s: water and fats brought come to %v g in one gram", what, sum)
	j.figure(what, "alkali taken", out.AlkaliMolPerG, 0, maxAlkaliMol, engine.GrantAlkali)
	j.figure(what, "half-width of the alkali", out.AlkaliHalfMolPerG, 0, maxAlkaliMol, engine.GrantAlkali)
	j.figure(what, "upper bound of the alkali", out.AlkaliHighMolPerG, 0, maxAlkaliMol, "")
	// Zero is "no upper bound stated".
	j.unless(out.AlkaliHighMolPerG == 0 || out.AlkaliHighMolPerG >= out.AlkaliMolPerG,
		"%s: the upper bound of the alkali, %v, is below the alkali, %v", what, out.AlkaliHighMolPerG, out.AlkaliMolPerG)
	j.figure(what, "water bound", out.BoundWaterGPerG, 0, maxWaterGPerG, engine.GrantWater)
	j.figure(what, "water requested", out.RequestedWaterGPerG, 0, maxWaterGPerG, engine.GrantWater)
	j.figure(what, "density", float64(out.DensityGPerML), minDensity, maxDensity, "")
	j.figure(what, "heat", out.HeatJPerG, -maxHeatJ, maxHeatJ, engine.GrantHeat)
	out.TraceTime = j.band(what, "trace time", m.GetTraceTimeFactor(), engine.GrantTrace)
	out.Firmness = j.band(what, "firmness", m.GetFirmnessFactor(), engine.GrantFirmness)
	j.unless(len(m.GetSteps()) <= maxSteps, "%s: it has %d steps, more than %d", what, len(m.GetSteps()), maxSteps)
	for _, s := range m.GetSteps() {
		out.Steps = append(out.Steps, j.step(what, s))
	}
	out.Evidence = j.evidence(what, m.GetBasis(), m.GetSource())
	return out
}

func (j *judge) step(what string, m *additivev1.Step) engine.Step {
	what += ", step " + shown(m.GetCode())
	j.unless(IsID(m.GetCode()), "%s: the code is not lower case with hyphens", what)
	j.text(what, "text", m.GetText())
	j.unless(m.MaxC == nil || within(*m.MaxC, -50, 300), "%s: %v degrees Celsius is impossible", what, m.GetMaxC())
	j.unless(m.WaitMinutes == nil || within(*m.WaitMinutes, 0, 100_000), "%s: a wait of %v minutes is impossible", what, m.GetWaitMinutes())
	return engine.Step{
		Stage: j.stage(what, m.GetStage()), Code: m.GetCode(), Text: m.GetText(),
		MaxC: stated(m.MaxC), WaitMinutes: stated(m.WaitMinutes),
	}
}

// band reads a factor. An absent one and one of zeros mean no effect.
func (j *judge) band(what, name string, m *additivev1.Band, g engine.Grant) engine.Band {
	b := engine.Band{Low: m.GetLow(), Typical: m.GetTypical(), High: m.GetHigh()}
	if b == (engine.Band{}) {
		return b
	}
	j.right(what, "the factor on "+name, g)
	j.unless(within(b.Low, minFactor, b.Typical) && within(b.Typical, minFactor, b.High) && within(b.High, minFactor, maxFactor),
		"%s: the factor on %s is %v, %v, %v; it lies within %v and %v and rises", what, name, b.Low, b.Typical, b.High, minFactor, maxFactor)
	return b
}

func (j *judge) rejection(m *additivev1.Rejection) engine.Rejection {
	what := "dose " + shown(m.GetDoseId())
	j.unless(len(m.GetReason()) <= maxNameBytes && upperCase.MatchString(m.GetReason()), "%s: the reason %q is not upper case with underscores", what, shown(m.GetReason()))
	j.unless(m.GetField() == "" || len(m.GetField()) <= 2*maxNameBytes && fieldPath.MatchString(m.GetField()), "%s: %q is no field of a dose", what, shown(m.GetField()))
	j.text(what, "text of the rejection", m.GetText())
	return engine.Rejection{DoseID: m.GetDoseId(), Field: m.GetField(), Reason: m.GetReason(), Text: m.GetText()}
}
