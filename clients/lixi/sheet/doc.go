// Package sheet writes answers for people: plain text of at most 80 columns,
// made to be read from a step away by someone with gloves on.
//
// It shows what the answer says and computes no chemistry: it orders, rounds
// for display, turns grams into ounces and probabilities into "1 in 40". What
// must not be lost when a sheet is long stands first. It never says that a
// batch is safe; where nothing speaks against a batch it says just that.
//
// Text of the answer and names of the recipe are printed without characters
// that could act on a terminal.
package sheet

import lixiviumv1 "lixivium.example/proto/lixivium/v1"

// width is the widest line written, in characters.
const width = 80

// Options are what a sheet takes beside the answer.
type Options struct {
	// Recipe that was asked for: its name and those of its portions are shown.
	Recipe *lixiviumv1.Recipe
	// Balances that were named; their steps say how many decimals a line has.
	Balances []*lixiviumv1.Balance
	// FitLeftOut: the file asks for a size that this sheet is not brought to.
	FitLeftOut bool
	// Unit written large; the other stands in brackets.
	Unit Unit
}

// Unit is the unit of mass that is written large.
type Unit int

// The units of mass of a sheet.
const (
	Grams Unit = iota
	Ounces
)

func (o Options) title() string {
	if name := o.Recipe.GetName(); name != "" {
		return name
	}
	return "Batch without a name"
}

// portionName gives what the maker calls a portion, or its id.
func (o Options) portionName(id string) string {
	for _, p := range o.Recipe.GetPortions() {
		if p.GetId() == id && p.GetName() != "" {
			return p.GetName()
		}
	}
	return id
}
