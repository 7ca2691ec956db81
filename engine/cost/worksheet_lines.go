package cost

import (
	"strconv"

	"github.com/cockroachdb/apd/v3"

	"lixivium.example/engine"
)

// pack writes what a pack costs and how many grams of it reach a batch.
func (s *sheet) pack(p *pack) {
	path := packAt(p.index)
	id := path.at("")
	if s.has(id + ".paid") {
		return
	}
	label := strconv.Quote(p.spec.Material)
	price, _ := parse(p.spec.Price)
	paid := []engine.WorksheetInput{request("price", price, s.currency(), path.at("price"))}
	expression := "price"
	if p.spec.Freight != "" {
		freight, _ := parse(p.spec.Freight)
		paid = append(paid, request("freight", freight, s.currency(), path.at("freight")))
		expression += " + freight"
	}
	s.put(id+".paid", "Paid for the pack of "+label, s.currency(), p.paid, expression, paid...)

	q := p.spec.Size
	usable := []engine.WorksheetInput{request("size", decimal(q.Value), q.Unit.String(), path.at("size."+q.Unit.String()))}
	expression = "size"
	if f := factor(q); f != 1 {
		expression += " * " + strconv.FormatFloat(f, 'f', -1, 64)
	}
	if q.IsVolume() {
		in := engine.WorksheetInput{Name: "density", Value: p.density.gPerML, Unit: "g/mL", DataRow: p.density.row}
		if in.DataRow == "" {
			in.RequestPath = path.at("density_g_per_ml")
		}
		usable = append(usable, in)
		expression += " * density"
	}
	if p.spec.WastePct != 0 {
		usable = append(usable, request("waste_pct", decimal(p.spec.WastePct), "percent", path.at("waste_pct")))
		expression += " * (1 - waste_pct / 100)"
	}
	s.put(id+".usable_g", "Of that reaches a batch", "g", p.usableG, expression, usable...)
	s.put(id+".per_g", "Price of a gram from the pack of "+label, s.currency()+"/g", over(p.paid, p.usableG), "paid / usable",
		s.of("paid", id+".paid"), s.of("usable", id+".usable_g"))
}

// costLines writes every line of the cost.
func (s *sheet) costLines() {
	t := s.k.t
	for i := range s.k.lines {
		l, id := &s.k.lines[i], s.lineID(i)
		label := s.k.out.Lines[i].Text
		money := func(name string, v *apd.Decimal, field string) engine.WorksheetInput {
			return s.term(name, v, s.currency(), field)
		}
		switch {
		case l.item != nil:
			s.material(l, label)
		case l.layer == 1:
			s.rounded(id, label, l.exact, l.amount, "bars * each", s.bars(), money("each", t.packaging, "packaging_per_bar"))
		case l.layer == 2:
			s.rounded(id, label, l.exact, l.amount, "minutes * per_hour / 60", s.term("minutes", t.minutes, "min", "labor_minutes"), money("per_hour", t.perHour, "labor_per_hour"))
		case id == overheadShare:
			s.base()
			s.rounded(id, label, l.exact, l.amount, "base * overhead_pct / 100", s.of("base", "cost.base"), s.term("overhead_pct", t.overheadPct, "percent", "overhead_pct"))
		default:
			s.rounded(id, label, l.exact, l.amount, "overhead", money("overhead", t.perBatch, "overhead_per_batch"))
		}
		s.put(id+".per_bar_exact", label+", for a bar, before rounding", s.currency(), over(l.amount, t.bars), "amount / bars", s.of("amount", id), s.bars())
		s.by(MethodCent, id+".per_bar", label+", for a bar, to four decimals", s.currency(), halfUp(over(l.amount, t.bars), perBarDecimals), s.of("exact", id+".per_bar_exact"))
	}
}

// overheadShare is the worksheet line of overhead in percent.
const overheadShare = "cost.overhead_share"

// material writes one line of the materials.
func (s *sheet) material(l *line, label string) {
	it := l.item
	id := "cost.line." + it.id
	grams := it.mass.line
	if it.mass.expression != "" {
		grams = id + ".mass_g"
		inputs := make([]engine.WorksheetInput, len(it.mass.inputs))
		for i, in := range it.mass.inputs {
			if in.LineID != "" {
				in = s.of(in.Name, in.LineID)
			} else if in.RequestPath != "" {
				in.RequestPath = s.recipePath(in.RequestPath)
			}
			inputs[i] = in
		}
		s.put(grams, it.text, "g", decimal(it.g), it.mass.expression, inputs...)
	}
	if it.pack == nil {
		s.put(id, label, s.currency(), l.amount, "0")
		return
	}
	pack := packAt(it.pack.index).at("")
	s.rounded(id, label, l.exact, l.amount, "paid * mass / usable", s.of("paid", pack+".paid"), s.of("mass", grams), s.of("usable", pack+".usable_g"))
}

// lineID is the worksheet line of a cost line.
func (s *sheet) lineID(i int) string {
	switch l := &s.k.lines[i]; {
	case l.item != nil:
		return "cost.line." + l.item.id
	case l.layer == 1:
		return "cost.packaging"
	case l.layer == 2:
		return "cost.labor"
	case s.k.t.spec.OverheadPerBatch != "" && (i == 0 || s.k.lines[i-1].layer != 3):
		return "cost.overhead_per_batch"
	}
	return overheadShare
}

// idsOf are the worksheet lines of a layer.
func (s *sheet) idsOf(layer int) []string {
	var ids []string
	for i := range s.k.lines {
		if s.k.lines[i].layer == layer {
			ids = append(ids, s.lineID(i))
		}
	}
	return ids
}

// base writes what overhead in percent is taken of.
func (s *sheet) base() {
	var ids []string
	for layer := range 3 {
		ids = append(ids, s.layer(layer)...)
	}
	s.sum("cost.base", "Materials, packaging and labor", s.k.base(), ids...)
}

// layer writes the sum of a layer that has lines, and gives its line.
func (s *sheet) layer(layer int) []string {
	ids := s.idsOf(layer)
	if len(ids) == 0 {
		return nil
	}
	id := "cost.sum." + string(layers[layer])
	s.sum(id, "All "+string(layers[layer]), s.k.layer[layer], ids...)
	return []string{id}
}

// totals writes the cost of the batch and of a bar.
func (s *sheet) totals() {
	var ids []string
	for layer := range layers {
		ids = append(ids, s.layer(layer)...)
	}
	s.sum("cost.per_batch", "Cost of the batch", s.k.batch, ids...)
	s.perBar("cost.per_bar", "Cost of a saleable bar, rounded up", s.k.batch, s.k.bar)
}

func (s *sheet) perBar(id, label string, batch, bar *apd.Decimal) {
	s.rounded(id, label, over(batch, s.k.t.bars), bar, "batch / bars", s.of("batch", "cost.per_batch"), s.bars())
}
