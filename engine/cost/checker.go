package cost

import (
	"math"
	"strconv"

	"github.com/cockroachdb/apd/v3"

	"lixivium.example/engine"
)

// maxViolations bounds what one answer lists.
const maxViolations = 100

// place is a message in the request; it becomes a path only when something is
// wrong there.
type place struct {
	list  string // "prices.packs"
	index int    // -1: list is the message itself
	below string // ".terms", or nothing
}

func (p place) at(field string) string {
	s := p.list
	if p.index >= 0 {
		s += "[" + strconv.Itoa(p.index) + "]"
	}
	s += p.below
	if field != "" {
		s += "." + field
	}
	return s
}

func packAt(i int) place  { return place{"prices.packs", i, ""} }
func termsAt(i int) place { return place{"recipes", i, ".terms"} }

// checker gathers everything that is wrong with a request.
type checker struct{ list []engine.Violation }

func (c *checker) add(p place, field, reason, text string, suggestions ...string) {
	if len(c.list) < maxViolations {
		c.list = append(c.list, engine.Violation{Path: p.at(field), Reason: reason, Text: text, Suggestions: suggestions})
	}
}

func (c *checker) err() error {
	if len(c.list) == 0 {
		return nil
	}
	return &engine.Violations{List: c.list}
}

// within checks a number and gives it as a decimal; zero where it is wrong.
func (c *checker) within(p place, field string, v, low, high float64, unit, advice string) *apd.Decimal {
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		c.add(p, field, engine.ReasonNotFinite, "This is not a finite number. Write a plain number.")
	case v < low || v > high:
		c.add(p, field, engine.ReasonRange, num(v)+unit+" is outside "+num(low)+" to "+num(high)+unit+". "+advice)
	default:
		return decimal(v)
	}
	return zero
}

// percent is within for a share, where a fraction of one is a likely slip.
func (c *checker) percent(p place, field string, v, high, slip float64, advice string) *apd.Decimal {
	if v > 0 && v < slip {
		meant := num(math.Round(100*v*1e9) / 1e9)
		c.add(p, field, engine.ReasonLikelySlip, num(v)+" may be a fraction: "+num(v)+" % or "+meant+" %? Shares are percent; write "+meant+" if that is meant.")
		return zero
	}
	return c.within(p, field, v, 0, high, " %", advice)
}

// amount checks a sum of money that may be left out.
func (c *checker) amount(p place, field, s string) *apd.Decimal {
	if s == "" {
		return zero
	}
	d, wrong := parse(s)
	if wrong != "" {
		c.add(p, field, ReasonMoney, wrong)
		return zero
	}
	return d
}

// price checks a sum of money that must be there and above zero.
func (c *checker) price(p place, field, s, advice string) (*apd.Decimal, bool) {
	if s == "" {
		c.add(p, field, engine.ReasonRequired, "There is no price. "+advice)
		return one, false
	}
	d, wrong := parse(s)
	switch {
	case wrong != "":
		c.add(p, field, ReasonMoney, wrong)
	case d.IsZero():
		c.add(p, field, engine.ReasonRange, "The price is zero. "+advice)
	default:
		return d, true
	}
	return one, false
}

// num writes a number for people.
func num(v float64) string {
	if a := math.Abs(v); a != 0 && (a < 1e-4 || a >= 1e10) {
		return strconv.FormatFloat(v, 'g', 4, 64)
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}
