package sdk

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// spelling is a way to write ids: words of letters and digits, the first letter
// from a, joined by one joint each. By hand, since it runs with every answer.
type spelling struct{ a, z, joint byte }

var (
	hyphenated  = spelling{'a', 'z', '-'}
	underscored = spelling{'a', 'z', '_'}
	upperCase   = spelling{'A', 'Z', '_'}
)

func (s spelling) matches(id string) bool {
	joined := true // nothing stands before the first word
	for i := range len(id) {
		c := id[i]
		switch {
		case s.a <= c && c <= s.z, '0' <= c && c <= '9' && i > 0:
			joined = false
		case c == s.joint && !joined:
			joined = true
		default:
			return false
		}
	}
	return !joined
}

var (
	grants     = []Grant{GrantAlkali, GrantFats, GrantWater, GrantTrace, GrantHeat, GrantFirmness, GrantFindings}
	stages     = []Stage{StageWaterBeforeLye, StageCooledLye, StageFats, StageTrace, StageSurface}
	bases      = []Basis{PublishedSeen, PublishedFromMemory, Derived, CommonPractice, Estimate}
	severities = []Severity{Note, Caution, Danger}
	gelIntents = []GelIntent{GelNotSaid, GelAvoid, GelLeave, GelForce}
)

// Check tells everything that is wrong with the plugin's description of
// itself. Serve refuses to run a plugin that does not pass.
func (p *Plugin) Check() error {
	var l list
	l.unless(hyphenated.matches(p.Name), "the name %q is not lower case with hyphens", p.Name)
	l.unless(p.Version != "", "the version is missing")
	l.unless(len(p.Owns)+len(p.WatchesFats) > 0, "it owns no additive and watches no fat")
	l.unless(p.Adjust != nil || len(p.Owns) == 0, "it owns additives and has no Adjust")
	l.unless(p.Review == nil || slices.Contains(p.Wants, GrantFindings), "it has a Review and does not want %q", GrantFindings)
	for i, g := range p.Wants {
		l.unless(slices.Contains(grants, g), "there is no grant %q", g)
		l.unless(!slices.Contains(p.Wants[:i], g), "the grant %q is wanted twice", g)
	}
	for i, f := range p.WatchesFats {
		l.unless(hyphenated.matches(f), "the watched fat %q is no catalog id", f)
		l.unless(!slices.Contains(p.WatchesFats[:i], f), "the fat %q is watched twice", f)
	}
	for i := range p.Owns {
		a := &p.Owns[i]
		l.additive(a)
		l.unless(!slices.ContainsFunc(p.Owns[:i], func(b Additive) bool { return a.ID == b.ID }), "the additive %q is owned twice", a.ID)
	}
	return l.error("plugin " + p.Name)
}

func (l *list) additive(a *Additive) {
	l.unless(hyphenated.matches(a.ID), "the additive id %q is not lower case with hyphens", a.ID)
	l.unless(a.Name != "", "%s: the name is missing", a.ID)
	l.unless(slices.Contains(stages, a.UsualStage), "%s: there is no stage %q", a.ID, a.UsualStage)
	l.unless(within(a.LowOfFatsPct, 0, a.HighOfFatsPct) && within(a.HighOfFatsPct, 0, 200), "%s: the usual dose is %v to %v %% of the fats", a.ID, a.LowOfFatsPct, a.HighOfFatsPct)
	l.unless(within(a.GPerTeaspoonUS, 0, 40), "%s: a teaspoon of it weighs %v g", a.ID, a.GPerTeaspoonUS)
	for i, q := range a.Parameters {
		l.unless(underscored.matches(q.Name), "%s: the parameter name %q is not lower case with underscores", a.ID, q.Name)
		l.unless(q.Unit != "", "%s: the parameter %s has no unit", a.ID, q.Name)
		l.unless(finite(q.Min, q.Max) && q.Min <= q.Default && q.Default <= q.Max, "%s: the parameter %s is %v to %v and defaults to %v", a.ID, q.Name, q.Min, q.Max, q.Default)
		l.unless(!slices.ContainsFunc(a.Parameters[:i], func(o Parameter) bool { return q.Name == o.Name }), "%s: the parameter %s is declared twice", a.ID, q.Name)
	}
}

// list collects what is wrong.
type list []error

func (l *list) unless(right bool, format string, args ...any) {
	if !right {
		l.breach(format, args...)
	}
}

// breach adds to the list. Checks that run with every answer call it behind an
// if of their own, so that a sound answer builds no text.
func (l *list) breach(format string, args ...any) {
	*l = append(*l, fmt.Errorf(format, args...))
}

func (l list) error(what string) error {
	if len(l) == 0 {
		return nil
	}
	return fmt.Errorf("%s: %w", what, errors.Join(l...))
}

// within is false for what is not a number.
func within(v, low, high float64) bool { return v >= low && v <= high }

func finite(values ...float64) bool {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}
