package pigments

import (
	"slices"

	"lixivium.example/plugins/sdk"
)

// bleeds: dyes wander from layer to layer, lakes a little. In a bar of one
// color it does not matter.
func bleeds(b *sdk.Batch, p sdk.PortionView) *sdk.Finding {
	if len(b.Portions) < 2 {
		return nil
	}
	f := &sdk.Finding{
		Code: name + "/bleeds", Severity: sdk.Caution,
		Text:     "Dyes wander into the neighboring colors within days to months, so no line stays sharp.",
		Remedies: []sdk.Suggestion{{Text: "Use pigments (oxides, ultramarines, oxide micas) where colors meet, and dyes in bars of one color."}},
		Basis:    sdk.CommonPractice, Source: "trade tutorials",
	}
	if _, f.Subjects = b.Load(p.ID, func(d sdk.Dose) float64 { return flag(d, func(k *kind) bool { return k.dye }) }); len(f.Subjects) > 0 {
		return f
	}
	f.Severity = sdk.Note
	f.Text = "Lakes may bleed a little into the neighboring colors."
	if _, f.Subjects = b.Load(p.ID, func(d sdk.Dose) float64 { return flag(d, func(k *kind) bool { return k.lake }) }); len(f.Subjects) > 0 {
		return f
	}
	return nil
}

// changes: what alkali does to the color itself.
func changes(d sdk.Dose, k *kind) *sdk.Finding {
	f := &sdk.Finding{
		Code: name + "/changes-color", Severity: sdk.Note, Subjects: []string{d.ID}, Basis: sdk.CommonPractice, Source: k.source,
		Remedies: []sdk.Suggestion{{Text: "Pour a small test with the same lye and gel, and look at it after a week."}},
	}
	switch {
	case k.unstable:
		f.Severity, f.Basis = sdk.Caution, k.basis
		f.Text = "Fresh batter turns these colors: iron blue to brown, carmine to purple gray, manganese violet to gray brown."
		f.Remedies = []sdk.Suggestion{{Text: "Use ultramarines or blends of oxides instead, or paint the cured bar."}}
	case k.lake:
		f.Text = "Lakes turn in lye and heat: red toward orange, blue toward gray and purple; yellow mostly holds."
	case k.dye:
		f.Text = "Many dyes turn in lye or fade in light."
	default:
		return nil
	}
	return f
}

// acids are additives that make a batter locally sour when they go in after the
// lye. In the water before the lye they are salts by then.
var acids = []string{"citric-acid", "lactic-acid", "vinegar", "ascorbic-acid"}

// acid: ultramarines fall apart below pH 6 to 7 and smell of hydrogen sulfide.
func acid(b *sdk.Batch, p sdk.PortionView) *sdk.Finding {
	_, blue := b.Load(p.ID, func(d sdk.Dose) float64 { return flag(d, func(k *kind) bool { return k.id == "ultramarines" }) })
	_, sour := b.Load(p.ID, func(d sdk.Dose) float64 {
		late := d.Stage == sdk.StageTrace || d.Stage == sdk.StageSurface
		if late && slices.Contains(acids, d.Additive) {
			return 1
		}
		return 0
	})
	if len(blue) == 0 || len(sour) == 0 {
		return nil
	}
	return &sdk.Finding{
		Code: name + "/acid-destroys", Severity: sdk.Caution, Subjects: slices.Concat(blue, sour),
		Text:     "Ultramarine loses its color where it meets acid, with a smell of hydrogen sulfide.",
		Remedies: []sdk.Suggestion{{Text: "Put the acid into the water before the lye, and wet the ultramarine with oil or plain water."}},
		Basis:    sdk.PublishedFromMemory, Source: "chemistry of ultramarine: decomposed by acids, stable in alkali",
	}
}
