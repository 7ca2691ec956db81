package translate

import (
	"fmt"
	"strconv"
	"strings"

	"google.golang.org/protobuf/reflect/protoreflect"

	"lixivium.example/engine"
)

// path is the place of a message in its request. It is a chain of stack
// values, written out only when something is wrong there.
type path struct {
	up    *path
	field string
	index int // noIndex: not an element of a list
}

const noIndex = -1

func root(field string) *path { return &path{field: field, index: noIndex} }

func (p *path) at(field string) *path { return &path{up: p, field: field, index: noIndex} }

func (p *path) item(field string, index int) *path {
	return &path{up: p, field: field, index: index}
}

// String writes the path as "recipe.fats[2].mass".
func (p *path) String() string {
	s := p.field
	if p.index != noIndex {
		s += "[" + strconv.Itoa(p.index) + "]"
	}
	if p.up == nil {
		return s
	}
	return p.up.String() + "." + s
}

// reader translates a request and collects what the wire got wrong.
type reader struct{ wrong []engine.Violation }

func (r *reader) add(at *path, reason, text string, suggestions ...string) {
	r.wrong = append(r.wrong, engine.Violation{
		Path: at.String(), Reason: reason, Text: text, Suggestions: suggestions,
	})
}

// known tells whether the contract names an enum's number; if not, that is a
// violation with every valid name.
func (r *reader) known(at *path, e protoreflect.Enum) bool {
	values := e.Descriptor().Values()
	if values.ByNumber(e.Number()) != nil {
		return true
	}
	names := make([]string, 0, values.Len())
	for i := range values.Len() {
		names = append(names, string(values.Get(i).Name()))
	}
	r.add(at, engine.ReasonUnknown,
		fmt.Sprintf("%d is no value of %s here; a newer client may know it. Use one of %s.",
			e.Number(), e.Descriptor().Name(), strings.Join(names, ", ")))
	return false
}
