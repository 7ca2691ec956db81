package engine

import (
	"strconv"
	"strings"
)

// Methods that a worksheet line may name instead of an expression.
const (
	MethodTable        = "table-interpolation"     // a table of solutions, linear between its rows
	MethodDistribution = "superfat-distribution"   // package spread
	MethodPropagation  = "first-order-propagation" // JCGM 100:2008
	MethodWorst        = "worst-case"              // every source at its worst end
	MethodRounding     = "balance-rounding"        // whole steps of a balance
	MethodAgain        = "settled-again"           // the whole reckoning with one change
	MethodTrace        = "trace-estimate"          // package trace: a product of factors over a reference batch, bands drawn in
	MethodFinding      = "finding"                 // a limit or comparison that the finding's text states
)

// sheet writes the reckoning of a settled batch. It is built from the finished
// answer and changes nothing in it; what it says is checked by evaluating every
// line anew.
type sheet struct {
	w     *work
	f     *Formulation
	lines []WorksheetLine
	at    map[string]int // index by line id
	// rounded: there are balances, so masses change between recipe and weigh line.
	rounded bool
	// weighed: the masses are those of a reconciliation, read off the request.
	weighed *reconciler
}

// worksheet is the reckoning of an answer.
func (w *work) worksheet(f *Formulation) []WorksheetLine {
	s := &sheet{w: w, f: f, at: map[string]int{}, rounded: len(w.p.balances) > 0}
	s.build()
	return s.lines
}

// build writes the lines in order, each before its readers.
func (s *sheet) build() {
	s.recipeMasses()
	s.values()
	s.stocks()
	s.weighFats()
	s.weighDoses()
	s.alkali()
	s.water()
	s.jug()
	s.portions()
	s.volumes()
	s.superfats()
	s.profile()
	s.rest()
	s.trace()
	s.findings()
}

// put adds a line that is an expression over its inputs.
func (s *sheet) put(id, label, unit string, value float64, expression string, inputs ...WorksheetInput) {
	s.add(WorksheetLine{ID: id, Label: label, Unit: unit, Value: value, Expression: expression, Inputs: inputs})
}

// by adds a line that comes from a method.
func (s *sheet) by(method, id, label, unit string, value float64, inputs ...WorksheetInput) {
	s.add(WorksheetLine{ID: id, Label: label, Unit: unit, Value: value, Method: method, Inputs: inputs})
}

// add adds a line once; the same figure under the same id is the same line.
func (s *sheet) add(l WorksheetLine) {
	if _, ok := s.at[l.ID]; ok {
		return
	}
	s.at[l.ID] = len(s.lines)
	s.lines = append(s.lines, l)
}

// backed is put with what the figure rests on.
func (s *sheet) backed(e Evidence, id, label, unit string, value float64, expression string, inputs ...WorksheetInput) {
	s.add(WorksheetLine{ID: id, Label: label, Unit: unit, Value: value, Expression: expression, Inputs: inputs, Evidence: e})
}

// has tells whether a line exists; lines that would be zero are not written.
func (s *sheet) has(id string) bool { _, ok := s.at[id]; return ok }

// of is another line as an input. It must stand earlier.
func (s *sheet) of(name, line string) WorksheetInput {
	i, ok := s.at[line]
	if !ok {
		panic("worksheet: line " + line + " is read before it is written")
	}
	l := &s.lines[i]
	return WorksheetInput{Name: name, Value: l.Value, Unit: l.Unit, LineID: line}
}

// request is a field of the request as an input.
func request(name string, value float64, unit, path string) WorksheetInput {
	return WorksheetInput{Name: name, Value: value, Unit: unit, RequestPath: path}
}

// row is a row of the data as an input.
func row(name string, value float64, unit, path string) WorksheetInput {
	return WorksheetInput{Name: name, Value: value, Unit: unit, DataRow: path}
}

// adjusted is a figure of an additive as an input: of its owner, or of the
// caller for an additive of his own.
func (d *planDose) adjusted(name string, value float64, unit, field string) WorksheetInput {
	if d.owned {
		return WorksheetInput{Name: name, Value: value, Unit: unit, Adjustment: d.id + "/" + field}
	}
	base := d.path.at("custom")
	if d.carrierOf >= 0 {
		base = d.path
		if d.spec.Carrier.Custom != nil {
			base = base.at("custom")
		} else {
			base = base.at(map[bool]string{true: "water", false: "fat"}[d.spec.Carrier.Water])
			return request(name, value, unit, base.String())
		}
	}
	if field == "alkali_mol_per_g" {
		field += ".value"
	}
	return request(name, value, unit, base.at(field).String())
}

// total adds lines up: ids with a leading "-" are taken off. Missing lines are
// zero. An empty sum is the number 0.
func (s *sheet) total(id, label, unit string, value float64, ids ...string) {
	var b strings.Builder
	var inputs []WorksheetInput
	for _, line := range ids {
		minus := strings.HasPrefix(line, "-")
		line = strings.TrimPrefix(line, "-")
		if !s.has(line) {
			continue
		}
		name := "x" + strconv.Itoa(len(inputs)+1)
		switch {
		case minus:
			b.WriteString(" - ")
		case len(inputs) > 0:
			b.WriteString(" + ")
		}
		b.WriteString(name)
		inputs = append(inputs, s.of(name, line))
	}
	expression := strings.TrimSpace(b.String())
	switch {
	case len(inputs) == 0:
		expression = "0"
	case strings.HasPrefix(expression, "-"):
		expression = "0 " + expression
	}
	s.put(id, label, unit, value, expression, inputs...)
}

// products adds products of pairs of lines up.
func (s *sheet) products(id, label, unit string, value float64, pairs [][2]string) {
	var terms []string
	var inputs []WorksheetInput
	for _, p := range pairs {
		if !s.has(p[0]) || !s.has(p[1]) {
			continue
		}
		n := strconv.Itoa(len(terms) + 1)
		terms = append(terms, "a"+n+" * b"+n)
		inputs = append(inputs, s.of("a"+n, p[0]), s.of("b"+n, p[1]))
	}
	expression := strings.Join(terms, " + ")
	if expression == "" {
		expression = "0"
	}
	s.put(id, label, unit, value, expression, inputs...)
}

// weight writes what goes on a balance for one line, from its exact mass.
func (s *sheet) weight(id, label string, x weight) {
	if x.scale < 0 {
		s.put("weigh."+id+".weigh_g", label+", to weigh", "g", x.g, "exact", s.of("exact", "weigh."+id+".exact_g"))
		return
	}
	s.by(MethodRounding, "weigh."+id+".weigh_g", label+", to weigh", "g", x.g,
		s.of("exact", "weigh."+id+".exact_g"), s.of("step", s.step(x.scale)))
}

// step writes the step of a balance in grams.
func (s *sheet) step(i int) string {
	b, id := &s.w.p.balances[i], "balances."+strconv.Itoa(i)+".step_g"
	s.quantity(id, "Step of the "+b.name, b.step, b.spec, element("balances", i).at("step"), WorksheetInput{})
	return id
}
