package conform

import (
	"context"
	"fmt"
	"reflect"
	"slices"
	"testing"

	"lixivium.example/plugins/sdk"
)

// findings shows the plugin a batch for every dose of the grid, at three
// strengths, alone and among the doses of strangers.
func findings(t *testing.T, p *sdk.Plugin) {
	if p.Review == nil {
		return
	}
	for _, d := range grid(p) {
		for n, strength := range []float64{22, 30, 40} {
			b := batch(strength, everyCondition[n], d)
			found := look(t, p, b)
			if err := subjects(&b, found); err != nil {
				t.Fatalf("%s: %v", words(d), err)
			}
			if again := p.Review(context.Background(), b); !reflect.DeepEqual(found, again) {
				t.Fatalf("%s: seen again, the findings differ:\nfirst %+v\nnow   %+v", words(d), found, again)
			}
			b.Doses = append(b.Doses, strangers...)
			look(t, p, b)
		}
	}
}

// look calls Review and checks what it found.
func look(t *testing.T, p *sdk.Plugin, b sdk.Batch) []sdk.Finding {
	t.Helper()
	before := fmt.Sprint(b)
	found := p.Review(context.Background(), b)
	if err := sdk.CheckFindings(p, p.Wants, found); err != nil {
		t.Fatalf("%v: %v", b.Doses, err)
	}
	if after := fmt.Sprint(b); after != before {
		t.Fatalf("the batch was written into:\nbefore %s\nafter  %s", before, after)
	}
	return found
}

// subjects of a finding are ids that the batch has.
func subjects(b *sdk.Batch, found []sdk.Finding) error {
	for _, f := range found {
		for _, id := range f.Subjects {
			_, dose := b.Dose(id)
			_, fat := b.FatG[id]
			portion := id != "" && slices.ContainsFunc(b.Portions, func(p sdk.PortionView) bool { return p.ID == id })
			if !dose && !fat && !portion {
				return fmt.Errorf("finding %s is about %q, which is no dose, portion or fat of the batch", f.Code, id)
			}
		}
	}
	return nil
}

// strangers are doses that no plugin here may know: an additive with the
// caller's own figures, and one of somebody else's.
var strangers = []sdk.Dose{
	{ID: "own-mix", OfFatsPct: 2, OfPortionFatsPct: 2, Stage: sdk.StageTrace},
	{ID: "theirs", Additive: "acme-moonstone", OfFatsPct: 1, OfPortionFatsPct: 4, PortionID: "light", Stage: sdk.StageTrace},
}

// batch is 1,000 g of fats in two portions, one quarter and three.
func batch(strengthPct float64, c sdk.Conditions, d sdk.Dose) sdk.Batch {
	const fats, alkali = 1000.0, 140.0
	free := alkali * (100 - strengthPct) / strengthPct
	return sdk.Batch{
		FatsG: fats, FatG: map[string]float64{"olive-oil": 700, "coconut-oil": 300}, FattyAcidPct: map[string]float64{"oleic": 55, "lauric": 15},
		NaOHG: alkali, SuperfatPct: 5, TotalWaterG: free + 5, FreeWaterG: free, JugStrengthPct: strengthPct,
		TraceTimeFactor: 0.9, AdditiveHeatJ: 500, Doses: []sdk.Dose{d}, Conditions: c,
		Portions: []sdk.PortionView{
			{ID: "light", BatterG: 360, FreeWaterG: free / 4, BatchStrengthPct: strengthPct},
			{ID: "dark", BatterG: 1080, FreeWaterG: 3 * free / 4, BatchStrengthPct: strengthPct},
		},
	}
}

// odd shows batches at the edge: nothing in them, no portion, no alkali, no
// water.
func odd(t *testing.T, p *sdk.Plugin) {
	if p.Review == nil {
		return
	}
	look(t, p, sdk.Batch{})
	for i := range p.Owns {
		a := &p.Owns[i]
		d := sdk.Dose{ID: "dose", Additive: a.ID, OfFatsPct: 5, OfPortionFatsPct: 5, Stage: sdk.StageTrace, Parameters: parameters(a)[0]}
		bare := batch(30, sdk.Conditions{}, d)
		bare.Portions = nil
		look(t, p, bare)
		dry := batch(30, sdk.Conditions{Gel: sdk.GelForce}, d)
		dry.FreeWaterG, dry.TotalWaterG, dry.JugStrengthPct = 0, 0, 100
		for j := range dry.Portions {
			dry.Portions[j].FreeWaterG, dry.Portions[j].BatchStrengthPct = 0, 100
		}
		look(t, p, dry)
		none := batch(30, sdk.Conditions{}, d)
		none.NaOHG, none.JugStrengthPct = 0, 0
		for j := range none.Portions {
			none.Portions[j].BatchStrengthPct = 0
		}
		look(t, p, none)
	}
}
