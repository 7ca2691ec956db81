package engine

import (
	"math"

	"lixivium.example/engine/unit"
)

// changes are the figures that differ between two batches: how sure it is,
// what is weighed for the lye, the fatty acids, the time to trace.
func changes(before, after *Formulation) []FigureChange {
	var list []FigureChange
	figure := func(name string, a, b float64, unit string) {
		if math.Abs(a-b) > 1e-9*max(math.Abs(a), math.Abs(b)) {
			list = append(list, FigureChange{Name: name, Before: a, After: b, Unit: unit})
		}
	}
	a, b := before, after
	figure("superfat_pct", float64(a.Superfat.Pct), float64(b.Superfat.Pct), "percent")
	figure("low95_pct", float64(a.Superfat.LowPct), float64(b.Superfat.LowPct), "percent")
	figure("lye_excess_probability_pct", float64(a.Superfat.ExcessPct), float64(b.Superfat.ExcessPct), "percent")
	figure("naoh_g", weighed(a, lineNaOH), weighed(b, lineNaOH), "g")
	figure("koh_g", weighed(a, lineKOH), weighed(b, lineKOH), "g")
	figure("water_g", weighed(a, lineWater), weighed(b, lineWater), "g")
	figure("batter_g", float64(a.Totals.BatterG), float64(b.Totals.BatterG), "g")
	figure("batch_strength_pct", float64(a.Water.BatchStrengthPct), float64(b.Water.BatchStrengthPct), "percent")
	for _, g := range groups {
		name := g.String()
		figure(name, groupPct(&a.Profile, name), groupPct(&b.Profile, name), "percent")
	}
	figure("iodine_value", a.Profile.CalculatedIV, b.Profile.CalculatedIV, "g/100 g")
	figure("known_of_fats_pct", float64(a.Profile.KnownOfFatsPct), float64(b.Profile.KnownOfFatsPct), "percent")
	if x, y := a.Behavior.Trace, b.Behavior.Trace; x != nil && y != nil {
		figure("thin_trace_minutes", x.Thin.Typical, y.Thin.Typical, "min")
		figure("medium_trace_minutes", x.Medium.Typical, y.Medium.Typical, "min")
	}
	figure("additive_trace_time_factor", a.Behavior.TraceTimeFactor, b.Behavior.TraceTimeFactor, "1")
	return list
}

// weighed is what a line weighs, 0 where there is none.
func weighed(f *Formulation, id string) float64 {
	for i := range f.WeighOut {
		if f.WeighOut[i].LineID == id {
			return float64(f.WeighOut[i].WeighG)
		}
	}
	return 0
}

// groupPct is the share of a group of fatty acids.
func groupPct(p *Profile, name string) float64 {
	var pct unit.Percent
	for i := range p.Groups {
		if p.Groups[i].Name == name {
			pct = p.Groups[i].SharePct
		}
	}
	return float64(pct)
}
