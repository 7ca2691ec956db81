package engine

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"lixivium.example/engine/spell"
)

// maxViolations bounds what one answer lists; a request with more is wrong in
// one way many times over.
const maxViolations = 100

// where is a place in the request. It is cheap to pass and becomes a path only
// when something is wrong there.
type where struct {
	list   string // "recipe.fats"
	index  int    // -1: list is the field itself
	fields [3]string
}

// in is a place that is not an element of a list.
func in(path string) where { return where{list: path, index: -1} }

// element is a place in a list.
func element(list string, index int) where { return where{list: list, index: index} }

// at is a field below the place. Fields are joined only when the path is shown.
func (w where) at(field string) where {
	for i := range w.fields {
		if w.fields[i] == "" {
			w.fields[i] = field
			return w
		}
	}
	w.fields[len(w.fields)-1] += "." + field
	return w
}

// String gives the path with the contract's names.
func (w where) String() string {
	s := w.list
	if w.index >= 0 {
		s += "[" + strconv.Itoa(w.index) + "]"
	}
	for _, f := range w.fields {
		if f != "" {
			s += "." + f
		}
	}
	return s
}

// checker gathers everything that is wrong with a request.
type checker struct {
	list []Violation
}

// add notes one thing that is wrong.
func (c *checker) add(w where, reason, text string, suggestions ...string) {
	if len(c.list) < maxViolations {
		c.list = append(c.list, Violation{Path: w.String(), Reason: reason, Text: text, Suggestions: suggestions})
	}
}

// Names that are suggested where one is not known: those that look like it; of a
// short list all.
const (
	maxNear  = 3
	maxNames = 8
)

// unknown notes a name that is none of those that could stand there. Ids that
// are wrong themselves are not suggested.
func (c *checker) unknown(w where, reason, text, name string, names []string) {
	valid := slices.DeleteFunc(slices.Clone(names), func(n string) bool { return !isID(n) && !isLineID(n) })
	near := spell.Near(name, valid, maxNear)
	if len(near) == 0 && len(valid) <= maxNames {
		near = valid
	}
	c.add(w, reason, text, near...)
}

// err gives the violations, or nil when there are none.
func (c *checker) err() error {
	if len(c.list) == 0 {
		return nil
	}
	return &Violations{List: c.list}
}

// finite refuses NaN and infinity.
func (c *checker) finite(w where, v float64) bool {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		c.add(w, ReasonNotFinite, "This is not a finite number. Write a plain number.")
		return false
	}
	return true
}

// within refuses numbers outside [low, high]. The advice says what the number
// means and what to do.
func (c *checker) within(w where, v, low, high float64, unit, advice string) bool {
	if !c.finite(w, v) {
		return false
	}
	if v < low || v > high {
		if unit != "" {
			unit = " " + unit
		}
		c.add(w, ReasonRange, num(v)+unit+" is outside "+num(low)+" to "+num(high)+unit+". "+advice)
		return false
	}
	return true
}

// fraction refuses a percent that looks like a fraction of one.
func (c *checker) fraction(w where, v, below float64) bool {
	if v > 0 && v < below {
		c.add(w, ReasonLikelySlip, num(v)+" may be a fraction: "+num(v)+" % or "+num(100*v)+" %? Shares are percent; write "+num(100*v)+" if that is meant.")
		return false
	}
	return true
}

// optional checks an optional number when it is there.
func (c *checker) optional(w where, o Optional, low, high float64, unit, advice string) bool {
	v, ok := o.Get()
	return !ok || c.within(w, v, low, high, unit, advice)
}

// one refuses anything but exactly one of the alternatives.
func (c *checker) one(w where, text string, set ...bool) bool {
	n := 0
	for _, s := range set {
		if s {
			n++
		}
	}
	switch {
	case n == 0:
		c.add(w, ReasonRequired, text)
	case n > 1:
		c.add(w, ReasonConflict, "More than one is stated. "+text)
	}
	return n == 1
}

// Masses outside these bounds are slips of unit or of keyboard.
const (
	leastGrams = 1e-6 // the text of massRange names both
	mostGrams  = 1e7
)

// grams takes a mass; a volume is refused with the reason given.
func (c *checker) grams(w where, q Quantity, noVolume string) (float64, bool) {
	if !c.known(w, q) {
		return 0, false
	}
	if q.IsVolume() {
		if !strings.Contains(noVolume, "kg") {
			noVolume += " Use g, kg, oz or lb."
		}
		c.add(w.at(q.Unit.String()), ReasonUnit, noVolume)
		return 0, false
	}
	g := float64(q.Grams())
	return g, c.massRange(w.at(q.Unit.String()), g)
}

// gramsOrVolume takes a mass, or a volume through a density in g/mL.
func (c *checker) gramsOrVolume(w where, q Quantity, density float64) (g float64, byVolume, ok bool) {
	if !c.known(w, q) {
		return 0, false, false
	}
	if !q.IsVolume() {
		g, ok = c.grams(w, q, "")
		return g, false, ok
	}
	g = float64(float64(q.Milliliters()) * density)
	return g, true, c.massRange(w.at(q.Unit.String()), g)
}

// milliliters takes a volume; a mass is refused.
func (c *checker) milliliters(w where, q Quantity) (float64, bool) {
	if !c.known(w, q) {
		return 0, false
	}
	if !q.IsVolume() {
		c.add(w.at(q.Unit.String()), ReasonUnit, "A vessel has a volume. Use ml, l, fl_oz_us or cup_us.")
		return 0, false
	}
	ml := float64(q.Milliliters())
	return ml, c.within(w.at(q.Unit.String()), ml, 1, 1e7, "mL", "State the volume of the vessel.")
}

// known refuses absent quantities, unknown units and numbers that are not finite.
func (c *checker) known(w where, q Quantity) bool {
	if !q.Given() {
		c.add(w, ReasonRequired, "State an amount with its unit, such as {g: 400}.")
		return false
	}
	if q.Unit < 0 || int(q.Unit) >= len(unitRows) {
		c.add(w, ReasonUnit, "The unit is not known. Use g, kg, oz or lb.")
		return false
	}
	return c.finite(w.at(q.Unit.String()), q.Value)
}

func (c *checker) massRange(w where, g float64) bool {
	switch {
	case g < 0:
		c.add(w, ReasonRange, "A mass cannot be negative. Write the mass that is weighed.")
	case g == 0:
		c.add(w, ReasonRange, "The mass is zero. Leave the line out, or write its mass.")
	case g < leastGrams || g > mostGrams:
		c.add(w, ReasonRange, num(g)+" g is outside what a batch can hold, 0.000001 g to 10000 kg. Look at the unit and the exponent.")
	default:
		return true
	}
	return false
}

// maxID is the longest id accepted.
const maxID = 64

// isID tells whether an id has the form of one.
func isID(id string) bool {
	return id != "" && len(id) <= maxID && !strings.ContainsFunc(id, func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '-')
	})
}

// isLineID tells whether it is the id of a line that stands below another, such
// as "clay/carrier".
func isLineID(id string) bool {
	above, below, found := strings.Cut(id, "/")
	return found && isID(above) && isID(below)
}

// id checks the form of an id. Uniqueness is checked over the whole recipe.
func (c *checker) id(w where, id string, seen map[string]where) {
	if !isID(id) {
		if len(id) > maxID {
			id = id[:maxID] + "..."
		}
		c.add(w.at("id"), ReasonBadID, strconv.Quote(id)+" is not an id. Use lower case letters, digits and hyphens, at most 64, such as \"olive-1\".")
		return
	}
	if slices.Contains(reservedIDs, id) {
		c.add(w.at("id"), ReasonDuplicate, strconv.Quote(id)+" names a line of the lye. Choose another id.")
		return
	}
	if first, taken := seen[id]; taken {
		c.add(w.at("id"), ReasonDuplicate, strconv.Quote(id)+" is already the id of "+first.String()+". Give each line, dose and portion an id of its own.")
		return
	}
	seen[id] = w
}

// Ids of the lines that the engine adds.
const (
	lineWater = "water"
	lineNaOH  = "naoh"
	lineKOH   = "koh"
)

var reservedIDs = []string{lineWater, lineNaOH, lineKOH}
