package engine

import (
	"lixivium.example/engine/trace"
	"lixivium.example/engine/unit"
)

// traceTimes estimates the minutes to trace of the batch as a whole.
func (w *work) traceTimes(f *Formulation) *TraceTimes {
	if w.p.waterUnknown || f.Water.BatchStrengthPct <= 0 {
		return nil
	}
	b := trace.Batch{
		KnownPct:    float64(f.Profile.KnownOfFatsPct),
		FreeAcidPct: w.freeAcidPct(),
		SuperfatPct: float64(f.BatchSuperfat.Pct),
		StrengthPct: float64(f.Water.BatchStrengthPct),
		HandStirred: w.p.recipe.Process.HandStirred,
	}
	for i := range f.Profile.Groups {
		b.GroupPct[i] = float64(f.Profile.Groups[i].SharePct)
	}
	fatsC, ok1 := w.p.recipe.Process.FatsC.Get()
	lyeC, ok2 := w.p.recipe.Process.LyeC.Get()
	if ok1 && ok2 {
		lye := w.r.LyeMass + w.r.Plain + w.r.GrantJug
		b.MixC, b.MixKnown = trace.MixTemperature(w.r.F, fatsC, lye, lyeC, float64(f.Water.JugPurePct))
	}
	for _, x := range f.Behavior.TraceTime {
		b.Additives = append(b.Additives, trace.Factor{
			ID: x.LineID, Name: x.Name, Band: trace.Band{Low: x.Low, Typical: x.Typical, High: x.High},
			Basis: traceBasis[x.Evidence.Basis], Source: x.Evidence.Source,
		})
	}
	t := trace.Estimate(b)
	out := &TraceTimes{Thin: Band(t.Thin), Medium: Band(t.Medium), Thick: Band(t.Thick), StandingThin: Band(t.StandingThin)}
	out.Factors = make([]Factor, len(t.Factors))
	for i, x := range t.Factors {
		out.Factors[i] = Factor{
			Name: x.Name, LineID: x.ID, Low: x.Low, Typical: x.Typical, High: x.High,
			Evidence: Evidence{Basis: basisOfTrace(x.Basis), Source: x.Source},
		}
	}
	return out
}

// freeAcidPct is the free acid among the recipe fats in percent of their mass; a
// wax counts by its acid value against that of a fatty acid.
func (w *work) freeAcidPct() float64 {
	g := 0.0
	for i := range w.p.lines {
		l := &w.p.lines[i]
		for j := range l.parts {
			pt := &l.parts[j]
			share := 1.0
			if pt.row != nil && pt.row.CountsAtAcidValue() {
				share = pt.sv / waxyAcidValue
			}
			if pt.free {
				g += float64(float64(w.in.Lines[i].G*pt.share) * share)
			}
		}
	}
	return float64(unit.PercentOf(g, w.r.F))
}

// waxyAcidValue is the acid value of the long fatty acids in waxes, mg KOH/g:
// that of palmitic acid, by stoichiometry.
const waxyAcidValue = 218.8

var traceBasis = map[Basis]trace.Basis{
	PublishedSeen: trace.BasisPublishedSeen, PublishedFromMemory: trace.BasisPublishedFromMemory, Derived: trace.BasisDerived,
	CommonPractice: trace.BasisCommonPractice, Estimate: trace.BasisEstimate, FromCaller: trace.BasisFromCaller,
}

// basisOfTrace turns a basis back. The map has each once, so its order cannot
// matter.
func basisOfTrace(b trace.Basis) Basis {
	for own, other := range traceBasis {
		if other == b {
			return own
		}
	}
	return BasisUnknown
}
