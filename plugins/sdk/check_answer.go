package sdk

import (
	"slices"
	"strings"
)

// sumSlack lets fractions that are meant to come to 1 miss it by rounding.
const sumSlack = 1e-9

// CheckAnswer tells everything in an answer that breaks the contract: a dose
// left out or answered twice, a figure out of bounds or beyond the grants, or
// a word from no list. The host refuses such an answer whole.
func CheckAnswer(p *Plugin, granted []Grant, q Question, a Answer) error {
	l := judge{granted: granted}
	answered := make(map[string]int, len(q.Doses))
	for i := range a.Adjustments {
		answered[a.Adjustments[i].DoseID]++
		l.adjustment(&a.Adjustments[i])
	}
	for _, r := range a.Rejections {
		answered[r.DoseID]++
		if !upperCase.matches(r.Reason) {
			l.breach("dose %s: the reason %q is not upper case with underscores", r.DoseID, r.Reason)
		}
		if r.Text == "" {
			l.breach("dose %s: the rejection says nothing", r.DoseID)
		}
	}
	for _, d := range q.Doses {
		if answered[d.ID] != 1 {
			l.breach("dose %s is answered %d times", d.ID, answered[d.ID])
		}
		delete(answered, d.ID)
	}
	if len(answered) != 0 {
		l.breach("%d answers are about doses that were not asked", len(answered))
	}
	for i, f := range a.FatFactors {
		what := "fat " + f.Fat
		_, asked := q.FatPct[f.Fat]
		if !asked || !slices.Contains(p.WatchesFats, f.Fat) {
			l.breach("%s: it was not asked about", what)
		}
		if slices.ContainsFunc(a.FatFactors[:i], func(o FatFactor) bool { return o.Fat == f.Fat }) {
			l.breach("%s is answered twice", what)
		}
		l.band(what, "trace time", f.TraceTime, GrantTrace)
		l.band(what, "firmness", f.Firmness, GrantFirmness)
		l.evidence(what, f.Basis, f.Source)
	}
	return l.error("plugin " + p.Name)
}

// judge collects breaches, seen against the rights granted.
type judge struct {
	list
	granted []Grant
}

// figure checks a number against its bounds, and its right when it is not 0.
func (l *judge) figure(what, name string, v, low, high float64, g Grant) {
	if !within(v, low, high) {
		l.breach("%s: %s is %v, not %v to %v", what, name, v, low, high)
	}
	if g != "" && v != 0 {
		l.right(what, name, g)
	}
}

func (l *judge) right(what, name string, g Grant) {
	if !slices.Contains(l.granted, g) {
		l.breach("%s: %s needs the grant %q", what, name, g)
	}
}

func (l *judge) adjustment(a *Adjustment) {
	what := "dose " + a.DoseID
	sum := a.WaterGPerG
	l.figure(what, "water brought", a.WaterGPerG, 0, 1, GrantWater)
	for i, f := range a.Fats {
		sum += f.GPerG
		if !hyphenated.matches(f.Fat) {
			l.breach("%s: the fat brought %q is no catalog id", what, f.Fat)
		}
		if slices.ContainsFunc(a.Fats[:i], func(o FatBrought) bool { return o.Fat == f.Fat }) {
			l.breach("%s: the fat %q is brought twice", what, f.Fat)
		}
		l.figure(what, "fat brought", f.GPerG, 0, 1, "")
		l.right(what, "a fat brought", GrantFats)
	}
	if !within(sum, 0, 1+sumSlack) {
		l.breach("%s: water and fats brought come to %v g in one gram", what, sum)
	}
	l.figure(what, "alkali taken", a.AlkaliMolPerG, 0, 0.035, GrantAlkali)
	l.figure(what, "half-width of the alkali", a.AlkaliHalfMolPerG, 0, 0.035, GrantAlkali)
	l.figure(what, "upper bound of the alkali", a.AlkaliHighMolPerG, 0, 0.035, "")
	l.figure(what, "water bound", a.BoundWaterGPerG, 0, 20, GrantWater)
	l.figure(what, "water requested", a.RequestedWaterGPerG, 0, 20, GrantWater)
	l.figure(what, "density", a.DensityGPerML, 0.2, 8, "")
	l.figure(what, "heat", a.HeatJPerG, -2000, 2000, GrantHeat)
	l.band(what, "trace time", a.TraceTime, GrantTrace)
	l.band(what, "firmness", a.Firmness, GrantFirmness)
	for _, s := range a.Steps {
		if !slices.Contains(stages, s.Stage) {
			l.breach("%s: there is no stage %q", what, s.Stage)
		}
		if !hyphenated.matches(s.Code) || s.Text == "" {
			l.breach("%s: the step %q has no code in lower case with hyphens, or no text", what, s.Code)
		}
		if s.MaxC != nil && !within(*s.MaxC, -50, 300) {
			l.breach("%s: the step %s has an impossible temperature", what, s.Code)
		}
		if s.WaitMinutes != nil && !within(*s.WaitMinutes, 0, 100000) {
			l.breach("%s: the step %s has an impossible wait", what, s.Code)
		}
	}
	l.evidence(what, a.Basis, a.Source)
}

func (l *judge) band(what, name string, b Band, g Grant) {
	if b == (Band{}) {
		return
	}
	l.right(what, name, g)
	if !within(b.Low, 0.05, b.Typical) || !within(b.Typical, 0.05, b.High) || !within(b.High, 0.05, 20) {
		l.breach("%s: the factor on %s is %v, %v, %v; it lies within 0.05 and 20 and rises", what, name, b.Low, b.Typical, b.High)
	}
}

func (l *judge) evidence(what string, b Basis, source string) {
	if !slices.Contains(bases, b) {
		l.breach("%s: there is no basis %q", what, b)
	}
	if source == "" {
		l.breach("%s: the source is missing", what)
	}
}

// CheckFindings tells everything in the findings that breaks the contract.
func CheckFindings(p *Plugin, granted []Grant, findings []Finding) error {
	l := judge{granted: granted}
	for i := range findings {
		f := &findings[i]
		what := "finding " + f.Code
		l.right(what, "a finding", GrantFindings)
		owner, name, found := strings.Cut(f.Code, "/")
		if !found || owner != p.Name || !hyphenated.matches(name) {
			l.breach("%s: a code is the plugin's name, a slash, and a name", what)
		}
		if !slices.Contains(severities, f.Severity) {
			l.breach("%s: there is no severity %q", what, f.Severity)
		}
		if f.Text == "" {
			l.breach("%s: the text is missing", what)
		}
		for n, v := range f.Numbers {
			if !underscored.matches(n) || !finite(v) {
				l.breach("%s: the number %q is %v", what, n, v)
			}
		}
		for j := range f.Remedies {
			l.suggestion(what, f, &f.Remedies[j])
		}
		l.evidence(what, f.Basis, f.Source)
	}
	return l.error("plugin " + p.Name)
}

func (l *judge) suggestion(what string, f *Finding, s *Suggestion) {
	changes := 0
	number := func(name string, v *float64, low, high float64) {
		if v != nil {
			changes++
			if !within(*v, low, high) {
				l.breach("%s: the suggestion's %s is %v, not %v to %v", what, name, *v, low, high)
			}
		}
	}
	number("lye concentration", s.SetLyeConcentrationPct, 1.5, 100)
	number("water", s.AddWaterG, 0, 1e9)
	number("dose", s.SetDoseOfFatsPct, 0, 200)
	if s.Gel != GelNotSaid {
		changes++
	}
	if changes > 1 {
		l.breach("%s: a suggestion makes %d changes; one each", what, changes)
	}
	if s.Text == "" {
		l.breach("%s: a suggestion says nothing", what)
	}
	if !slices.Contains(gelIntents, s.Gel) {
		l.breach("%s: there is no gel intent %q", what, s.Gel)
	}
	if s.SetDoseOfFatsPct != nil && len(f.Subjects) == 0 {
		l.breach("%s: a suggested dose needs the dose as first subject", what)
	}
}
