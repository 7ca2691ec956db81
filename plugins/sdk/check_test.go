package sdk_test

import (
	"context"
	"math"
	"strings"
	"testing"

	"lixivium.example/plugins/sdk"
)

func TestCheckNamesEveryMistake(t *testing.T) {
	p := &sdk.Plugin{
		Name: "Bad Name", Wants: []sdk.Grant{"alkali", "alkali", "root"}, WatchesFats: []string{"Olive Oil"},
		Owns: []sdk.Additive{
			{ID: "x", Name: "X", UsualStage: "later", LowOfFatsPct: 3, HighOfFatsPct: 1, GPerTeaspoonUS: 400,
				Parameters: []sdk.Parameter{{Name: "Strength", Min: 2, Max: 1}}},
			{ID: "x", Name: "X again", UsualStage: sdk.StageTrace},
		},
		Review: func(context.Context, sdk.Batch) []sdk.Finding { return nil },
	}
	err := p.Check()
	if err == nil {
		t.Fatal("it passes")
	}
	for _, want := range []string{
		`name "Bad Name"`, "version", "no Adjust", `grant "root"`, "wanted twice", `"Olive Oil"`, `stage "later"`,
		"3 to 1 %", "400 g", `"Strength"`, "has no unit", "owned twice", `not want "findings"`,
	} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("nothing about %s in:\n%v", want, err)
		}
	}
}

var asked = sdk.Question{Doses: []sdk.Dose{{ID: "d", Additive: "acme-oat-milk"}}, FatPct: map[string]float64{"palm": 10}}

var everything = []sdk.Grant{
	sdk.GrantAlkali, sdk.GrantFats, sdk.GrantWater, sdk.GrantTrace, sdk.GrantHeat, sdk.GrantFirmness, sdk.GrantFindings,
}

func sound() sdk.Adjustment {
	return sdk.Adjustment{DoseID: "d", DensityGPerML: 1, Basis: sdk.Estimate, Source: "test"}
}

func TestCheckAnswer(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		what, want string // empty: sound
		change     func(*sdk.Adjustment)
	}{
		{"the least answer", "", func(*sdk.Adjustment) {}},
		{"all bounds met", "", func(a *sdk.Adjustment) {
			a.WaterGPerG, a.Fats = 0.5, []sdk.FatBrought{{Fat: "palm", GPerG: 0.5}}
			a.AlkaliMolPerG, a.AlkaliHalfMolPerG, a.AlkaliHighMolPerG = 0.035, 0.035, 0.035
			a.BoundWaterGPerG, a.RequestedWaterGPerG, a.DensityGPerML, a.HeatJPerG = 20, 20, 8, -2000
			a.TraceTime, a.Firmness = sdk.Band{Low: 0.05, Typical: 1, High: 20}, sdk.Band{Low: 1, Typical: 1, High: 1}
		}},
		{"water above 1", "water brought", func(a *sdk.Adjustment) { a.WaterGPerG = 1.01 }},
		{"water below 0", "water brought", func(a *sdk.Adjustment) { a.WaterGPerG = -0.01 }},
		{"water that is no number", "water brought", func(a *sdk.Adjustment) { a.WaterGPerG = nan }},
		{"more than a gram in a gram", "in one gram", func(a *sdk.Adjustment) { a.WaterGPerG, a.Fats = 0.6, []sdk.FatBrought{{Fat: "palm", GPerG: 0.5}} }},
		{"a fat twice", "brought twice", func(a *sdk.Adjustment) {
			a.Fats = []sdk.FatBrought{{Fat: "palm", GPerG: 0.1}, {Fat: "palm", GPerG: 0.1}}
		}},
		{"caustic", "alkali taken", func(a *sdk.Adjustment) { a.AlkaliMolPerG = -0.001 }},
		{"too much alkali", "alkali taken", func(a *sdk.Adjustment) { a.AlkaliMolPerG = 0.036 }},
		{"an upper bound too high", "upper bound", func(a *sdk.Adjustment) { a.AlkaliHighMolPerG = 0.036 }},
		{"bound water", "water bound", func(a *sdk.Adjustment) { a.BoundWaterGPerG = 21 }},
		{"requested water", "water requested", func(a *sdk.Adjustment) { a.RequestedWaterGPerG = math.Inf(1) }},
		{"no density", "density", func(a *sdk.Adjustment) { a.DensityGPerML = 0 }},
		{"heat", "heat", func(a *sdk.Adjustment) { a.HeatJPerG = 2001 }},
		{"a factor of zero", "trace time", func(a *sdk.Adjustment) { a.TraceTime = sdk.Band{Low: 0, Typical: 1, High: 1} }},
		{"a falling band", "firmness", func(a *sdk.Adjustment) { a.Firmness = sdk.Band{Low: 2, Typical: 1, High: 3} }},
		{"a factor that is no number", "trace time", func(a *sdk.Adjustment) { a.TraceTime = sdk.Band{Low: nan, Typical: nan, High: nan} }},
		{"a stage of no list", `stage "later"`, func(a *sdk.Adjustment) { a.Steps = []sdk.Step{{Stage: "later", Code: "wait", Text: "Wait."}} }},
		{"a step without words", "step", func(a *sdk.Adjustment) { a.Steps = []sdk.Step{{Stage: sdk.StageTrace, Code: "wait"}} }},
		{"no evidence", "source", func(a *sdk.Adjustment) { a.Source = "" }},
		{"a basis of no list", `basis "hearsay"`, func(a *sdk.Adjustment) { a.Basis = "hearsay" }},
		{"another's dose", "not asked", func(a *sdk.Adjustment) { a.DoseID = "e" }},
	} {
		a := sound()
		c.change(&a)
		err := sdk.CheckAnswer(OatMilk(), everything, asked, sdk.Answer{Adjustments: []sdk.Adjustment{a}})
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%s: %v, want %q", c.what, err, c.want)
		}
	}
}

func TestEveryFigureNeedsItsGrant(t *testing.T) {
	one := sdk.Band{Low: 1, Typical: 1, High: 1}
	for grant, change := range map[sdk.Grant][]func(*sdk.Adjustment){
		sdk.GrantAlkali: {func(a *sdk.Adjustment) { a.AlkaliMolPerG = 0.01 }, func(a *sdk.Adjustment) { a.AlkaliHalfMolPerG = 0.01 }},
		sdk.GrantFats:   {func(a *sdk.Adjustment) { a.Fats = []sdk.FatBrought{{Fat: "palm", GPerG: 0.1}} }},
		sdk.GrantWater: {
			func(a *sdk.Adjustment) { a.WaterGPerG = 0.1 }, func(a *sdk.Adjustment) { a.BoundWaterGPerG = 1 },
			func(a *sdk.Adjustment) { a.RequestedWaterGPerG = 1 },
		},
		sdk.GrantTrace:    {func(a *sdk.Adjustment) { a.TraceTime = one }},
		sdk.GrantHeat:     {func(a *sdk.Adjustment) { a.HeatJPerG = 1 }},
		sdk.GrantFirmness: {func(a *sdk.Adjustment) { a.Firmness = one }},
	} {
		var others []sdk.Grant
		for _, g := range everything {
			if g != grant {
				others = append(others, g)
			}
		}
		for _, c := range change {
			a := sound()
			c(&a)
			answer := sdk.Answer{Adjustments: []sdk.Adjustment{a}}
			if err := sdk.CheckAnswer(OatMilk(), others, asked, answer); err == nil || !strings.Contains(err.Error(), string(grant)) {
				t.Errorf("without %q: %v", grant, err)
			}
			if err := sdk.CheckAnswer(OatMilk(), []sdk.Grant{grant}, asked, answer); err != nil {
				t.Errorf("with %q: %v", grant, err)
			}
		}
	}
	bound := sound()
	bound.AlkaliHighMolPerG = 0.01
	if err := sdk.CheckAnswer(OatMilk(), nil, asked, sdk.Answer{Adjustments: []sdk.Adjustment{bound}}); err != nil {
		t.Errorf("an upper bound needs no grant: %v", err)
	}
}

func TestEveryDoseIsAnsweredOnce(t *testing.T) {
	reject := sdk.Rejection{DoseID: "d", Reason: "STAGE", Text: "No."}
	for what, a := range map[string]sdk.Answer{
		"left out":       {},
		"twice":          {Adjustments: []sdk.Adjustment{sound(), sound()}},
		"both ways":      {Adjustments: []sdk.Adjustment{sound()}, Rejections: []sdk.Rejection{reject}},
		"an unasked fat": {Rejections: []sdk.Rejection{reject}, FatFactors: []sdk.FatFactor{{Fat: "palm", Basis: sdk.Estimate, Source: "x"}}},
	} {
		if err := sdk.CheckAnswer(OatMilk(), everything, asked, a); err == nil {
			t.Errorf("%s: it passes", what)
		}
	}
	watching := OatMilk()
	watching.WatchesFats = []string{"palm"}
	a := sdk.Answer{Rejections: []sdk.Rejection{reject}, FatFactors: []sdk.FatFactor{{Fat: "palm", Basis: sdk.Estimate, Source: "x"}}}
	if err := sdk.CheckAnswer(watching, everything, asked, a); err != nil {
		t.Errorf("a watched fat: %v", err)
	}
}

func TestCheckFindings(t *testing.T) {
	for _, c := range []struct {
		what, want string
		change     func(*sdk.Finding)
	}{
		{"sound", "", func(*sdk.Finding) {}},
		{"another's code", "a code is", func(f *sdk.Finding) { f.Code = "engine/lye-heavy" }},
		{"a code without name", "a code is", func(f *sdk.Finding) { f.Code = "acme-oats/" }},
		{"a severity of no list", "severity", func(f *sdk.Finding) { f.Severity = "panic" }},
		{"a number that is none", "number", func(f *sdk.Finding) { f.Numbers = map[string]float64{"dose_pct": math.Inf(-1)} }},
		{"two changes", "2 changes", func(f *sdk.Finding) {
			f.Remedies = []sdk.Suggestion{{Text: "x", AddWaterG: new(1.0), Gel: sdk.GelAvoid}}
		}},
		{"a dose of nothing", "first subject", func(f *sdk.Finding) { f.Remedies = []sdk.Suggestion{{Text: "x", SetDoseOfFatsPct: new(1.0)}} }},
		{"an absurd lye", "lye concentration", func(f *sdk.Finding) {
			f.Remedies = []sdk.Suggestion{{Text: "x", SetLyeConcentrationPct: new(0.33)}}
		}},
	} {
		f := sdk.Finding{Code: "acme-oats/slimy", Severity: sdk.Note, Text: "x", Basis: sdk.Estimate, Source: "x"}
		c.change(&f)
		err := sdk.CheckFindings(OatMilk(), everything, []sdk.Finding{f})
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%s: %v, want %q", c.what, err, c.want)
		}
	}
	if err := sdk.CheckFindings(OatMilk(), nil, []sdk.Finding{{Code: "acme-oats/slimy", Severity: sdk.Note, Text: "x", Basis: sdk.Estimate, Source: "x"}}); err == nil {
		t.Error("a finding without the grant passes")
	}
}
