package pigments

import (
	"fmt"
	"math"
	"slices"

	"lixivium.example/plugins/sdk"
)

// risk of glycerin rivers, in steps.
type risk int

const (
	noRisk risk = iota
	veryLow
	low
	middling
	high
)

// Loads in percent of the portion's fats. One teaspoon of titanium dioxide per
// 1,000 g of fats, 0.4 %, was enough in a trade test; more than one per pound,
// 0.8 %, raises the risk (estimate); below the usual low end it is a step lower
// (estimate).
const (
	heavyWhitePct = 0.83
	tracePct      = 0.05
	lightPct      = 0.2
)

const riversSource = "side-by-side test at lye to water 1:2.4 and 1:1.4 with titanium dioxide (trade blog) and a college chemistry column; the steps between are an estimate"

// whites and opaques are the loads that show rivers.
func whites(d sdk.Dose) float64 { return flag(d, func(k *kind) bool { return k.white }) }

func opaques(d sdk.Dose) float64 { return flag(d, func(k *kind) bool { return k.opaque }) }

func flag(d sdk.Dose, is func(*kind) bool) float64 {
	if k, ok := byID[d.Additive]; ok && d.Stage != sdk.StageSurface && is(k) {
		return 1
	}
	return 0
}

// rivers need three things together: water, full gel, and pigment. Any one of
// them missing, there are none.
func rivers(b *sdk.Batch, p sdk.PortionView) *sdk.Finding {
	white, _ := b.Load(p.ID, whites)
	load, doses := b.Load(p.ID, opaques)
	gel := b.Conditions.Gel
	if gel == sdk.GelAvoid || load < tracePct || p.BatchStrengthPct <= 0 {
		return nil
	}
	r := riverRisk(p.BatchStrengthPct, white, load)
	if r < middling || r == middling && gel == sdk.GelNotSaid {
		return nil
	}
	f := &sdk.Finding{
		Code: name + "/rivers", Severity: sdk.Note, Subjects: doses,
		Text: fmt.Sprintf("Glycerin rivers may show: %.1f %% pigment, a batter of %.1f %% strength, and gel.", load, p.BatchStrengthPct),
		Numbers: map[string]float64{
			"pigment_of_portion_fats_pct": load, "batch_strength_pct": p.BatchStrengthPct,
		},
		Basis: sdk.Estimate, Source: riversSource,
	}
	if p.ID != "" {
		f.Subjects = append(slices.Clone(doses), p.ID)
	}
	if r >= high {
		f.Severity = sdk.Caution
		f.Text = fmt.Sprintf("Glycerin rivers are likely: %.1f %% pigment, a batter of %.1f %% strength, and gel.", load, p.BatchStrengthPct)
	}
	f.Remedies = riverRemedies(b, p, white)
	return f
}

// riverRisk is the risk after full gel, by the strength of the portion's batter.
func riverRisk(strengthPct, white, load float64) risk {
	r := veryLow
	switch {
	case strengthPct < 28.5:
		r = high
	case strengthPct < 31.5:
		r = middling
	case strengthPct < 34.5:
		r = low
	}
	switch {
	case white > heavyWhitePct:
		r++
	case white < lightPct && load < lightPct:
		r -= 2
	case white < lightPct: // colored pigments show them less
		r--
	}
	return max(noRisk, min(r, high))
}

// riverRemedies are less water, no gel, and a drier slurry.
func riverRemedies(b *sdk.Batch, p sdk.PortionView, white float64) []sdk.Suggestion {
	target := 33.0
	if white > heavyWhitePct {
		target = 35
	}
	var out []sdk.Suggestion
	if ask, ok := lyeFor(b, p, target); ok {
		out = append(out, sdk.Suggestion{
			Text: fmt.Sprintf("Ask for %.1f %% lye: it brings this batter to %.0f %%.", ask, target), SetLyeConcentrationPct: &ask,
		})
	}
	out = append(out, sdk.Suggestion{Text: "Keep it from gel: start cool, cast thin, no cover, a refrigerator that holds no food.", Gel: sdk.GelAvoid})
	if b.StrengthPct()-p.BatchStrengthPct > 0.5 {
		out = append(out, sdk.Suggestion{Text: "Wet the color with oil instead of water: the slurry alone makes this portion weaker than the rest."})
	}
	return out
}

// mostLyePct is the strongest lye worth suggesting for the sake of a color:
// above it the batter is too quick for most designs.
const mostLyePct = 40.0

// leastLyePct is the weakest lye that a recipe can ask for. An all but empty
// batch can come out below.
const leastLyePct = 1.5

// lyeFor is the lye concentration, percent, that brings the portion's batter to
// the target strength. What its own slurry adds stays the same, so the rest of
// the batter gives up the difference. Rounded up to half a percent.
func lyeFor(b *sdk.Batch, p sdk.PortionView, target float64) (float64, bool) {
	alkali := b.NaOHG + b.KOHG
	own := p.FreeWaterG * p.BatchStrengthPct / (100 - p.BatchStrengthPct) // alkali in this portion
	if alkali <= 0 || own <= 0 {
		return 0, false
	}
	spare := p.FreeWaterG - own*(100-target)/target
	water := b.FreeWaterG - spare*alkali/own
	if spare <= 0 || water <= 0 {
		return 0, false
	}
	const noise = 1e-6 // a target met exactly is not rounded up by the last bit
	ask := math.Ceil(200*alkali/(alkali+water)-noise) / 2
	return ask, ask >= leastLyePct && ask <= mostLyePct
}
