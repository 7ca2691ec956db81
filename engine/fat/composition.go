package fat

import (
	"fmt"
	"slices"

	"lixivium.example/engine/unit"
)

// composition gathers what the acid table says of one fat before it is
// normalized.
type composition struct {
	ranges []Share
	status Status
}

func (t *tables) loadComposition() error {
	found := map[string]*composition{}
	const header = "fat_id fatty_acid min_pct max_pct sources status"
	err := t.each("fatty_acids.tsv", header, func(r *record) { t.readAcidLine(r, found) })
	if err != nil {
		return err
	}
	for _, f := range t.fats {
		c := found[f.ID]
		if c == nil {
			continue
		}
		if f.Composition = normalized(c.ranges); f.Composition == nil {
			return fmt.Errorf("fatty_acids.tsv: %s has no figure above 0", f.ID)
		}
		f.CompositionStatus = c.status
		f.CalculatedSV = calculatedSV(t.acids, f.Composition, f.FreeAcid)
		f.CalculatedIV = calculatedIV(t.acids, f.Composition, f.FreeAcid)
	}
	return nil
}

func (t *tables) readAcidLine(r *record, found map[string]*composition) {
	id := r.needed("fat_id")
	if t.byID[id] == nil {
		r.fail("fat %q is not in fats.tsv", id)
	}
	acid, ok := t.acidIndex[r.needed("fatty_acid")]
	if !ok {
		r.fail("fatty acid %q is not in fatty_acid_constants.tsv", r.text("fatty_acid"))
	}
	c := found[id]
	if c == nil {
		c = &composition{status: Seen}
		found[id] = c
	}
	lo, hi := r.number("min_pct"), r.number("max_pct")
	if lo > hi || hi > 100 {
		r.fail("limits %g-%g are no percent range", lo, hi)
	}
	if len(t.sourceKeys(r, "sources")) == 0 {
		r.fail("no source")
	}
	if r.status("status") != Seen {
		c.status = FromMemory
	}
	if slices.ContainsFunc(c.ranges, func(s Share) bool { return s.Acid == acid }) {
		r.fail("%s stands twice", r.text("fatty_acid"))
	}
	c.ranges = append(c.ranges, Share{acid, unit.Percent((lo + hi) / 2)})
}

// normalized scales shares to a sum of 100 in the order of the acids and drops
// empty ones; nil when nothing is left. Limits of a standard do not sum to 100,
// so their midpoints do not either.
func normalized(shares []Share) []Share {
	slices.SortFunc(shares, func(a, b Share) int { return a.Acid - b.Acid })
	var sum unit.Percent
	for _, s := range shares {
		sum += s.Pct
	}
	var out []Share
	for _, s := range shares {
		if s.Pct > 0 {
			out = append(out, Share{s.Acid, 100 * s.Pct / sum})
		}
	}
	return out
}
