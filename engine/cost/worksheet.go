package cost

import (
	"strconv"

	"github.com/cockroachdb/apd/v3"

	"lixivium.example/engine"
)

// sheet writes the reckoning of a costing. It is built from the finished figures
// and changes none.
type sheet struct {
	k     *costing
	lines []engine.WorksheetLine
	at    map[string]int // index by line id
}

// worksheet writes the reckoning: that of the formulation, prices, lines,
// totals, price.
func (k *costing) worksheet() {
	s := &sheet{k: k, at: map[string]int{}}
	s.formulation()
	for i := range k.lines {
		if it := k.lines[i].item; it != nil && it.pack != nil {
			s.pack(it.pack)
		}
	}
	s.costLines()
	s.totals()
	if k.before != nil {
		s.price()
	}
	s.sensitivity()
	k.out.Worksheet = s.lines
}

// recipePath is the path of a field of the recipe in the request.
func (s *sheet) recipePath(field string) string {
	return "recipes[" + strconv.Itoa(s.k.index) + "]." + field
}

// formulation takes the reckoning of the batch over, its paths those of this
// request.
func (s *sheet) formulation() {
	for _, l := range s.k.in.Formulation.Worksheet {
		inputs := make([]engine.WorksheetInput, len(l.Inputs))
		for i, in := range l.Inputs {
			if in.RequestPath != "" {
				in.RequestPath = s.recipePath(in.RequestPath)
			}
			inputs[i] = in
		}
		l.Inputs = inputs
		s.add(l)
	}
}

func (s *sheet) add(l engine.WorksheetLine) {
	if _, ok := s.at[l.ID]; ok {
		return
	}
	s.at[l.ID] = len(s.lines)
	s.lines = append(s.lines, l)
}

// put adds a line that is an expression over its inputs.
func (s *sheet) put(id, label, unit string, v *apd.Decimal, expression string, inputs ...engine.WorksheetInput) {
	s.add(engine.WorksheetLine{ID: id, Label: label, Unit: unit, Value: float(v), Expression: expression, Inputs: inputs})
}

// by adds a line that comes from a method.
func (s *sheet) by(method, id, label, unit string, v *apd.Decimal, inputs ...engine.WorksheetInput) {
	s.add(engine.WorksheetLine{ID: id, Label: label, Unit: unit, Value: float(v), Method: method, Inputs: inputs})
}

// rounded adds a sum of money and before it the same before rounding.
func (s *sheet) rounded(id, label string, exact, v *apd.Decimal, expression string, inputs ...engine.WorksheetInput) {
	s.put(id+"_exact", label+", before rounding", s.currency(), exact, expression, inputs...)
	s.by(MethodCent, id, label, s.currency(), v, s.of("exact", id+"_exact"))
}

func (s *sheet) currency() string { return s.k.book.spec.CurrencyCode }

// of is another line as an input.
func (s *sheet) of(name, id string) engine.WorksheetInput {
	in := engine.WorksheetInput{Name: name, LineID: id}
	if i, ok := s.at[id]; ok {
		in.Value, in.Unit = s.lines[i].Value, s.lines[i].Unit
	}
	return in
}

func (s *sheet) has(id string) bool { _, ok := s.at[id]; return ok }

func request(name string, v *apd.Decimal, unit, path string) engine.WorksheetInput {
	return engine.WorksheetInput{Name: name, Value: float(v), Unit: unit, RequestPath: path}
}

// term is a field of the terms as an input.
func (s *sheet) term(name string, v *apd.Decimal, unit, field string) engine.WorksheetInput {
	return request(name, v, unit, s.k.t.at.at(field))
}

func (s *sheet) bars() engine.WorksheetInput {
	return s.term("bars", s.k.t.bars, "bars", "saleable_bars")
}

// sum adds lines of money up; none is the number 0.
func (s *sheet) sum(id, label string, v *apd.Decimal, ids ...string) {
	expression := ""
	var inputs []engine.WorksheetInput
	for _, other := range ids {
		name := "x" + strconv.Itoa(len(inputs)+1)
		if expression != "" {
			expression += " + "
		}
		expression += name
		inputs = append(inputs, s.of(name, other))
	}
	if expression == "" {
		expression = "0"
	}
	s.put(id, label, s.currency(), v, expression, inputs...)
}
