package sdk_test

import (
	"context"
	"fmt"

	"lixivium.example/plugins/sdk"
)

// A complete plugin: oat milk, which brings water and a little fat, thickens the
// batter somewhat, and goes into the fats. In a program of its own, main holds
// nothing but sdk.Serve(OatMilk()).
func OatMilk() *sdk.Plugin {
	return &sdk.Plugin{
		Name: "acme-oats", Version: "0.1.0",
		Wants: []sdk.Grant{sdk.GrantWater, sdk.GrantFats, sdk.GrantTrace, sdk.GrantFindings},
		Owns: []sdk.Additive{{
			ID: "acme-oat-milk", Name: "Oat milk", LowOfFatsPct: 5, HighOfFatsPct: 20, UsualStage: sdk.StageFats,
			Parameters: []sdk.Parameter{{Name: "fat_pct", Unit: "percent fat on the label", Min: 0, Max: 5, Default: 1.5}},
		}},
		Adjust: adjustOatMilk,
		Review: reviewOatMilk,
	}
}

func adjustOatMilk(_ context.Context, q sdk.Question) sdk.Answer {
	return q.Each(func(d sdk.Dose) (sdk.Adjustment, *sdk.Rejection) {
		if d.Stage == sdk.StageSurface {
			return sdk.Adjustment{}, &sdk.Rejection{
				Field: "stage", Reason: "STAGE", Text: "Oat milk on top spoils. Blend it into the fats.",
			}
		}
		fat := d.Parameters["fat_pct"] / 100
		return sdk.Adjustment{
			WaterGPerG:    0.9 - fat,
			Fats:          []sdk.FatBrought{{Fat: "sunflower-oil", GPerG: fat}},
			DensityGPerML: 1.02,
			// Some 5 % sooner at 10 % of the fats; nobody has tried more than 30.
			TraceTime: sdk.Band{Low: 0.9, Typical: 0.95, High: 1}.AtDose(d.OfPortionFatsPct, 10, 3),
			Steps:     []sdk.Step{{Stage: sdk.StageFats, Code: "blend-cold", Text: "Blend it cold into the fats.", MaxC: new(32.0)}},
			Basis:     sdk.Estimate, Source: "the author's batches",
		}, nil
	})
}

func reviewOatMilk(_ context.Context, b sdk.Batch) []sdk.Finding {
	return b.PerPortion(func(b *sdk.Batch, p sdk.PortionView) *sdk.Finding {
		pct, doses := b.Load(p.ID, func(d sdk.Dose) float64 {
			if d.Additive == "acme-oat-milk" {
				return 1
			}
			return 0
		})
		if pct <= 20 {
			return nil // an ordinary dose: silence
		}
		return &sdk.Finding{
			Code: "acme-oats/slimy", Severity: sdk.Caution, Subjects: doses,
			Text:    fmt.Sprintf("Oat milk at %.0f %% of the fats leaves the bar slimy.", pct),
			Numbers: map[string]float64{"of_portion_fats_pct": pct, "ceiling_pct": 20},
			Basis:   sdk.Estimate, Source: "the author's batches",
		}
	})
}

func Example() {
	p := OatMilk()
	if err := p.Check(); err != nil {
		fmt.Println(err)
		return
	}
	dose := sdk.Dose{
		ID: "milk", Additive: "acme-oat-milk", OfFatsPct: 30, OfPortionFatsPct: 30, Stage: sdk.StageFats,
		Parameters: map[string]float64{"fat_pct": 1.5},
	}
	a := p.Adjust(context.Background(), sdk.Question{Doses: []sdk.Dose{dose}}).Adjustments[0]
	fmt.Printf("1 g brings %.3f g water and %.3f g %s\n", a.WaterGPerG, a.Fats[0].GPerG, a.Fats[0].Fat)
	fmt.Printf("time to trace: %.2f (%.2f to %.2f)\n", a.TraceTime.Typical, a.TraceTime.Low, a.TraceTime.High)
	for _, f := range p.Review(context.Background(), sdk.Batch{Doses: []sdk.Dose{dose}, Portions: []sdk.PortionView{{}}}) {
		fmt.Println(f.Severity, f.Code, f.Text)
	}
	// Output:
	// 1 g brings 0.885 g water and 0.015 g sunflower-oil
	// time to trace: 0.86 (0.73 to 1.00)
	// caution acme-oats/slimy Oat milk at 30 % of the fats leaves the bar slimy.
}
