package lactate

import (
	"context"
	"math"
	"testing"

	"lixivium.example/plugins/sdk"
)

func dosed(pct, strength float64, change ...func(*sdk.Dose)) sdk.Dose {
	d := sdk.Dose{
		ID: "lactate", Additive: additive, OfFatsPct: pct, OfPortionFatsPct: pct, Stage: sdk.StageCooledLye,
		Parameters: map[string]float64{"strength_pct": strength},
	}
	for _, c := range change {
		c(&d)
	}
	return d
}

func TestFigures(t *testing.T) {
	for _, c := range []struct {
		what                 string
		strength             float64
		water, density, near float64
		evidence             string
	}{
		{"60 % solution", 60, 0.40, 1.32, 0.002, "water: arithmetic; density from memory"},
		{"powder", 98, 0.02, 1.66, 0.01, "water: arithmetic; density derived from that of the solution"},
	} {
		a, r := adjust(dosed(1.5, c.strength))
		if r != nil {
			t.Fatalf("%s: rejected: %v", c.what, r)
		}
		if math.Abs(a.WaterGPerG-c.water) > 1e-12 || math.Abs(a.DensityGPerML-c.density) > c.near {
			t.Errorf("%s: water %v, density %v; want %v, %v (%s)", c.what, a.WaterGPerG, a.DensityGPerML, c.water, c.density, c.evidence)
		}
		if a.AlkaliMolPerG != 0 || len(a.Fats) != 0 {
			t.Errorf("%s: a neutral salt takes no alkali and brings no fat", c.what)
		}
	}
}

// A teaspoon per pound of fats is 1.4 % (trade tutorials; 6.5 g a teaspoon from
// its density).
func TestTeaspoon(t *testing.T) {
	g := Plugin().Owns[0].GPerTeaspoonUS
	if pct := 100 * g / 453.59237; math.Abs(pct-fullPct) > 0.05 {
		t.Errorf("a teaspoon per pound is %.2f %%, want 1.4", pct)
	}
	if density := g / 4.92892; math.Abs(density-1.32) > 0.01 {
		t.Errorf("a teaspoon holds %.3f g/mL, want the density of the solution", density)
	}
}

// Less water in the product, same salt: the effect follows the salt.
func TestPowderWorksLikeItsSolution(t *testing.T) {
	solution, _ := adjust(dosed(1.5, 60))
	powder, _ := adjust(dosed(1.5*60/98, 98))
	if math.Abs(solution.Firmness.Typical-powder.Firmness.Typical) > 1e-9 {
		t.Errorf("firmness %v as solution, %v as powder", solution.Firmness, powder.Firmness)
	}
	if solution.Firmness.Typical <= 1 || solution.TraceTime.High > 1 {
		t.Errorf("the loaf is firmer and trace no later: got %v, %v", solution.Firmness, solution.TraceTime)
	}
	more, _ := adjust(dosed(30, 60))
	if cap := firmer.AtDose(mostUsual*usualPct, usualPct, mostUsual); more.Firmness != cap {
		t.Errorf("far above the usual dose firmness is %v, want it capped at %v", more.Firmness, cap)
	}
}

func TestStepsNameTheTemperature(t *testing.T) {
	a, _ := adjust(dosed(1.5, 60))
	if len(a.Steps) != 2 || a.Steps[0].MaxC == nil || *a.Steps[0].MaxC != 54 { // trade tutorials
		t.Errorf("steps %+v, want into lye of 54 °C at most", a.Steps)
	}
	if _, r := adjust(dosed(1.5, 60, func(d *sdk.Dose) { d.Stage = sdk.StageFats })); r == nil || r.Field != "stage" {
		t.Errorf("lactate into fats was answered with %v, want a rejection of the stage", r)
	}
}

func salted(id string, pct float64) sdk.Dose {
	return sdk.Dose{ID: id, OfFatsPct: pct, OfPortionFatsPct: pct, Stage: sdk.StageWaterBeforeLye}
}

func TestFindings(t *testing.T) {
	early := dosed(1.5, 60)
	early.Stage = sdk.StageWaterBeforeLye
	acid := sdk.Dose{ID: "acid", Additive: "lactic-acid", OfFatsPct: 1, OfPortionFatsPct: 1, Parameters: map[string]float64{"assay_pct": 88}}
	for _, c := range []struct {
		what  string
		doses []sdk.Dose
		want  string // empty: silence
	}{
		{"the usual dose", []sdk.Dose{dosed(1.4, 60)}, ""},
		{"the ceiling, 3 % (trade tutorials)", []sdk.Dose{dosed(3, 60)}, ""},
		{"above it", []sdk.Dose{dosed(3.2, 60)}, "lactate/crumble"},
		{"as powder, 2.5 % is 4.1 % of solution", []sdk.Dose{dosed(2.5, 98)}, "lactate/crumble"},
		{"the sum of two", []sdk.Dose{dosed(2, 60), dosed(2, 60, func(d *sdk.Dose) { d.ID = "more" })}, "lactate/crumble"},
		{"with what lactic acid makes: 1 % of 88 % is 1.8 % of solution (stoichiometry)", []sdk.Dose{dosed(1.4, 60), acid}, "lactate/crumble"},
		{"with salt at full rate (trade tutorials)", []sdk.Dose{dosed(1.4, 60), salted("salt", 1)}, "lactate/with-salt"},
		{"with a pinch of salt", []sdk.Dose{dosed(1.4, 60), salted("salt", 0.3)}, ""},
		{"little lactate with salt", []sdk.Dose{dosed(0.7, 60), salted("sea-salt", 1)}, ""},
		{"in a salt bar", []sdk.Dose{dosed(1.4, 60), salted("salt", 50)}, ""},
		{"before the alkali", []sdk.Dose{early}, "lactate/hot-lye"},
	} {
		b := sdk.Batch{FatsG: 1000, NaOHG: 140, FreeWaterG: 280, Doses: c.doses, Portions: []sdk.PortionView{{FreeWaterG: 280, BatchStrengthPct: 33.3}}}
		got := Plugin().Review(context.Background(), b)
		switch {
		case c.want == "" && len(got) > 0:
			t.Errorf("%s: %q, want silence", c.what, got[0].Code)
		case c.want != "" && (len(got) != 1 || got[0].Code != c.want):
			t.Errorf("%s: %+v, want %s alone", c.what, got, c.want)
		}
	}
}

// The suggested dose, taken, silences the finding.
func TestCrumbleRemedyHelps(t *testing.T) {
	d := dosed(2, 60)
	d.PortionID, d.OfPortionFatsPct = "a", 4
	b := sdk.Batch{FatsG: 1000, Doses: []sdk.Dose{d}, Portions: []sdk.PortionView{{ID: "a"}, {ID: "b"}}}
	f := review(&b)
	if len(f) != 1 || f[0].Remedies[0].SetDoseOfFatsPct == nil {
		t.Fatalf("got %+v, want one finding with a dose", f)
	}
	b.Doses[0].OfFatsPct = *f[0].Remedies[0].SetDoseOfFatsPct
	b.Doses[0].OfPortionFatsPct = 2 * b.Doses[0].OfFatsPct
	if f := review(&b); len(f) != 0 {
		t.Errorf("with the suggested dose of %v %% it still says %+v", b.Doses[0].OfFatsPct, f)
	}
}
