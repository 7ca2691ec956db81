package engine

import (
	"math"
	"strconv"
	"strings"
)

// portions resolves the parts of the batter; none is one portion.
func (c *checker) portions(r *Recipe, p *plan, seen map[string]where) {
	list := in("recipe.portions")
	if len(r.Portions) == 0 {
		p.portions = []planPortion{{share: 1}}
		return
	}
	if len(r.Portions) > maxPortions {
		c.add(list, ReasonTooMany, strconv.Itoa(len(r.Portions))+" portions; at most "+strconv.Itoa(maxPortions)+".")
		return
	}
	p.portions = make([]planPortion, len(r.Portions))
	sum := 0.0
	for i := range r.Portions {
		w := element("recipe.portions", i)
		q := &r.Portions[i]
		c.id(w, q.ID, seen)
		if c.within(w.at("share_of_base_pct"), q.BaseSharePct, 0, 100, "%", "It is percent of the base batter.") && q.BaseSharePct == 0 {
			c.add(w.at("share_of_base_pct"), ReasonRange, "The share is zero. Leave the portion out, or write its share.")
		}
		if h := q.ColorSRGBHex; h != "" && (len(h) != 6 || strings.Trim(h, "0123456789abcdefABCDEF") != "") {
			c.add(w.at("color_srgb_hex"), ReasonRange, strconv.Quote(h)+" is not a color of six hexadecimal digits, such as f2e8d5.")
		}
		sum += q.BaseSharePct
		p.portions[i] = planPortion{id: q.ID, name: q.Name}
	}
	c.sum100(list, sum, "share_of_base_pct")
	for i := range p.portions {
		p.portions[i].share = r.Portions[i].BaseSharePct / sum
	}
}

// process checks temperatures and vessels.
func (c *checker) process(r *Recipe, p *plan) {
	w, q := in("recipe.process"), &r.Process
	for _, t := range []struct {
		field     string
		value     Optional
		low, high float64
	}{
		{"fats_c", q.FatsC, 0, 110}, {"lye_c", q.LyeC, -10, 110}, {"room_c", q.RoomC, -10, 50},
		{"water_c", q.WaterC, 0, 60}, {"lye_storage_c", q.LyeStorageC, -30, 60},
	} {
		if v, ok := t.value.Get(); ok {
			c.within(w.at(t.field), v, t.low, t.high, "°C", "Temperatures are in degrees Celsius; 100 °F are 38 °C.")
		}
	}
	if q.Gel < GelNotSaid || q.Gel > GelForce {
		c.add(w.at("gel"), ReasonRange, "Use avoid, leave or force.")
	}
	vw := in("recipe.vessels")
	if r.Vessels.Pot.Given() {
		p.potML, _ = c.milliliters(vw.at("pot"), r.Vessels.Pot)
	}
	if r.Vessels.Jug.Given() {
		p.jugML, _ = c.milliliters(vw.at("jug"), r.Vessels.Jug)
	}
	if len(r.Name) > 200 {
		c.add(in("recipe.name"), ReasonTooMany, "The name is longer than 200 characters.")
	}
	if s, ok := r.Alkali.SuperfatPct.Get(); ok && r.CleaningBar && s > 2 {
		c.add(in("recipe.cleaning_bar"), ReasonConflict, "A cleaning bar has a superfat of 0 to 2 %. Lower the superfat, or take the mark off.")
	}
}

// maxBalances is the most balances a shop can name.
const maxBalances = 20

// scale is a balance in grams.
type scale struct {
	name     string
	spec     Quantity // the step as stated
	step     float64  // g
	capacity float64  // +Inf: no limit
}

// balancesOf checks the balances.
func (c *checker) balancesOf(list []Balance, p *plan) {
	if len(list) > maxBalances {
		c.add(in("balances"), ReasonTooMany, strconv.Itoa(len(list))+" balances; at most "+strconv.Itoa(maxBalances)+".")
		return
	}
	for i := range list {
		w := element("balances", i)
		b := &list[i]
		s := scale{name: b.Name, spec: b.Step, capacity: math.Inf(1)}
		s.step, _ = c.grams(w.at("step"), b.Step, "A balance shows a mass.")
		if s.step > 1000 {
			c.add(w.at("step"), ReasonRange, "A step of "+num(s.step)+" g weighs no batch. Look at the unit.")
		}
		if b.Capacity.Given() {
			s.capacity, _ = c.grams(w.at("capacity"), b.Capacity, "A balance carries a mass.")
			if s.capacity < s.step {
				c.add(w.at("capacity"), ReasonConflict, "The balance carries less than one step of its own. Look at the units.")
			}
		}
		if s.name == "" {
			s.name = num(s.step) + " g balance"
		}
		p.balances = append(p.balances, s)
	}
}
