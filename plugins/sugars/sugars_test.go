package sugars

import (
	"context"
	"math"
	"testing"

	"lixivium.example/plugins/sdk"
)

func dosed(id string, pct float64, change ...func(*sdk.Dose)) sdk.Dose {
	k := byID[id]
	d := sdk.Dose{
		ID: id, Additive: id, OfFatsPct: pct, OfPortionFatsPct: pct, Stage: k.stage,
		Parameters: map[string]float64{k.holds.Name: k.holds.Default},
	}
	for _, c := range change {
		c(&d)
	}
	return d
}

func holding(v float64) func(*sdk.Dose) {
	return func(d *sdk.Dose) { d.Parameters[byID[d.Additive].holds.Name] = v }
}

func at(s sdk.Stage) func(*sdk.Dose) { return func(d *sdk.Dose) { d.Stage = s } }

func TestFigures(t *testing.T) {
	for _, c := range []struct {
		what                     string
		dose                     sdk.Dose
		water, high, density, by float64
		evidence                 string
	}{
		{"sugar", dosed("sugar", 1), 0, 0, 1.59, 0.01, "sucrose does not reduce; 1.587 as crystals"},
		{"two-to-one syrup", dosed("sugar", 1, holding(66.7)), 0.333, 0, 1.33, 0.01, "1.33 at 66.7 % sugar, from memory"},
		{"sorbitol powder", dosed("sorbitol", 2), 0, 0, 1.49, 0.01, "not a reducing sugar; density from memory"},
		{"sorbitol, 70 %", dosed("sorbitol", 2, holding(70)), 0.30, 0, 1.29, 0.02, "6.35 g a teaspoon"},
		{"honey", dosed("honey", 1.5), 0.18, 0.009, 1.42, 0.01, "17 to 20 % water (trade tutorials); bound by stoichiometry; 7.0 g a teaspoon (food table)"},
		{"maple syrup", dosed("maple-syrup", 1.5), 0.33, 0, 1.33, 0.02, "composition from memory"},
		{"agave syrup", dosed("agave-syrup", 1.5), 0.25, 0.008, 1.39, 0.02, "composition from memory; bound by stoichiometry"},
	} {
		a, _ := adjust(c.dose)
		if math.Abs(a.WaterGPerG-c.water) > 1e-9 || math.Abs(a.AlkaliHighMolPerG-c.high) > 0.0005 || math.Abs(a.DensityGPerML-c.density) > c.by {
			t.Errorf("%s: water %.3f, at most %.5f mol, %.3f g/mL; want %v, %v, %v (%s)",
				c.what, a.WaterGPerG, a.AlkaliHighMolPerG, a.DensityGPerML, c.water, c.high, c.density, c.evidence)
		}
		if a.AlkaliMolPerG != 0 || a.AlkaliHalfMolPerG != 0 {
			t.Errorf("%s: an upper bound became alkali", c.what)
		}
		if a.HeatJPerG <= 0 || a.Firmness.Typical >= 1 {
			t.Errorf("%s: sugars warm (%v J/g) and soften (%v)", c.what, a.HeatJPerG, a.Firmness)
		}
	}
}

// Orders of heat and speed in trade tutorials: honey more than sugar, sugar more
// than sorbitol, which leaves trace alone.
func TestOrders(t *testing.T) {
	honey, _ := adjust(dosed("honey", 1.5))
	sugar, _ := adjust(dosed("sugar", 1))
	sorbitol, _ := adjust(dosed("sorbitol", 2))
	if !(honey.HeatJPerG > sugar.HeatJPerG && sugar.HeatJPerG > sorbitol.HeatJPerG) {
		t.Errorf("heat: honey %v, sugar %v, sorbitol %v", honey.HeatJPerG, sugar.HeatJPerG, sorbitol.HeatJPerG)
	}
	if honey.TraceTime.Typical >= sugar.TraceTime.Typical || sorbitol.TraceTime != (sdk.Band{}) {
		t.Errorf("trace: honey %v, sugar %v, sorbitol %v", honey.TraceTime, sugar.TraceTime, sorbitol.TraceTime)
	}
}

// The cap on heat: 230 kJ per mol of hexose is 1,280 J/g; honey holds 82 % of
// sugars. The figure in use stays below.
func TestHeatStaysPossible(t *testing.T) {
	a, _ := adjust(dosed("honey", 1.5))
	if most := 230000 / 180.16 * 0.82; a.HeatJPerG > most {
		t.Errorf("%v J/g, where all of the sugar gives %v", a.HeatJPerG, most)
	}
}

func TestStepsSayHowWarm(t *testing.T) {
	for id, want := range map[string]float64{"sugar": 35, "honey": 32} { // trade tutorials
		a, _ := adjust(dosed(id, 1))
		if s := a.Steps[0]; s.Code != "start-cool" || s.MaxC == nil || *s.MaxC != want {
			t.Errorf("%s: first step %+v, want a start at %v °C at most", id, s, want)
		}
	}
	if _, r := adjust(dosed("honey", 1, at(sdk.StageSurface))); r == nil {
		t.Error("honey on top was not rejected")
	}
}

func TestFindings(t *testing.T) {
	warm := sdk.Conditions{FatsC: new(50.0), LyeC: new(45.0)}
	white := sdk.Dose{ID: "white", Additive: "titanium-dioxide", OfFatsPct: 0.7, OfPortionFatsPct: 0.7, Stage: sdk.StageTrace}
	for _, c := range []struct {
		what  string
		doses []sdk.Dose
		cond  sdk.Conditions
		want  string
	}{
		{"sugar, usual", []sdk.Dose{dosed("sugar", 1)}, sdk.Conditions{FatsC: new(38.0)}, ""},
		{"honey, usual, at trace", []sdk.Dose{dosed("honey", 1.5)}, sdk.Conditions{}, ""},
		{"honey, a tablespoon per pound (trade tutorials)", []sdk.Dose{dosed("honey", 4.6)}, sdk.Conditions{}, ""},
		{"sugar, 3 %", []sdk.Dose{dosed("sugar", 3)}, sdk.Conditions{}, "sugars/overheats"},
		{"sugar syrup of the same sugar as 2 %", []sdk.Dose{dosed("sugar", 2.9, holding(66.7))}, sdk.Conditions{}, ""},
		{"honey and sugar that add up", []sdk.Dose{dosed("honey", 3), dosed("sugar", 1.5)}, sdk.Conditions{}, "sugars/overheats"},
		{"sugar with a forced gel", []sdk.Dose{dosed("sugar", 1.5)}, sdk.Conditions{Gel: sdk.GelForce}, "sugars/overheats"},
		{"a pinch with a forced gel", []sdk.Dose{dosed("sugar", 0.5)}, sdk.Conditions{Gel: sdk.GelForce}, ""},
		{"honey, started at 50 °C", []sdk.Dose{dosed("honey", 3)}, warm, "sugars/overheats"},
		{"honey in the lye (producer's page: carbon monoxide)", []sdk.Dose{dosed("honey", 1.5, at(sdk.StageCooledLye))}, sdk.Conditions{}, "sugars/carbon-monoxide"},
		{"agave in the water", []sdk.Dose{dosed("agave-syrup", 1.5, at(sdk.StageWaterBeforeLye))}, sdk.Conditions{}, "sugars/carbon-monoxide"},
		{"sugar in the water: not a reducing sugar", []sdk.Dose{dosed("sugar", 1)}, sdk.Conditions{}, ""},
		{"sorbitol in cooled lye: nor this", []sdk.Dose{dosed("sorbitol", 2, at(sdk.StageCooledLye))}, sdk.Conditions{}, ""},
		{"maple in the water: hardly", []sdk.Dose{dosed("maple-syrup", 1.5, at(sdk.StageWaterBeforeLye))}, sdk.Conditions{}, ""},
		{"honey in white", []sdk.Dose{dosed("honey", 1.5), white}, sdk.Conditions{}, "sugars/browns-white"},
		{"sugar in white", []sdk.Dose{dosed("sugar", 1), white}, sdk.Conditions{}, ""},
	} {
		b := sdk.Batch{FatsG: 1000, NaOHG: 140, FreeWaterG: 280, Doses: c.doses, Conditions: c.cond, Portions: []sdk.PortionView{{BatchStrengthPct: 33.3}}}
		got := Plugin().Review(context.Background(), b)
		if c.want == "" && len(got) > 0 || c.want != "" && (len(got) != 1 || got[0].Code != c.want) {
			t.Errorf("%s: %+v, want %q", c.what, got, c.want)
		}
	}
}

func TestTooMuchHoneyIsSticky(t *testing.T) {
	b := sdk.Batch{FatsG: 1000, Doses: []sdk.Dose{dosed("honey", 8)}, Portions: []sdk.PortionView{{}}}
	f := review(&b)
	if len(f) != 2 || f[0].Code != "sugars/overheats" || f[1].Code != "sugars/sticky" {
		t.Errorf("got %+v", f)
	}
}

// Honey in its own portion leaves the white one alone.
func TestPortionsApart(t *testing.T) {
	honey := dosed("honey", 0.5, func(d *sdk.Dose) { d.PortionID, d.OfPortionFatsPct = "gold", 1.5 })
	white := sdk.Dose{ID: "w", Additive: "titanium-dioxide", OfFatsPct: 0.2, OfPortionFatsPct: 0.6, PortionID: "white", Stage: sdk.StageTrace}
	b := sdk.Batch{FatsG: 1000, Doses: []sdk.Dose{honey, white}, Portions: []sdk.PortionView{{ID: "gold"}, {ID: "white"}}}
	if f := review(&b); len(f) != 0 {
		t.Errorf("got %+v, want silence", f)
	}
}
