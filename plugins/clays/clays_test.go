package clays

import (
	"context"
	"testing"

	"lixivium.example/plugins/sdk"
)

func dosed(id string, pct float64) sdk.Dose {
	return sdk.Dose{ID: id, Additive: id, OfFatsPct: pct, OfPortionFatsPct: pct, Stage: sdk.StageFats}
}

// Water that a gram binds, by the range in which its figure stands.
func TestWaterBound(t *testing.T) {
	for _, c := range []struct {
		id                string
		low, high         float64
		requested, factor float64
		evidence          string
	}{
		{"kaolin", 0.36, 0.45, 0.4, 0.9, "water of plasticity 36 %: clay data page"},
		{"bentonite", 1, 5, 1.5, 0.6, "5 in pure water (data page), much less in lye; 1 to 2 added back (trade tutorials)"},
		{"rhassoul", 0.8, 1.5, 1.15, 0.9, "estimate"},
		{"french-green", 0.6, 1.5, 1.05, 0.9, "estimate"},
		{"rose-clay", 0.4, 0.6, 0.5, 0.9, "estimate"},
		{"fullers-earth", 0.8, 1.2, 1, 0.9, "estimate; 1 g per g added back (trade tutorials)"},
	} {
		a, _ := adjust(dosed(c.id, byID[c.id].usual))
		if a.BoundWaterGPerG < c.low || a.BoundWaterGPerG > c.high || a.RequestedWaterGPerG != c.requested || a.WaterGPerG != 0 {
			t.Errorf("%s binds %v, asks for %v, brings %v; want %v to %v, %v, 0 (%s)",
				c.id, a.BoundWaterGPerG, a.RequestedWaterGPerG, a.WaterGPerG, c.low, c.high, c.requested, c.evidence)
		}
		// The orders of speed are an estimate: bentonite moderate, others slight.
		if a.TraceTime.Typical != c.factor || a.Firmness.Typical <= 1 {
			t.Errorf("%s: trace time %v, firmness %v", c.id, a.TraceTime, a.Firmness)
		}
	}
}

// Common practice: clay put in dry moves trace more than clay that was wetted.
func TestDryClayIsQuicker(t *testing.T) {
	dry := dosed("kaolin", 1)
	dry.Stage = sdk.StageTrace
	wet := dry
	wet.Carrier, wet.CarrierGPerG = "water", 2
	a, _ := adjust(dry)
	b, _ := adjust(wet)
	if a.TraceTime.Typical >= b.TraceTime.Typical {
		t.Errorf("dry %v, wetted %v", a.TraceTime, b.TraceTime)
	}
	if b.Steps[0].WaitMinutes == nil || *b.Steps[0].WaitMinutes != 30 { // trade tutorials: soak half an hour
		t.Errorf("steps %+v, want half an hour of soaking", b.Steps)
	}
}

func TestFindings(t *testing.T) {
	for _, c := range []struct {
		what  string
		doses []sdk.Dose
		want  string
	}{
		{"kaolin, 5 %: a ceiling (trade tutorials)", []sdk.Dose{dosed("kaolin", 5)}, ""},
		{"kaolin, 6 %", []sdk.Dose{dosed("kaolin", 6)}, "clays/cracks"},
		{"rose clay, 3 %", []sdk.Dose{dosed("rose-clay", 3)}, "clays/cracks"},
		{"two clays that add up", []sdk.Dose{dosed("kaolin", 3), dosed("rose-clay", 1.5)}, "clays/cracks"},
		{"bentonite, 1.5 %", []sdk.Dose{dosed("bentonite", 1.5)}, ""},
		{"bentonite, two teaspoons per pound and more (trade tutorials)", []sdk.Dose{dosed("bentonite", 2)}, "clays/thickens"},
		{"fuller's earth, 5 % of fats: 50 g of 330 g water", []sdk.Dose{dosed("fullers-earth", 5)}, "clays/parched"},
	} {
		bound := 0.0
		for _, d := range c.doses {
			bound += d.OfFatsPct * 10 * byID[d.Additive].bound
		}
		free := 330 - bound
		b := sdk.Batch{
			FatsG: 1000, NaOHG: 140, FreeWaterG: free, Doses: c.doses,
			Portions: []sdk.PortionView{{FreeWaterG: free, BatchStrengthPct: 100 * 140 / (140 + free)}},
		}
		got := Plugin().Review(context.Background(), b)
		if c.want == "" && len(got) > 0 || c.want != "" && (len(got) != 1 || got[0].Code != c.want) {
			t.Errorf("%s: %+v, want %q", c.what, got, c.want)
		}
	}
}

// Adding back what the clay holds is what the finding offers.
func TestParchedOffersItsWater(t *testing.T) {
	b := sdk.Batch{
		FatsG: 1000, NaOHG: 140, FreeWaterG: 280, Doses: []sdk.Dose{dosed("fullers-earth", 5)},
		Portions: []sdk.PortionView{{FreeWaterG: 280, BatchStrengthPct: 100 * 140 / 420.0}},
	}
	f := review(&b)
	if len(f) != 1 || f[0].Remedies[0].AddWaterG == nil {
		t.Fatalf("got %+v", f)
	}
	if g := *f[0].Remedies[0].AddWaterG; g < 49.999 || g > 50.001 {
		t.Errorf("it offers %v g; 50 g of clay at 1 g per g hold 50", g)
	}
}
