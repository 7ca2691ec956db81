package conform_test

import (
	"context"
	"os"
	"os/exec"
	"strings"
	"sync/atomic"
	"testing"

	"lixivium.example/plugins/conform"
	"lixivium.example/plugins/sdk"
)

// badVar names the faulty plugin that a second run of this test binary puts
// through the kit.
const badVar = "CONFORM_FAULT"

var asked atomic.Int64

// faults are plugins with one fault each, and the subtest that must find it.
var faults = map[string]struct {
	caughtBy string
	spoil    func(*sdk.Plugin)
}{
	"out of bounds at a high dose": {"every dose is answered", rule(func(d sdk.Dose, a *sdk.Adjustment) { a.WaterGPerG = d.OfFatsPct / 100 })},
	"not a number": {"every dose is answered", rule(func(d sdk.Dose, a *sdk.Adjustment) {
		a.TraceTime = sdk.Band{Low: 1, Typical: 1, High: (d.OfFatsPct - 200) / (d.OfFatsPct - 200)}
	})},
	"beyond its grants":        {"every dose is answered", rule(func(_ sdk.Dose, a *sdk.Adjustment) { a.HeatJPerG = 1 })},
	"writes into the question": {"every dose is answered", rule(func(d sdk.Dose, _ *sdk.Adjustment) { d.Parameters["strength_pct"] = 1 })},
	"changes its mind":         {"the same question", rule(func(_ sdk.Dose, a *sdk.Adjustment) { a.WaterGPerG = float64(asked.Add(1)%7) / 10 })},
	"looks at other doses": {"doses do not see each other", func(p *sdk.Plugin) {
		p.Adjust = func(_ context.Context, q sdk.Question) sdk.Answer {
			return q.Each(func(sdk.Dose) (sdk.Adjustment, *sdk.Rejection) {
				return sdk.Adjustment{WaterGPerG: min(1, float64(len(q.Doses))/10), DensityGPerML: 1, Basis: sdk.Estimate, Source: "x"}, nil
			})
		}
	}},
	"speaks in another's name": {"findings keep the contract", says(func(*sdk.Batch) sdk.Finding { return sdk.Finding{Code: "engine/lye-heavy"} })},
	"of nothing in the batch": {"findings keep the contract", says(func(*sdk.Batch) sdk.Finding {
		return sdk.Finding{Code: "good/odd", Subjects: []string{"elsewhere"}}
	})},
	"divides by the water": {"odd batches are survived", says(func(b *sdk.Batch) sdk.Finding {
		return sdk.Finding{Code: "good/odd", Numbers: map[string]float64{"per_water": b.NaOHG / b.FreeWaterG}}
	})},
}

// good keeps the contract.
func good() *sdk.Plugin {
	p := &sdk.Plugin{
		Name: "good", Version: "1", Wants: []sdk.Grant{sdk.GrantWater, sdk.GrantTrace, sdk.GrantFindings},
		Owns: []sdk.Additive{{
			ID: "good-one", Name: "One", LowOfFatsPct: 1, HighOfFatsPct: 3, UsualStage: sdk.StageTrace,
			Parameters: []sdk.Parameter{{Name: "strength_pct", Unit: "percent", Min: 50, Max: 100, Default: 60}},
		}},
	}
	rule(func(sdk.Dose, *sdk.Adjustment) {})(p)
	return p
}

func rule(spoil func(sdk.Dose, *sdk.Adjustment)) func(*sdk.Plugin) {
	return func(p *sdk.Plugin) {
		p.Adjust = func(_ context.Context, q sdk.Question) sdk.Answer {
			return q.Each(func(d sdk.Dose) (sdk.Adjustment, *sdk.Rejection) {
				a := sdk.Adjustment{DensityGPerML: 1, Basis: sdk.Estimate, Source: "x"}
				spoil(d, &a)
				return a, nil
			})
		}
	}
}

func says(f func(*sdk.Batch) sdk.Finding) func(*sdk.Plugin) {
	return func(p *sdk.Plugin) {
		p.Review = func(_ context.Context, b sdk.Batch) []sdk.Finding {
			x := f(&b)
			x.Severity, x.Text, x.Basis, x.Source = sdk.Note, "x", sdk.Estimate, "x"
			return []sdk.Finding{x}
		}
	}
}

// TestGoodPlugin passes; in a second run, with a fault named, it must fail.
func TestGoodPlugin(t *testing.T) {
	p := good()
	if f, ok := faults[os.Getenv(badVar)]; ok {
		f.spoil(p)
	}
	conform.Run(t, p)
}

func TestKitFindsEveryFault(t *testing.T) {
	for name, f := range faults {
		t.Run(name, func(t *testing.T) {
			cmd := exec.Command(os.Args[0], "-test.run=^TestGoodPlugin$")
			cmd.Env = append(os.Environ(), badVar+"="+name)
			out, err := cmd.CombinedOutput()
			caught := strings.ReplaceAll(f.caughtBy, " ", "_")
			if err == nil || !strings.Contains(string(out), "--- FAIL: TestGoodPlugin/"+caught) {
				t.Errorf("it was not found by %q: %v\n%s", f.caughtBy, err, out)
			}
		})
	}
}
