package pigments

import (
	"math"
	"testing"

	"lixivium.example/plugins/sdk"
)

func dosed(id string, pct float64, change ...func(*sdk.Dose)) sdk.Dose {
	d := sdk.Dose{
		ID: id, Additive: id, OfFatsPct: pct, OfPortionFatsPct: pct, Stage: sdk.StageTrace,
		Carrier: "sunflower-oil", CarrierGPerG: 4, Parameters: map[string]float64{},
	}
	if byID[id] != nil && byID[id].switches {
		d.Parameters[waterGrade] = 0
	}
	for _, c := range change {
		c(&d)
	}
	return d
}

// whole is a batch of one portion at that strength.
func whole(strength float64, gel sdk.GelIntent, doses ...sdk.Dose) sdk.Batch {
	free := 140 * (100 - strength) / strength
	return sdk.Batch{
		FatsG: 1000, NaOHG: 140, FreeWaterG: free, TotalWaterG: free, Doses: doses, Conditions: sdk.Conditions{Gel: gel},
		Portions: []sdk.PortionView{{FreeWaterG: free, BatchStrengthPct: strength}},
	}
}

func TestRivers(t *testing.T) {
	const none, note, caution = sdk.Severity(""), sdk.Note, sdk.Caution
	for _, c := range []struct {
		what     string
		strength float64
		gel      sdk.GelIntent
		dose     sdk.Dose
		want     sdk.Severity
	}{
		{"1:2.4, the wet half of the test (trade blog): rivers", 29.4, sdk.GelForce, dosed("titanium-dioxide", 0.9), caution},
		{"1:1.4, its dry half: none", 41.7, sdk.GelForce, dosed("titanium-dioxide", 0.9), none},
		{"one teaspoon per 1,000 g was enough (trade tutorial)", 27, sdk.GelForce, dosed("titanium-dioxide", 0.375), caution},
		{"no gel, no rivers (college column)", 25, sdk.GelAvoid, dosed("titanium-dioxide", 2), none},
		{"no pigment, no rivers (college column)", 25, sdk.GelForce, dosed("mica", 0.4), none},
		{"28 %: high (estimate)", 28, sdk.GelForce, dosed("titanium-dioxide", 0.7), caution},
		{"30 %: medium (estimate)", 30, sdk.GelForce, dosed("titanium-dioxide", 0.7), note},
		{"30 % with the gel left open", 30, sdk.GelNotSaid, dosed("titanium-dioxide", 0.7), none},
		{"33 %: low (estimate)", 33, sdk.GelForce, dosed("titanium-dioxide", 0.7), none},
		{"33 % and a heavy load (estimate)", 33, sdk.GelForce, dosed("titanium-dioxide", 1), note},
		{"35 % and a heavy load (estimate)", 35, sdk.GelForce, dosed("titanium-dioxide", 1), none},
		{"oxides show them less (estimate)", 27, sdk.GelForce, dosed("iron-oxides", 0.4), note},
		{"a tint of oxide", 27, sdk.GelForce, dosed("iron-oxides", 0.1), none},
		{"powder on top", 27, sdk.GelForce, dosed("titanium-dioxide", 0.7, func(d *sdk.Dose) { d.Stage = sdk.StageSurface }), none},
	} {
		b := whole(c.strength, c.gel, c.dose)
		f := rivers(&b, b.Portions[0])
		got := none
		if f != nil {
			got = f.Severity
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", c.what, got, c.want)
		}
	}
}

// The water that avoids them: the suggested lye, taken, silences the finding.
func TestRiversRemedyHelps(t *testing.T) {
	b := whole(28, sdk.GelForce, dosed("titanium-dioxide", 0.7))
	f := rivers(&b, b.Portions[0])
	if f == nil || len(f.Remedies) < 2 || f.Remedies[0].SetLyeConcentrationPct == nil || f.Remedies[1].Gel != sdk.GelAvoid {
		t.Fatalf("got %+v, want lye first, then no gel", f)
	}
	if ask := *f.Remedies[0].SetLyeConcentrationPct; ask != 33 {
		t.Errorf("it asks for %v %% lye, want 33 (trade tutorials)", ask)
	}
	b = whole(*f.Remedies[0].SetLyeConcentrationPct, sdk.GelForce, dosed("titanium-dioxide", 0.7))
	if f := rivers(&b, b.Portions[0]); f != nil {
		t.Errorf("with it: %+v", f)
	}
}

// A water slurry makes one portion weaker than the rest: 20 g of water in a
// quarter of a batch at 33 %. The portion alone is told, with the stronger lye
// that makes up for the slurry.
func TestSlurryCountsInItsPortion(t *testing.T) {
	white := dosed("titanium-dioxide", 0.2, func(d *sdk.Dose) {
		d.PortionID, d.OfPortionFatsPct = "white", 0.8
		d.Carrier, d.CarrierGPerG, d.Parameters[waterGrade] = "water", 10, 1
	})
	free := 140 * 67 / 33.0
	b := sdk.Batch{
		FatsG: 1000, NaOHG: 140, FreeWaterG: free, Doses: []sdk.Dose{white}, Conditions: sdk.Conditions{Gel: sdk.GelForce},
		Portions: []sdk.PortionView{
			{ID: "white", FreeWaterG: (free-20)/4 + 20, BatchStrengthPct: 100 * 35 / (35 + (free-20)/4 + 20)},
			{ID: "rest", FreeWaterG: (free - 20) * 3 / 4, BatchStrengthPct: 100 * 105 / (105 + (free-20)*3/4)},
		},
	}
	got := review(&b)
	if len(got) != 1 || got[0].Code != "pigments/rivers" || got[0].Subjects[1] != "white" {
		t.Fatalf("got %+v, want rivers in the white portion alone", got)
	}
	ask := *got[0].Remedies[0].SetLyeConcentrationPct
	// By hand: at that lye the water is 140 (100 - ask)/ask; the white portion gets
	// a quarter of all but the slurry, and the slurry.
	w := 140 * (100 - ask) / ask
	if strength := 100 * 35 / (35 + (w-20)/4 + 20); strength < 33 || strength > 34 {
		t.Errorf("%v %% lye brings the white portion to %.1f %%, want 33 and a little", ask, strength)
	}
	if len(got[0].Remedies) != 3 {
		t.Errorf("it does not say that oil would do: %+v", got[0].Remedies)
	}
}

func TestRiverLyeIsNotAbsurd(t *testing.T) {
	b := whole(33, sdk.GelForce, dosed("titanium-dioxide", 1))
	b.Portions[0].FreeWaterG *= 2
	b.Portions[0].BatchStrengthPct = 20
	if ask, ok := lyeFor(&b, b.Portions[0], 35); ok && (ask > mostLyePct || ask < leastLyePct || math.IsNaN(ask)) {
		t.Errorf("it suggests %v %% lye", ask)
	}
}
