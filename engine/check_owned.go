package engine

import (
	"strconv"
	"strings"

	"lixivium.example/engine/spell"
)

// ownedDose takes an additive that a plugin owns: its parameters are checked
// here, its figures are asked for later.
func (c *checker) ownedDose(w where, d *Dose, pd *planDose, a Additives) {
	pd.owned, pd.name = true, d.Additive
	if a == nil {
		return
	}
	info, ok := a.Owner(d.Additive)
	if !ok {
		return
	}
	pd.info, pd.name, pd.perTsp, pd.dry = info, info.Name, info.GPerTeaspoonUS, info.AlkaliFormsNoWater
	for _, name := range sortedKeys(d.Parameters) {
		pw := w.at("parameters").at(name)
		found := false
		names := make([]string, 0, len(info.Parameters))
		for _, q := range info.Parameters {
			names = append(names, q.Name)
			if q.Name == name {
				found = true
				c.within(pw, d.Parameters[name], q.Min, q.Max, "", "Its unit or meaning: "+q.Unit+". The additive's owner sets the range.")
			}
		}
		if !found {
			near, next := spell.Near(name, names, maxNear), ""
			switch {
			case len(names) == 0:
				next = " It has none; take it out."
			case len(near) == 0:
				next = " It has: " + strings.Join(names, ", ") + "."
			}
			c.add(pw, ReasonParameter, strconv.Quote(d.Additive)+" has no parameter "+strconv.Quote(name)+"."+next, near...)
		}
	}
}
