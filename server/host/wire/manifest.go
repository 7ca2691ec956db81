package wire

import (
	"slices"

	"lixivium.example/engine"
	additivev1 "lixivium.example/proto/lixivium/additive/v1"
)

// Manifest is what a plugin says of itself, checked. The engine's
// AdditiveInfo is filled but for Plugin and Grants, which are the host's.
type Manifest struct {
	Name, Version, RulesDigest string
	Wants                      []engine.Grant
	Owns                       []engine.AdditiveInfo
	WatchesFats                []string // in alphabetical order
}

// ReadManifest reads the answer of Describe. Whether the operator accepts what
// it says is for the host.
func ReadManifest(m *additivev1.DescribeResponse) (*Manifest, error) {
	var j judge
	out := &Manifest{Name: m.GetName(), Version: m.GetVersion(), RulesDigest: m.GetRulesDigest()}
	j.unless(IsID(out.Name), "the name %q is not lower case with hyphens", shown(out.Name))
	j.unless(out.Version != "", "the version is missing")
	j.short("the plugin", "version", out.Version, maxVersionBytes)
	j.short("the plugin", "digest of rules", out.RulesDigest, maxTextBytes)
	j.unless(len(m.GetCapabilities()) <= maxCapabilities, "it lists %d capabilities, more than %d", len(m.GetCapabilities()), maxCapabilities)
	for _, word := range m.GetGrantsWanted() {
		g, ok := grants.read(word)
		j.unless(ok, "there is no grant %q", shown(word))
		j.unless(!slices.Contains(out.Wants, g), "the grant %q is wanted twice", shown(word))
		out.Wants = append(out.Wants, g)
	}
	j.unless(len(m.GetOwns()) <= maxAdditives, "it owns %d additives, more than %d", len(m.GetOwns()), maxAdditives)
	for _, a := range m.GetOwns() {
		j.unless(!slices.ContainsFunc(out.Owns, func(o engine.AdditiveInfo) bool { return o.ID == a.GetId() }), "the additive %q is owned twice", shown(a.GetId()))
		out.Owns = append(out.Owns, j.additive(a))
	}
	j.unless(len(m.GetWatchesFats()) <= maxWatchedFats, "it watches %d fats, more than %d", len(m.GetWatchesFats()), maxWatchedFats)
	for _, f := range m.GetWatchesFats() {
		j.unless(IsID(f), "the watched fat %q is no catalog id", shown(f))
		j.unless(!slices.Contains(out.WatchesFats, f), "the fat %q is watched twice", shown(f))
		out.WatchesFats = append(out.WatchesFats, f)
	}
	slices.Sort(out.WatchesFats)
	j.unless(len(out.Owns)+len(out.WatchesFats) > 0, "it owns no additive and watches no fat")
	if err := j.err(); err != nil {
		return nil, err
	}
	return out, nil
}

func (j *judge) additive(m *additivev1.AdditiveInfo) engine.AdditiveInfo {
	out := engine.AdditiveInfo{
		ID: m.GetId(), Name: m.GetName(), GPerTeaspoonUS: m.GetGPerTeaspoonUs(),
		LowOfFatsPct: m.GetLowOfFatsPct(), HighOfFatsPct: m.GetHighOfFatsPct(),
		WaterOnTop: m.GetWaterOnTop(), AlkaliFormsNoWater: m.GetAlkaliFormsNoWater(),
	}
	what := "additive " + shown(out.ID)
	j.unless(IsID(out.ID), "%s: the id is not lower case with hyphens", what)
	j.text(what, "name", out.Name)
	out.UsualStage = j.stage(what, m.GetUsualStage())
	j.unless(within(out.LowOfFatsPct, 0, out.HighOfFatsPct) && within(out.HighOfFatsPct, 0, 200), "%s: the usual dose is %v to %v %% of the fats", what, out.LowOfFatsPct, out.HighOfFatsPct)
	j.unless(within(out.GPerTeaspoonUS, 0, 40), "%s: a teaspoon of it weighs %v g", what, out.GPerTeaspoonUS)
	j.unless(len(m.GetParameters()) <= maxParameters, "%s: it has %d parameters, more than %d", what, len(m.GetParameters()), maxParameters)
	for _, p := range m.GetParameters() {
		q := engine.ParameterInfo{Name: p.GetName(), Unit: p.GetUnit(), Min: p.GetMin(), Max: p.GetMax(), Default: p.GetDefaultValue()}
		pw := what + ", parameter " + shown(q.Name)
		j.unless(len(q.Name) <= maxNameBytes && underscored.MatchString(q.Name), "%s: the name is not lower case with underscores", pw)
		j.unless(q.Unit != "", "%s: the unit is missing", pw)
		j.short(pw, "unit", q.Unit, maxUnitBytes)
		j.unless(within(q.Min, -maxParameterValue, q.Default) && within(q.Default, q.Min, q.Max) && within(q.Max, q.Default, maxParameterValue),
			"%s: it is %v to %v and defaults to %v", pw, q.Min, q.Max, q.Default)
		j.unless(!slices.ContainsFunc(out.Parameters, func(o engine.ParameterInfo) bool { return o.Name == q.Name }), "%s: it is declared twice", pw)
		out.Parameters = append(out.Parameters, q)
	}
	return out
}
