package wire

import (
	"maps"
	"slices"
	"strings"

	"lixivium.example/engine"
	additivev1 "lixivium.example/proto/lixivium/additive/v1"
)

// CheckFindings judges what the owner named plugin found in the batch q.
func CheckFindings(q *additivev1.ReviewRequest, m *additivev1.ReviewResponse, plugin string, granted []engine.Grant) error {
	j := judge{granted: granted}
	known := make(map[string]bool, len(q.GetBatch().GetDoses())+len(q.GetBatch().GetPortions()))
	for _, d := range q.GetBatch().GetDoses() {
		known[d.GetId()] = true
	}
	for _, p := range q.GetBatch().GetPortions() {
		known[p.GetId()] = true
	}
	j.unless(len(m.GetFindings()) <= maxFindings, "%d findings, more than %d", len(m.GetFindings()), maxFindings)
	for _, f := range m.GetFindings() {
		j.finding(f, plugin, known)
	}
	return j.err()
}

func (j *judge) finding(f *additivev1.Finding, plugin string, known map[string]bool) {
	what := "finding " + shown(f.GetCode())
	j.right(what, "a finding", engine.GrantFindings)
	owner, name, found := strings.Cut(f.GetCode(), "/")
	j.unless(found && owner == plugin && IsID(name), "%s: a code is the plugin's name, a slash, and a name", what)
	_, ok := severities.read(f.GetSeverity())
	j.unless(ok, "%s: there is no severity %q", what, shown(f.GetSeverity()))
	j.text(what, "text", f.GetText())
	j.unless(len(f.GetSubjectIds()) <= maxSubjects, "%s: it has %d subjects, more than %d", what, len(f.GetSubjectIds()), maxSubjects)
	for _, id := range f.GetSubjectIds() {
		j.unless(id != "" && known[id], "%s: the subject %q is no dose and no portion of the batch", what, shown(id))
	}
	j.unless(len(f.GetNumbers()) <= maxNumbers, "%s: it has %d numbers, more than %d", what, len(f.GetNumbers()), maxNumbers)
	for n, v := range f.GetNumbers() {
		j.unless(len(n) <= maxNameBytes && underscored.MatchString(n) && finite(v), "%s: the number %q is %v", what, shown(n), v)
	}
	j.unless(len(f.GetRemedies()) <= maxRemedies, "%s: it has %d remedies, more than %d", what, len(f.GetRemedies()), maxRemedies)
	for _, s := range f.GetRemedies() {
		j.suggestion(what, f, s)
	}
	j.evidence(what, f.GetBasis(), f.GetSource())
}

func (j *judge) suggestion(what string, f *additivev1.Finding, s *additivev1.Suggestion) {
	j.text(what, "text of a suggestion", s.GetText())
	switch c := s.GetChange().(type) {
	case *additivev1.Suggestion_SetLyeConcentrationPct:
		j.figure(what, "a suggested lye concentration", c.SetLyeConcentrationPct, 1.5, 100, "")
	case *additivev1.Suggestion_AddWaterG:
		j.figure(what, "suggested water", c.AddWaterG, 0, 1e9, "")
	case *additivev1.Suggestion_SetDoseOfFatsPct:
		j.figure(what, "a suggested dose", c.SetDoseOfFatsPct, 0, 200, "")
		j.unless(len(f.GetSubjectIds()) > 0, "%s: a suggested dose needs the dose as first subject", what)
	case *additivev1.Suggestion_GelIntent:
		_, ok := gelIntents.read(c.GelIntent)
		j.unless(ok, "%s: there is no gel intent %q", what, shown(c.GelIntent))
	}
}

// Findings turns checked findings about the batch b into the engine's. The
// result shares no memory with m or b.
func Findings(m *additivev1.ReviewResponse, b *engine.ReviewBatch) []engine.Finding {
	if len(m.GetFindings()) == 0 {
		return nil
	}
	out := make([]engine.Finding, len(m.GetFindings()))
	for i, f := range m.GetFindings() {
		severity, _ := severities.read(f.GetSeverity())
		basis, _ := bases.read(f.GetBasis())
		out[i] = engine.Finding{
			Code: f.GetCode(), Severity: severity, Subjects: slices.Clone(f.GetSubjectIds()), Text: f.GetText(),
			Evidence: engine.Evidence{Basis: basis, Source: f.GetSource()},
		}
		for _, name := range slices.Sorted(maps.Keys(f.GetNumbers())) {
			out[i].Numbers = append(out[i].Numbers, engine.Figure{Name: name, Value: f.GetNumbers()[name], Unit: unitOf(name)})
		}
		for _, s := range f.GetRemedies() {
			out[i].Remedies = append(out[i].Remedies, remedy(f, s, b))
		}
	}
	return out
}

// units are read off the ends of names.
var units = []struct{ ending, unit string }{
	{"_pct", "percent"}, {"_g_per_g", "g/g"}, {"_g", "g"}, {"_c", "degC"}, {"_ml", "mL"}, {"_minutes", "min"}, {"_hours", "h"}, {"_j", "J"},
}

func unitOf(name string) string {
	for _, u := range units {
		if strings.HasSuffix(name, u.ending) {
			return u.unit
		}
	}
	return "1"
}

// remedy turns a suggestion into a change of the recipe. A change that the
// view of the batch cannot hold in full, such as a dose with a carrier, stays
// words.
func remedy(f *additivev1.Finding, s *additivev1.Suggestion, b *engine.ReviewBatch) engine.Remedy {
	out := engine.Remedy{Text: s.GetText()}
	switch c := s.GetChange().(type) {
	case *additivev1.Suggestion_SetLyeConcentrationPct:
		out.Water = &engine.Water{Measure: &engine.WaterMeasure{LyeConcentrationPct: engine.Some(c.SetLyeConcentrationPct)}}
	case *additivev1.Suggestion_AddWaterG:
		g := float64(b.Formulation.Water.AskedG) + c.AddWaterG
		out.Water = &engine.Water{Measure: &engine.WaterMeasure{Mass: engine.InGrams(g)}}
	case *additivev1.Suggestion_SetDoseOfFatsPct:
		out.Dose = doseWith(b, f.GetSubjectIds()[0], c.SetDoseOfFatsPct)
	case *additivev1.Suggestion_GelIntent:
		if intent, _ := gelIntents.read(c.GelIntent); intent != engine.GelNotSaid {
			out.Process = &engine.Process{FatsC: b.Conditions.FatsC, LyeC: b.Conditions.LyeC, RoomC: b.Conditions.RoomC, Gel: intent}
		}
	}
	return out
}

// doseWith is the dose with another amount, percent of the recipe fats.
func doseWith(b *engine.ReviewBatch, id string, ofFatsPct float64) *engine.Dose {
	for i := range b.Doses {
		v := &b.Doses[i]
		if v.ID != id || v.Additive == "" || v.CarrierKind != "" {
			continue
		}
		d := &engine.Dose{
			ID: v.ID, Additive: v.Additive, OfFatsPct: engine.Some(ofFatsPct), PortionID: v.PortionID,
			Stage: v.Stage, Parameters: maps.Clone(v.Parameters),
		}
		if v.PortionID != "" {
			d.Basis = engine.BasisBatchFats
		}
		return d
	}
	return nil
}
