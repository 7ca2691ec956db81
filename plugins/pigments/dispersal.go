package pigments

import (
	"fmt"

	"lixivium.example/plugins/sdk"
)

// leastCarrier is the carrier, g per g of powder, below which the paste is too
// stiff to break clumps. Oil absorption of the pigments is 0.1 to 0.75 g per g
// (pigment data page and memory), so a flowing paste begins about here.
const leastCarrier = 1.0

// clumps: powder that goes into the batter dry, or in too little liquid.
func clumps(d sdk.Dose, k *kind) *sdk.Finding {
	if d.Stage == sdk.StageSurface || k.dye {
		return nil
	}
	f := &sdk.Finding{
		Code: name + "/clumps", Severity: sdk.Note, Subjects: []string{d.ID},
		Remedies: []sdk.Suggestion{{Text: "Give it a carrier of about four times its weight."}},
		Basis:    sdk.CommonPractice, Source: "trade tutorials: a teaspoon to a tablespoon",
	}
	switch {
	case d.Carrier == "" && d.Stage == sdk.StageTrace && !k.dryIsFine:
		f.Text = fmt.Sprintf("%s goes into the batter dry: expect specks. Nothing in the recipe wets it.", k.name)
	case d.Carrier != "" && d.CarrierGPerG < leastCarrier:
		f.Text = fmt.Sprintf("%.1f g of carrier per gram makes a paste too stiff to break the clumps.", d.CarrierGPerG)
		f.Numbers = map[string]float64{"carrier_g_per_g": d.CarrierGPerG}
	default:
		return nil
	}
	return f
}

// medium: a grade in the liquid it does not take to.
func medium(d sdk.Dose, k *kind) *sdk.Finding {
	if !k.switches || d.Carrier == "" || d.Carrier == "other" {
		return nil
	}
	water := d.Parameters[waterGrade] == 1
	if water == (d.Carrier == "water") {
		return nil
	}
	text := "The oil-dispersible grade is coated: it floats on water and streaks. Wet it with oil."
	if water {
		text = "The water-dispersible grade clumps in oil and streaks. Wet it with water."
	}
	return &sdk.Finding{
		Code: name + "/wrong-medium", Severity: sdk.Note, Subjects: []string{d.ID}, Text: text,
		Remedies: []sdk.Suggestion{{Text: fmt.Sprintf("Change the carrier, or set %s to what the bag says.", waterGrade)}},
		Basis:    sdk.CommonPractice, Source: "trade tutorials",
	}
}

// smears: charcoal that the wire pulls across a white face.
func smears(b *sdk.Batch, p sdk.PortionView) *sdk.Finding {
	const heavy = 0.6 // one and a half teaspoons per pound
	load, doses := b.Load(p.ID, of(byID["charcoal"]))
	if load <= heavy {
		return nil
	}
	for _, other := range b.Portions {
		if other.ID == p.ID {
			continue
		}
		if white, _ := b.Load(other.ID, whites); white > 0 {
			return &sdk.Finding{
				Code: name + "/smears-at-cut", Severity: sdk.Note, Subjects: append(doses, other.ID),
				Text:     "So much charcoal smears over the white at the cut.",
				Numbers:  map[string]float64{"of_portion_fats_pct": load},
				Remedies: []sdk.Suggestion{{Text: "Lay the loaf on its side, cut from the white toward the black, and wipe the wire every time."}},
				Basis:    sdk.CommonPractice, Source: "trade tutorials",
			}
		}
	}
	return nil
}
