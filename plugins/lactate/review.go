package lactate

import (
	"fmt"
	"slices"
	"strings"

	"lixivium.example/plugins/sdk"
)

// lactatePerAcid is sodium lactate formed from lactic acid, g per g: molar
// masses 112.06 and 90.08 g/mol.
const lactatePerAcid = 1.244

// Salt by its share of the fats. As a hardener half a teaspoon per pound,
// 0.7 %, is a full rate; from 25 % on the loaf is a salt bar, which is cut warm
// and crumbles or not for other reasons. Trade tutorials.
const (
	saltFullPct = 0.7
	saltBarPct  = 25.0
)

// review looks at the settled batch.
func review(b *sdk.Batch) []sdk.Finding {
	return append(b.PerPortion(crumble, withSalt), hotLye(b)...)
}

// ours are the doses of this plugin, as 60 % solution.
func ours(d sdk.Dose) float64 {
	if d.Additive != additive {
		return 0
	}
	return salt(d) / (soldPct / 100)
}

// formed is lactate that lactic acid makes in the batter, as 60 % solution.
func formed(d sdk.Dose) float64 {
	if d.Additive != "lactic-acid" {
		return 0
	}
	return d.Parameters["assay_pct"] / 100 * lactatePerAcid / (soldPct / 100)
}

// crumble: more lactate than the loaf can take.
func crumble(b *sdk.Batch, p sdk.PortionView) *sdk.Finding {
	own, doses := b.Load(p.ID, ours)
	made, acids := b.Load(p.ID, formed)
	pct := own + made
	if own == 0 || pct <= ceilingPct {
		return nil
	}
	f := &sdk.Finding{
		Code: name + "/crumble", Severity: sdk.Caution, Subjects: slices.Concat(doses, acids),
		Text:    fmt.Sprintf("Sodium lactate comes to %.1f %% of the fats as 60 %% solution; above %.0f %% the loaf turns brittle and crumbles at the cut.", pct, ceilingPct),
		Numbers: map[string]float64{"as_solution_pct": pct, "ceiling_pct": ceilingPct},
		Basis:   sdk.CommonPractice, Source: "trade tutorials: 1 to 3 % of the fats",
	}
	if d, ok := b.Dose(doses[0]); ok && len(doses) == 1 && made < ceilingPct {
		f.Remedies = append(f.Remedies, sdk.Suggestion{
			Text:             fmt.Sprintf("Bring the lactate to %.0f %% of the fats as 60 %% solution.", ceilingPct),
			SetDoseOfFatsPct: new(d.ShrunkTo(ceilingPct-made, own)),
		})
	}
	f.Remedies = append(f.Remedies, sdk.Suggestion{Text: "Cut within hours of unmolding, while the loaf is still warm, and insulate it less."})
	return f
}

// withSalt: both hardeners at their full rate.
func withSalt(b *sdk.Batch, p sdk.PortionView) *sdk.Finding {
	lactate, own := b.Load(p.ID, ours)
	salted, salts := b.Load(p.ID, tableSalt)
	if lactate < fullPct || salted < saltFullPct || salted >= saltBarPct {
		return nil
	}
	return &sdk.Finding{
		Code: name + "/with-salt", Severity: sdk.Caution, Subjects: slices.Concat(own, salts),
		Text:     fmt.Sprintf("Salt (%.1f %% of the fats) and sodium lactate (%.1f %%) both stand at their full rate. Together they make a loaf that breaks at the cut.", salted, lactate),
		Numbers:  map[string]float64{"salt_pct": salted, "as_solution_pct": lactate},
		Remedies: []sdk.Suggestion{{Text: "Keep one of the two, or halve both."}},
		Basis:    sdk.CommonPractice, Source: "trade tutorials: not together at full rate",
	}
}

// tableSalt knows salt by its name: no plugin here owns it, so it comes as an
// additive of the caller's own or of somebody else's.
func tableSalt(d sdk.Dose) float64 {
	for _, n := range []string{d.ID, d.Additive} {
		if n == "salt" || n == "brine" || strings.HasPrefix(n, "salt-") || strings.HasSuffix(n, "-salt") {
			return 1
		}
	}
	return 0
}

// hotLye: in the water before the alkali it goes through the lye's peak.
func hotLye(b *sdk.Batch) []sdk.Finding {
	var out []sdk.Finding
	for _, d := range b.Doses {
		if d.Additive == additive && d.Stage == sdk.StageWaterBeforeLye {
			out = append(out, sdk.Finding{
				Code: name + "/hot-lye", Severity: sdk.Note, Subjects: []string{d.ID},
				Text:  "The lactate goes in before the alkali and through the lye's peak of 80 °C and more. The usual way is lye cooled to 54 °C.",
				Basis: sdk.CommonPractice, Source: "trade tutorials",
			})
		}
	}
	return out
}
