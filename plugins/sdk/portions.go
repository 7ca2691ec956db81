package sdk

import "strings"

// PerPortion asks every rule about every portion and collects the findings. A
// rule answers nil where it has nothing to say. What a rule says with the same
// code and subjects of several portions, as of a dose that is in all of them,
// is told once.
func (b *Batch) PerPortion(rules ...func(*Batch, PortionView) *Finding) []Finding {
	var out []Finding
	told := map[string]bool{}
	for _, p := range b.Portions {
		for _, rule := range rules {
			f := rule(b, p)
			if f == nil {
				continue
			}
			key := f.Code + " " + strings.Join(f.Subjects, " ")
			if !told[key] {
				told[key] = true
				out = append(out, *f)
			}
		}
	}
	return out
}

// Load adds up what a portion holds of something, percent of its fats, and
// names the doses that bring it. Doses of the whole batch count in every
// portion. The function tells how much of it is in one gram of a dose; 0: none.
func (b *Batch) Load(portionID string, perG func(Dose) float64) (pct float64, doses []string) {
	for _, d := range b.Doses {
		if d.PortionID != "" && d.PortionID != portionID {
			continue
		}
		if share := perG(d); share > 0 {
			pct += float64(share * d.OfPortionFatsPct)
			doses = append(doses, d.ID)
		}
	}
	return pct, doses
}

// Dose finds a dose by its id.
func (b *Batch) Dose(id string) (Dose, bool) {
	for _, d := range b.Doses {
		if d.ID == id {
			return d, true
		}
	}
	return Dose{}, false
}

// ShrunkTo is the dose, percent of the recipe fats, that is left when what it
// brings goes from one load to another.
func (d Dose) ShrunkTo(load, from float64) float64 { return d.OfFatsPct * load / from }
