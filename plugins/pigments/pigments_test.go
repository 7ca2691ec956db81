package pigments

import (
	"strings"
	"testing"

	"lixivium.example/plugins/sdk"
)

func TestAdjust(t *testing.T) {
	for _, c := range []struct {
		id                   string
		density, bound, time float64
		evidence             string
	}{
		{"titanium-dioxide", 4.2, 0, 0.9, "density of rutile from memory; slight speeding: trade tutorials"},
		{"zinc-oxide", 5.6, 0, 0.9, "density from memory"},
		{"iron-oxides", 5, 0, 0.9, "density from memory"},
		{"ultramarines", 2.35, 0, 0, "one batter test: no thickening (trade tutorial)"},
		{"chromium-oxide", 5.2, 0, 0, "one batter test: no change (trade tutorial)"},
		{"mica", 3, 0, 0.95, "slight or none: disputed"},
		{"charcoal", 1.9, 1.5, 0.9, "1 to 2 g water per g, from memory"},
		{"dyes", 1.5, 0, 0, "common practice"},
	} {
		a, r := adjust(dosed(c.id, byID[c.id].usual))
		if r != nil {
			t.Fatal(r)
		}
		if a.DensityGPerML != c.density || a.BoundWaterGPerG != c.bound || a.TraceTime.Typical != c.time || a.WaterGPerG != 0 || len(a.Fats) != 0 {
			t.Errorf("%s: %+v; want density %v, bound %v, time %v, and a carrier that is the recipe's (%s)", c.id, a, c.density, c.bound, c.time, c.evidence)
		}
	}
}

// Teaspoons per pound of fats, as the trade has them, against the usual dose.
func TestTeaspoons(t *testing.T) {
	for id, tsp := range map[string][2]float64{
		"titanium-dioxide": {0.25, 2}, "iron-oxides": {0.125, 1.1}, "ultramarines": {0.25, 2}, "mica": {0.5, 3}, "charcoal": {0.25, 3},
	} {
		k := byID[id]
		if low, high := tsp[0]*k.gPerTeaspoon/4.536, tsp[1]*k.gPerTeaspoon/4.536; k.usual < low || k.usual > high {
			t.Errorf("%s: usual %v %%, spoons say %.2f to %.2f", id, k.usual, low, high)
		}
	}
}

func codes(d sdk.Dose) string {
	a, _ := adjust(d)
	var out []string
	for _, s := range a.Steps {
		out = append(out, s.Code)
	}
	return strings.Join(out, " ")
}

func TestSteps(t *testing.T) {
	for _, c := range []struct {
		what, want string
		dose       sdk.Dose
	}{
		{"a white load hides the trail", "disperse judge-by-texture", dosed("titanium-dioxide", 0.7)},
		{"a little white does not", "disperse", dosed("titanium-dioxide", 0.3)},
		{"black is cut toward", "disperse wipe-wire", dosed("charcoal", 0.4)},
		{"mica is read", "disperse read-label", dosed("mica", 0.4)},
		{"powder lines are cut on the side", "dry cut-on-side", dosed("iron-oxides", 0.05, func(d *sdk.Dose) { d.Stage = sdk.StageSurface })},
	} {
		if got := codes(c.dose); got != c.want {
			t.Errorf("%s: steps %q, want %q", c.what, got, c.want)
		}
	}
	a, _ := adjust(dosed("titanium-dioxide", 0.7))
	if a.Steps[0].WaitMinutes == nil || *a.Steps[0].WaitMinutes != 10 {
		t.Errorf("no rest is named: %+v", a.Steps[0])
	}
}

func TestGradeIsASwitch(t *testing.T) {
	_, r := adjust(dosed("titanium-dioxide", 0.7, func(d *sdk.Dose) { d.Parameters[waterGrade] = 0.5 }))
	if r == nil || r.Field != "parameters.water_dispersible" {
		t.Errorf("got %+v", r)
	}
}

func TestFindings(t *testing.T) {
	dry := func(d *sdk.Dose) { d.Carrier, d.CarrierGPerG = "", 0 }
	inWater := func(d *sdk.Dose) { d.Carrier = "water" }
	acid := func(s sdk.Stage) sdk.Dose {
		return sdk.Dose{ID: "acid", Additive: "citric-acid", OfFatsPct: 1, OfPortionFatsPct: 1, Stage: s}
	}
	for _, c := range []struct {
		what  string
		doses []sdk.Dose
		want  string
	}{
		{"usual white", []sdk.Dose{dosed("titanium-dioxide", 0.7)}, ""},
		{"usual oxide", []sdk.Dose{dosed("iron-oxides", 0.2)}, ""},
		{"usual mica, dry", []sdk.Dose{dosed("mica", 0.4, dry)}, ""},
		{"oxide above three quarters of a teaspoon (trade tutorials)", []sdk.Dose{dosed("iron-oxides", 0.9)}, "pigments/stains-lather"},
		{"charcoal above one and a half teaspoons (trade tutorials)", []sdk.Dose{dosed("charcoal", 0.8)}, "pigments/stains-lather"},
		{"white above two teaspoons", []sdk.Dose{dosed("titanium-dioxide", 1.5), dosed("zinc-oxide", 1)}, "pigments/chalky"},
		{"carmine and the like (chemistry, from memory)", []sdk.Dose{dosed("alkali-unstable", 0.2)}, "pigments/changes-color"},
		{"lakes turn (trade tutorials)", []sdk.Dose{dosed("lakes", 0.06)}, "pigments/changes-color"},
		{"dry oxide", []sdk.Dose{dosed("iron-oxides", 0.2, dry)}, "pigments/clumps"},
		{"a stiff paste", []sdk.Dose{dosed("iron-oxides", 0.2, func(d *sdk.Dose) { d.CarrierGPerG = 0.5 })}, "pigments/clumps"},
		{"oil grade in water", []sdk.Dose{dosed("titanium-dioxide", 0.5, inWater)}, "pigments/wrong-medium"},
		{"water grade in oil", []sdk.Dose{dosed("titanium-dioxide", 0.5, func(d *sdk.Dose) { d.Parameters[waterGrade] = 1 })}, "pigments/wrong-medium"},
		{"water grade in water", []sdk.Dose{dosed("titanium-dioxide", 0.5, inWater, func(d *sdk.Dose) { d.Parameters[waterGrade] = 1 })}, ""},
		{"ultramarine and acid at trace", []sdk.Dose{dosed("ultramarines", 0.4), acid(sdk.StageTrace)}, "pigments/acid-destroys"},
		{"ultramarine and acid before the lye", []sdk.Dose{dosed("ultramarines", 0.4), acid(sdk.StageWaterBeforeLye)}, ""},
		{"dye in a bar of one color", []sdk.Dose{dosed("dyes", 0.02)}, "pigments/changes-color"},
	} {
		b := whole(36, sdk.GelForce, c.doses...)
		got := review(&b)
		if c.want == "" && len(got) > 0 || c.want != "" && (len(got) != 1 || got[0].Code != c.want) {
			t.Errorf("%s: %+v, want %q", c.what, got, c.want)
		}
	}
}

// What passes between portions: dye that wanders, charcoal that smears.
func TestBetweenPortions(t *testing.T) {
	in := func(portion string) func(*sdk.Dose) {
		return func(d *sdk.Dose) { d.PortionID, d.OfPortionFatsPct = portion, 2*d.OfFatsPct }
	}
	two := func(doses ...sdk.Dose) []string {
		b := whole(34, sdk.GelAvoid, doses...)
		b.Portions = []sdk.PortionView{{ID: "a", BatchStrengthPct: 34}, {ID: "b", BatchStrengthPct: 34}}
		var out []string
		for _, f := range review(&b) {
			out = append(out, f.Code)
		}
		return out
	}
	if got := strings.Join(two(dosed("dyes", 0.01, in("a"))), " "); got != "pigments/bleeds pigments/changes-color" {
		t.Errorf("dye beside another color: %q", got)
	}
	if got := strings.Join(two(dosed("charcoal", 0.4, in("a")), dosed("titanium-dioxide", 0.3, in("b"))), " "); got != "pigments/stains-lather pigments/smears-at-cut" {
		t.Errorf("much charcoal beside white: %q", got)
	}
	if got := two(dosed("charcoal", 0.25, in("a")), dosed("titanium-dioxide", 0.3, in("b"))); len(got) != 0 {
		t.Errorf("usual charcoal beside white: %q", got)
	}
}
