package cost

import (
	"strings"

	"lixivium.example/engine"
	"lixivium.example/engine/fat"
)

// item is one material to pay for: a weigh line, or a part of one.
type item struct {
	id     string // of its worksheet lines: that of the weigh line, or below it
	lineID string // the weigh line
	text   string
	name   string // as a pack names it
	key    string
	g      float64
	pack   *pack // nil: no price
	mass   mass
}

// lacks tells whether the item has no price and needs one.
func (it *item) lacks() bool { return it.pack == nil && it.key != water }

// mass says where the grams of an item stand in the formulation's worksheet: on
// one line, or as an expression over several.
type mass struct {
	line       string // without an expression
	expression string
	inputs     []engine.WorksheetInput // by line or data row; values are filled in
}

// materials takes a formulation apart into what is paid for.
type materials struct {
	book  *book
	r     *engine.Recipe
	f     *engine.Formulation
	fats  map[string]int // line id to index of the recipe's fats
	first []int          // index of a line's first fat in the answer
	doses map[string]int // dose id to index of the recipe's doses
	out   []item
}

// items lists what a batch is made of, in order of the weigh lines.
func (b *book) items(c *Costed) []item {
	m := materials{
		book: b, r: c.Recipe, f: c.Formulation,
		fats: make(map[string]int, len(c.Recipe.Fats)), first: make([]int, len(c.Recipe.Fats)),
		doses: make(map[string]int, len(c.Recipe.Doses)), out: make([]item, 0, len(c.Formulation.WeighOut)),
	}
	n := 0
	for i := range m.r.Fats {
		m.fats[m.r.Fats[i].ID], m.first[i] = i, n
		n++
		if p := m.r.Fats[i].Premix; p != nil {
			n += len(p.Fats) - 1
		}
	}
	for i := range m.r.Doses {
		m.doses[m.r.Doses[i].ID] = i
	}
	for i := range m.f.WeighOut {
		m.line(&m.f.WeighOut[i])
	}
	return m.out
}

// add notes an item under the name that a pack would have.
func (m *materials) add(it item, name string) {
	it.name, it.key = name, key(name)
	it.pack = m.book.cheap[it.key]
	m.out = append(m.out, it)
}

// line takes one weigh line.
func (m *materials) line(l *engine.WeighLine) {
	it := item{id: l.LineID, lineID: l.LineID, text: l.Material, g: float64(l.WeighG), mass: mass{line: "weigh." + l.LineID + ".weigh_g"}}
	switch l.LineID {
	case water:
		m.add(it, water)
		return
	case "naoh":
		m.alkali(it, m.r.Alkali.NaOH)
		return
	case "koh":
		m.alkali(it, m.r.Alkali.KOH)
		return
	}
	if i, ok := m.fats[l.LineID]; ok {
		m.fat(it, i)
		return
	}
	if id, ok := strings.CutSuffix(l.LineID, "/carrier"); ok {
		m.carrier(it, l.OfLineID, m.r.Doses[m.doses[id]].Carrier)
		return
	}
	if strings.HasSuffix(l.LineID, "/"+water) {
		m.add(it, water)
		return
	}
	m.dose(it, &m.r.Doses[m.doses[l.LineID]])
}

// fat takes a fat of the recipe, or what is weighed of it elsewhere. A premix
// without a pack of its name is priced by its fats.
func (m *materials) fat(it item, i int) {
	l, n := &m.r.Fats[i], m.first[i]
	if l.Premix == nil {
		m.add(it, name(&m.f.Fats[n]))
		return
	}
	if m.book.cheap[key(l.Premix.Name)] != nil {
		m.add(it, l.Premix.Name)
		return
	}
	sum := 0.0
	for j := range l.Premix.Fats {
		sum += l.Premix.Fats[j].SharePct.Or(0)
	}
	for j := range l.Premix.Fats {
		a, part := &m.f.Fats[n+j], it
		part.id += "/" + l.Premix.Fats[j].ID
		part.text = a.Name + " in " + it.text
		part.g = float64(it.g * (l.Premix.Fats[j].SharePct.Or(0) / sum))
		part.mass = mass{expression: "weighed * share", inputs: []engine.WorksheetInput{
			{Name: "weighed", LineID: it.mass.line}, {Name: "share", LineID: "fats." + a.LineID + ".share"},
		}}
		m.add(part, name(a))
	}
}

// name is what a pack of a fat is called.
func name(a *engine.FatAnswer) string {
	if a.FatID != "" {
		return a.FatID
	}
	return a.Name
}

// carrier takes what a dose was wetted or dissolved in.
func (m *materials) carrier(it item, of string, c *engine.Carrier) {
	switch i, held := m.fats[of]; {
	case c.Water:
		m.add(it, water)
	case c.Custom != nil:
		m.add(it, c.Custom.Name)
	case held:
		m.fat(it, i)
	default:
		id := c.Fat
		if f, err := fat.Resolve(id); err == nil {
			id = f.ID
		}
		m.add(it, id)
	}
}

// dose takes an additive; one that is weighed premixed with its carrier is two
// materials.
func (m *materials) dose(it item, d *engine.Dose) {
	name := d.Additive
	if d.Custom != nil {
		name = d.Custom.Name
	}
	if d.Carrier == nil || !d.Carrier.Premixed {
		m.add(it, name)
		return
	}
	for i := range m.f.Doses {
		a := &m.f.Doses[i]
		if a.DoseID != d.ID {
			continue
		}
		one, other := it, it
		one.text, one.g, one.mass.line = a.Name, float64(a.MassG), "doses."+d.ID+".mass_g"
		m.add(one, name)
		other.id += "/carrier"
		other.text, other.g, other.mass.line = "Carrier of "+a.Name, float64(a.CarrierG), "doses."+d.ID+"/carrier.mass_g"
		m.carrier(other, "", d.Carrier)
	}
}

// alkali takes an alkali: solid, a solution as bought, or one that the shop made.
func (m *materials) alkali(it item, s *engine.AlkaliStock) {
	switch {
	case s == nil || s.Solution == nil && s.Made == nil:
		m.add(it, it.id)
	case s.Made == nil || m.book.cheap[it.id+solution] != nil:
		m.add(it, it.id+solution)
	default:
		m.made(it, s)
	}
}

// made takes a stock apart into the solid, what else it holds, and water.
func (m *materials) made(it item, s *engine.AlkaliStock) {
	solid, all := float64(s.Made.Solid.Grams()), 0.0
	w := float64(s.Made.Water.Grams())
	if s.Made.Water.IsVolume() {
		w = float64(float64(s.Made.Water.Milliliters()) * waterDensity)
	}
	all = solid + w
	for i := range s.AlsoHolds {
		all += float64(s.AlsoHolds[i].Mass.Grams())
	}
	base := "alkali." + it.id
	parts := splitStock{m: m, of: it, all: all, line: base + ".made_g"}
	parts.take("solid", "Solid in "+it.text, it.id, solid, base+".made_solid_g")
	for i := range s.AlsoHolds {
		parts.content(i, &s.AlsoHolds[i], base)
	}
	parts.water("Water in "+it.text, w, base+".made_water_g")
}
