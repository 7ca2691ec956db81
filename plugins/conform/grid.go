package conform

import (
	"fmt"
	"maps"
	"slices"

	"lixivium.example/plugins/sdk"
)

var everyStage = []sdk.Stage{
	sdk.StageWaterBeforeLye, sdk.StageCooledLye, sdk.StageFats, sdk.StageTrace, sdk.StageSurface,
}

var everyCondition = []sdk.Conditions{
	{},
	{FatsC: new(20.0), LyeC: new(20.0), RoomC: new(15.0), Gel: sdk.GelAvoid},
	{FatsC: new(60.0), LyeC: new(70.0), RoomC: new(30.0), Gel: sdk.GelForce, KOHOfMolesPct: 100},
	{FatsC: new(38.0), LyeC: new(38.0), Gel: sdk.GelLeave, KOHOfMolesPct: 10},
}

var carriers = []struct {
	kind  string
	gPerG float64
}{{"", 0}, {"water", 3}, {"sunflower-oil", 0.5}, {"other", 1}}

// grid is every additive at doses from a trace to absurd, in every stage, with
// every kind of carrier, at the ends and the middle of its parameters.
func grid(p *sdk.Plugin) []sdk.Dose {
	var out []sdk.Dose
	for i := range p.Owns {
		a := &p.Owns[i]
		for _, pct := range []float64{1e-6, a.LowOfFatsPct, (a.LowOfFatsPct + a.HighOfFatsPct) / 2, a.HighOfFatsPct, 4 * a.HighOfFatsPct, 200} {
			if pct <= 0 {
				continue
			}
			for _, s := range everyStage {
				for _, c := range carriers {
					for _, values := range parameters(a) {
						d := sdk.Dose{
							ID: "dose", Additive: a.ID, OfFatsPct: pct, OfPortionFatsPct: pct,
							Stage: s, Carrier: c.kind, CarrierGPerG: c.gPerG, Parameters: values,
						}
						out = append(out, d)
						if s == sdk.StageTrace {
							d.PortionID, d.OfPortionFatsPct = "light", 4*pct
							out = append(out, d)
						}
					}
				}
			}
		}
	}
	return out
}

// parameters are the settings of an additive: all defaults, and each parameter
// in turn at its ends and halfway.
func parameters(a *sdk.Additive) []map[string]float64 {
	defaults := map[string]float64{}
	for _, q := range a.Parameters {
		defaults[q.Name] = q.Default
	}
	out := []map[string]float64{defaults}
	for _, q := range a.Parameters {
		for _, v := range []float64{q.Min, (q.Min + q.Max) / 2, q.Max} {
			m := maps.Clone(defaults)
			m[q.Name] = v
			out = append(out, m)
		}
	}
	return out
}

// everything is one question about all additives of the plugin, each twice.
func everything(p *sdk.Plugin) sdk.Question {
	q := sdk.Question{Conditions: everyCondition[3], FatPct: map[string]float64{}}
	for i := range p.Owns {
		a := &p.Owns[i]
		for n, pct := range []float64{max(a.LowOfFatsPct, 0.01), max(a.HighOfFatsPct, 0.02)} {
			q.Doses = append(q.Doses, sdk.Dose{
				ID: fmt.Sprintf("%s-%d", a.ID, n), Additive: a.ID, OfFatsPct: pct, OfPortionFatsPct: pct,
				Stage: a.UsualStage, Parameters: parameters(a)[0],
			})
		}
	}
	return q
}

// copyOf shares nothing with the question.
func copyOf(q sdk.Question) sdk.Question {
	q.Doses = slices.Clone(q.Doses)
	for i := range q.Doses {
		q.Doses[i].Parameters = maps.Clone(q.Doses[i].Parameters)
	}
	q.FatPct = maps.Clone(q.FatPct)
	return q
}
