package acids

import (
	"context"
	"math"
	"testing"

	"lixivium.example/plugins/sdk"
)

const naohG = 39.997

func dosed(id string, pct float64, set map[string]float64) sdk.Dose {
	d := sdk.Dose{ID: id, Additive: id, OfFatsPct: pct, OfPortionFatsPct: pct, Stage: sdk.StageWaterBeforeLye, Parameters: map[string]float64{}}
	k := byID[id]
	if k.parameter.Name != "" {
		d.Parameters[k.parameter.Name] = k.parameter.Default
	}
	for name, v := range set {
		d.Parameters[name] = v
	}
	return d
}

// NaOH per gram of product, water carried, and what they rest on.
func TestAlkaliAndWater(t *testing.T) {
	for _, c := range []struct {
		what, id    string
		set         map[string]float64
		naoh, water float64
		evidence    string
	}{
		{"citric acid, anhydrous", "citric-acid", nil, 0.6246, 0, "stoichiometry: 3 mol per 192.12 g"},
		{"citric acid, monohydrate", "citric-acid", map[string]float64{monohydrate: 1}, 0.5710, 0.0857, "stoichiometry: 3 mol per 210.14 g"},
		{"lactic acid, pure", "lactic-acid", map[string]float64{"assay_pct": 100}, 0.4440, 0, "stoichiometry: 1 mol per 90.08 g"},
		{"lactic acid, 88 %", "lactic-acid", nil, 0.3907, 0.12, "the pure acid by its assay"},
		{"lactic acid, 80 %", "lactic-acid", map[string]float64{"assay_pct": 80}, 0.3552, 0.20, "the pure acid by its assay"},
		{"vinegar, 5 %", "vinegar", nil, 0.0333, 0.95, "stoichiometry: 1 mol per 60.05 g; the rounded 1/28 of the trade is 7 % high"},
		{"vinegar essence, 25 %", "vinegar", map[string]float64{"acid_pct": 25}, 0.1665, 0.75, "by the label"},
		{"ascorbic acid", "ascorbic-acid", nil, 0.2271, 0, "stoichiometry: 1 mol per 176.12 g"},
	} {
		a, r := adjust(dosed(c.id, 1, c.set))
		if r != nil {
			t.Fatalf("%s: rejected: %v", c.what, r)
		}
		if naoh := a.AlkaliMolPerG * naohG; math.Abs(naoh-c.naoh) > 0.00006 || math.Abs(a.WaterGPerG-c.water) > 0.00006 {
			t.Errorf("%s: %.4f g NaOH and %.4f g water per g, want %v and %v (%s)", c.what, naoh, a.WaterGPerG, c.naoh, c.water, c.evidence)
		}
		if half := a.AlkaliHalfMolPerG / a.AlkaliMolPerG; half < 0.005 || half > 0.05 {
			t.Errorf("%s: the half-width is %.3f of the value; a declared strength is good to half a percent to five", c.what, half)
		}
	}
}

// The other half of the proton balance in KOH: 0.876 g per g, where 0.842, often
// printed, is wrong for anhydrous acid.
func TestCitricInKOH(t *testing.T) {
	a, _ := adjust(dosed("citric-acid", 1, nil))
	if koh := a.AlkaliMolPerG * 56.1056; math.Abs(koh-0.8761) > 0.0005 {
		t.Errorf("citric acid takes %.4f g KOH per g, want 0.876 (stoichiometry)", koh)
	}
}

// Ascorbic acid may take a second mol at most; it widens the superfat only.
func TestAscorbicUpperBound(t *testing.T) {
	a, _ := adjust(dosed("ascorbic-acid", 0.2, nil))
	if math.Abs(a.AlkaliHighMolPerG-2*a.AlkaliMolPerG) > 1e-15 {
		t.Errorf("upper bound %v for %v", a.AlkaliHighMolPerG, a.AlkaliMolPerG)
	}
}

func TestHalfAMonohydrateIsRejected(t *testing.T) {
	_, r := adjust(dosed("citric-acid", 1, map[string]float64{monohydrate: 0.5}))
	if r == nil || r.Field != "parameters.monohydrate" {
		t.Errorf("got %+v, want a rejection of parameters.monohydrate", r)
	}
}

func batch(d ...sdk.Dose) sdk.Batch {
	return sdk.Batch{FatsG: 1000, NaOHG: 140, FreeWaterG: 280, Doses: d, Portions: []sdk.PortionView{{FreeWaterG: 280, BatchStrengthPct: 33.3}}}
}

// The salt, g per g of acid, without water of crystallization: stoichiometry.
func TestSaltFormed(t *testing.T) {
	for _, c := range []struct {
		id, number string
		set        map[string]float64
		koh, want  float64
	}{
		{"citric-acid", "citrate_g", nil, 0, 1.343},
		{"citric-acid", "citrate_g", map[string]float64{monohydrate: 1}, 0, 1.228},
		{"citric-acid", "citrate_g", nil, 100, 1.595}, // tripotassium citrate, 306.4 g/mol
		{"lactic-acid", "lactate_g", map[string]float64{"assay_pct": 100}, 0, 1.244},
		{"vinegar", "acetate_g", nil, 0, 0.0683}, // 14.6 % of the fats give 1 % acetate
		{"ascorbic-acid", "ascorbate_g", nil, 0, 1.125},
	} {
		b := batch(dosed(c.id, 0.1, c.set)) // 1 g in 1,000 g of fats
		b.Conditions.KOHOfMolesPct = c.koh
		got := Plugin().Review(context.Background(), b)
		if len(got) != 1 || got[0].Code != "acids/salt-formed" || got[0].Severity != sdk.Note {
			t.Fatalf("%s: %+v, want one note on the salt", c.id, got)
		}
		if v := got[0].Numbers[c.number]; math.Abs(v-c.want) > 0.0006 {
			t.Errorf("%s at %v %% KOH: %v %s, want %v", c.id, c.koh, v, c.number, c.want)
		}
	}
}

func TestFindings(t *testing.T) {
	late := dosed("citric-acid", 1, nil)
	late.Stage = sdk.StageCooledLye
	grainy := dosed("citric-acid", 1, nil)
	grainy.Stage = sdk.StageFats
	lactate := sdk.Dose{ID: "sl", Additive: "sodium-lactate", OfFatsPct: 1, OfPortionFatsPct: 1}
	for _, c := range []struct {
		what  string
		doses []sdk.Dose
		want  string // beside the salt; empty: nothing
	}{
		{"citric acid, usual", []sdk.Dose{dosed("citric-acid", 1, nil)}, ""},
		{"citric acid, 2 % (forums)", []sdk.Dose{dosed("citric-acid", 2, nil)}, ""},
		{"citric acid, 2.5 %", []sdk.Dose{dosed("citric-acid", 2.5, nil)}, "acids/blooms"},
		{"lactic acid, usual", []sdk.Dose{dosed("lactic-acid", 0.9, nil)}, ""},
		{"lactic acid, 2 %: lactate of 3.6 % of solution", []sdk.Dose{dosed("lactic-acid", 2, nil)}, "acids/crumbles"},
		{"the same beside lactate is that plugin's", []sdk.Dose{dosed("lactic-acid", 2, nil), lactate}, ""},
		{"vinegar for all the water", []sdk.Dose{dosed("vinegar", 38, nil)}, ""},
		{"vinegar, too much", []sdk.Dose{dosed("vinegar", 45, nil)}, "acids/too-much"},
		{"strong vinegar, too much acid", []sdk.Dose{dosed("vinegar", 20, map[string]float64{"acid_pct": 12})}, "acids/too-much"},
		{"ascorbic acid, too much", []sdk.Dose{dosed("ascorbic-acid", 1, nil)}, "acids/too-much"},
		{"into lye (trade tutorials: acid before the lye)", []sdk.Dose{late}, "acids/spatters"},
		{"crystals in fats", []sdk.Dose{grainy}, "acids/grains"},
	} {
		var codes []string
		for _, f := range Plugin().Review(context.Background(), batch(c.doses...)) {
			if f.Code != "acids/salt-formed" {
				codes = append(codes, f.Code)
			}
		}
		if c.want == "" && len(codes) > 0 || c.want != "" && (len(codes) != 1 || codes[0] != c.want) {
			t.Errorf("%s: %q, want %q", c.what, codes, c.want)
		}
	}
}
