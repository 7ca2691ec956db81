package engine

import (
	"cmp"
	"strings"
)

// Sizes at which what makers know of a batch stops holding.
const (
	smallBatchG = 225 // makers' test batches begin here (common practice)
	// From this mass of fats and this factor on heat stays noticeably longer
	// (estimate).
	largeBatchG      = 5000
	largeBatchFactor = 3
)

// sizeFindings speak about molds and about what does not grow with the batch.
func sizeFindings(fit *Fit, s *Scaled) []Finding {
	var list []Finding
	list = moldFindings(list, fit)
	fats := float64(s.Formulation.Totals.FatsG)
	numbers := []Figure{{"fats_g", fats, "g"}, {"factor", s.Factor, "1"}}
	switch {
	case fats < smallBatchG:
		f := Finding{
			Code: codeSmallBatch, Severity: Note, Numbers: numbers,
			Text:     rounded(fats, 1) + " g of fats: heat, gel and minutes of a full batch do not carry over. So little batter cools fast and hardly gels, and one step of the balance is a larger part of each line.",
			Evidence: Evidence{Basis: CommonPractice},
		}
		if s.Recipe.Process.Gel == GelForce {
			f.Severity = Caution
			f.Text += " Forced gel needs outside heat here."
		}
		list = append(list, f)
	case fats > largeBatchG && s.Factor >= largeBatchFactor:
		list = append(list, Finding{
			Code: codeLargeBatch, Severity: Note, Numbers: numbers,
			Text:     rounded(s.Factor, 1) + " times the recipe: a large batch keeps its heat, so it gels and overheats more easily, and blending, pouring and cooling take other minutes than those noted.",
			Evidence: Evidence{Basis: Estimate},
		})
	}
	return byHarm(list)
}

// moldFindings name molds that lye attacks, and those whose material is not said.
func moldFindings(list []Finding, fit *Fit) []Finding {
	if fit.Molds == nil {
		return list
	}
	metals := map[MoldMaterial]string{Aluminum: "aluminum", Zinc: "zinc", Tin: "tin"}
	var attacked, unstated, words []string
	for i := range fit.Molds.Molds {
		m := &fit.Molds.Molds[i]
		name := cmp.Or(m.Name, "mold "+num(float64(i+1)))
		if metal, ok := metals[m.Material]; ok {
			attacked, words = append(attacked, name), append(words, name+" ("+metal+")")
		}
		if m.Material == MoldMaterialNotSaid {
			unstated = append(unstated, name)
		}
	}
	if len(attacked) > 0 {
		list = append(list, Finding{
			Code: codeMoldAttacked, Severity: Danger, Subjects: attacked,
			Text:     "Lye attacks " + strings.Join(words, ", ") + ": the metal dissolves into the soap and gives off hydrogen, which burns.",
			Remedies: []Remedy{{Text: "Pour into silicone, lined wood or card, plastic that stands lye and heat, stainless steel or glass."}},
			Evidence: Evidence{Basis: PublishedFromMemory, Source: "amphoteric metals in caustic, any chemistry textbook"},
		})
	}
	if len(unstated) > 0 {
		list = append(list, Finding{
			Code: codeMoldMaterial, Severity: Note, Subjects: unstated,
			Text:     "What is the mold made of? Fresh batter is lye: aluminum, zinc and tin are dangerous.",
			Remedies: []Remedy{{Text: "State the material of " + strings.Join(unstated, ", ") + "."}},
			Evidence: Evidence{Basis: CommonPractice},
		})
	}
	return list
}
