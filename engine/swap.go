package engine

import (
	"context"
	"errors"
	"slices"
	"strconv"
	"strings"
)

// Swapped is a recipe with one fat replaced, and what that changes.
type Swapped struct {
	// Recipe shares what did not change with the recipe handed in.
	Recipe        *Recipe
	Before, After *Formulation
	// Changes are the figures that differ.
	Changes []FigureChange
	// Codes of findings, in alphabetical order.
	NewFindings, GoneFindings []string
}

// FigureChange is a figure before and after.
type FigureChange struct {
	Name          string
	Before, After float64
	Unit          string
}

// SwapFat replaces a fat by others: one without a share, or several that share
// its mass out, their shares summing to 100. The replaced grams, or percent,
// stay; an asked superfat has its alkali worked out anew, given alkali is judged
// once more. A dose wetted with fat held back from the line takes it from a
// single replacement; where there are several it is refused.
//
// Errors are those of Formulate; *Violations name "line_id" and fields of
// "replacements".
func (e *Engine) SwapFat(ctx context.Context, r *Recipe, lineID string, replacements []FatLine, o Options) (*Swapped, error) {
	p, err := e.resolve(r, o.Balances)
	if err != nil {
		return nil, err
	}
	var c checker
	line := c.lineToSwap(p, lineID)
	c.replacements(replacements, r, line)
	if err := c.err(); err != nil {
		return nil, err
	}
	out := &Swapped{Recipe: p.swapped(line, replacements)}
	c.retarget(p, line, out.Recipe, replacements)
	if err := c.err(); err != nil {
		return nil, err
	}
	if _, err := e.resolve(out.Recipe, o.Balances); err != nil {
		return nil, inReplacements(err, line, len(replacements))
	}
	if out.Before, err = e.Formulate(ctx, r, o); err != nil {
		return nil, err
	}
	if out.After, err = e.Formulate(ctx, out.Recipe, o); err != nil {
		return nil, err
	}
	out.Changes = changes(out.Before, out.After)
	before, after := codesOf(out.Before.Findings), codesOf(out.After.Findings)
	out.NewFindings, out.GoneFindings = without(after, before), without(before, after)
	return out, nil
}

// lineToSwap finds the line to replace.
func (c *checker) lineToSwap(p *plan, id string) int {
	ids := make([]string, len(p.lines))
	for i := range p.lines {
		if p.lines[i].id == id {
			return i
		}
		ids[i] = p.lines[i].id
	}
	c.unknown(in("line_id"), ReasonUnknown, "The recipe has no fat line "+strconv.Quote(id)+". Name the line to replace by its id.", id, ids)
	return -1
}

// replacements checks shares and ids of the fats that take the place; what they
// are is checked with the new recipe.
func (c *checker) replacements(list []FatLine, r *Recipe, line int) {
	all := in("replacements")
	if n := len(list); n == 0 || n > maxFats {
		c.add(all, ReasonRequired, "Name 1 to "+strconv.Itoa(maxFats)+" fats that take the place.")
		return
	}
	seen := make(map[string]where, len(list))
	sum, stated := 0.0, 0
	for i := range list {
		w := where{list: all.list, index: i}
		c.id(w, list[i].ID, seen)
		for j := range r.Fats {
			if j != line && r.Fats[j].ID == list[i].ID {
				c.add(w.at("id"), ReasonDuplicate, strconv.Quote(list[i].ID)+" is a line of the recipe already. Choose another id.")
			}
		}
		if list[i].Mass.Given() {
			c.add(w.at("mass"), ReasonConflict, "The mass of the replaced fat is taken over. Give share_of_fats_pct of it, or nothing for a single fat.")
		}
		if s, ok := list[i].SharePct.Get(); ok {
			stated++
			sw := w.at("share_of_fats_pct")
			if c.within(sw, s, 0, 100, "%", "It is percent of the mass that is replaced.") && s == 0 {
				c.add(sw, ReasonRange, "The share is zero. Leave the fat out, or write its share.")
			}
			sum += s
		} else if len(list) > 1 {
			c.add(w.at("share_of_fats_pct"), ReasonRequired, "Several fats share the mass out: give each its percent of it.")
		}
	}
	if stated == len(list) {
		c.sum100(all, sum, "share_of_fats_pct")
	}
}

// swapped is the recipe with a line replaced, at equal grams or share.
func (p *plan) swapped(line int, replacements []FatLine) *Recipe {
	r := *p.recipe
	old := &r.Fats[line]
	sum := 0.0
	for i := range replacements {
		sum += replacements[i].SharePct.Or(100)
	}
	list := slices.Clone(replacements)
	for i := range list {
		l := &list[i]
		part := l.SharePct.Or(100) / sum
		l.SharePct = Optional{}
		if s, ok := old.SharePct.Get(); ok {
			l.SharePct = Some(s * part)
			continue
		}
		l.Mass = Quantity{Value: old.Mass.Value * part, Unit: old.Mass.Unit}
		if old.Mass.IsVolume() {
			l.Mass = InGrams(p.lines[line].grams * part)
		}
	}
	r.Fats = slices.Concat(r.Fats[:line], list, r.Fats[line+1:])
	return &r
}

// retarget lets doses that hold fat back from the line hold it back from the
// replacement, where there is one only.
func (c *checker) retarget(p *plan, line int, r *Recipe, replacements []FatLine) {
	r.Doses = slices.Clone(r.Doses)
	for i := range p.doses {
		d := &p.doses[i]
		if d.heldBack != line {
			continue
		}
		if len(replacements) > 1 {
			c.add(d.path.at("fat"), ReasonConflict, "This dose is wetted with fat held back from "+strconv.Quote(p.lines[line].id)+", which several fats would replace. Name another line first.")
			continue
		}
		for j := range r.Doses {
			if &p.recipe.Doses[j] == d.spec {
				carrier := *r.Doses[j].Carrier
				carrier.Fat = replacements[0].ID
				r.Doses[j].Carrier = &carrier
			}
		}
	}
}

// inReplacements names the caller's fields in violations of the new recipe.
func inReplacements(err error, line, n int) error {
	var v *Violations
	if !errors.As(err, &v) {
		return err
	}
	moved := &Violations{List: slices.Clone(v.List)}
	for i := range moved.List {
		for j := range n {
			at := where{list: "recipe.fats", index: line + j}.String()
			if rest, ok := strings.CutPrefix(moved.List[i].Path, at); ok {
				moved.List[i].Path = where{list: "replacements", index: j}.String() + rest
				break
			}
		}
	}
	return moved
}

// codesOf are the codes of findings, each once, in order.
func codesOf(list []Finding) []string {
	var codes []string
	for i := range list {
		codes = append(codes, list[i].Code)
	}
	slices.Sort(codes)
	return slices.Compact(codes)
}

// without is what is in one list and not in another.
func without(list, other []string) []string {
	var out []string
	for _, x := range list {
		if !slices.Contains(other, x) {
			out = append(out, x)
		}
	}
	return out
}
