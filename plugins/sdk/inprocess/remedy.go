package inprocess

import (
	"slices"
	"strings"

	"lixivium.example/engine"
	"lixivium.example/plugins/sdk"
)

var severities = map[sdk.Severity]engine.Severity{
	sdk.Note: engine.Note, sdk.Caution: engine.Caution, sdk.Danger: engine.Danger,
}

// units are read off the ends of names.
var units = []struct{ ending, unit string }{
	{"_pct", "percent"}, {"_g_per_g", "g/g"}, {"_g", "g"}, {"_c", "degC"}, {"_ml", "mL"}, {"_minutes", "min"}, {"_hours", "h"}, {"_j", "J"},
}

func finding(f *sdk.Finding, b *engine.ReviewBatch) engine.Finding {
	out := engine.Finding{
		Code: f.Code, Severity: severities[f.Severity], Subjects: f.Subjects, Text: f.Text, Evidence: evidence(f.Basis, f.Source),
	}
	for name, v := range f.Numbers {
		out.Numbers = append(out.Numbers, engine.Figure{Name: name, Value: v, Unit: unitOf(name)})
	}
	slices.SortFunc(out.Numbers, func(x, y engine.Figure) int { return strings.Compare(x.Name, y.Name) })
	for i := range f.Remedies {
		out.Remedies = append(out.Remedies, remedy(f, &f.Remedies[i], b))
	}
	return out
}

func unitOf(name string) string {
	for _, u := range units {
		if strings.HasSuffix(name, u.ending) {
			return u.unit
		}
	}
	return "1"
}

// remedy turns a suggestion into a change of the recipe. A change that the view
// of the batch cannot hold in full, such as a dose with a carrier, stays words.
func remedy(f *sdk.Finding, s *sdk.Suggestion, b *engine.ReviewBatch) engine.Remedy {
	out := engine.Remedy{Text: s.Text}
	switch {
	case s.SetLyeConcentrationPct != nil:
		out.Water = &engine.Water{Measure: &engine.WaterMeasure{LyeConcentrationPct: engine.Some(*s.SetLyeConcentrationPct)}}
	case s.AddWaterG != nil:
		g := float64(b.Formulation.Water.AskedG) + *s.AddWaterG
		out.Water = &engine.Water{Measure: &engine.WaterMeasure{Mass: engine.InGrams(g)}}
	case s.SetDoseOfFatsPct != nil:
		out.Dose = doseWith(b, f.Subjects[0], *s.SetDoseOfFatsPct)
	case s.Gel != sdk.GelNotSaid:
		c := &b.Conditions
		out.Process = &engine.Process{FatsC: c.FatsC, LyeC: c.LyeC, RoomC: c.RoomC}
		for e, name := range intents {
			if name == s.Gel {
				out.Process.Gel = e
			}
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
			ID: v.ID, Additive: v.Additive, OfFatsPct: engine.Some(ofFatsPct), PortionID: v.PortionID, Stage: v.Stage, Parameters: v.Parameters,
		}
		if v.PortionID != "" {
			d.Basis = engine.BasisBatchFats
		}
		return d
	}
	return nil
}
