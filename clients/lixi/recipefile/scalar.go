package recipefile

import (
	"cmp"
	"fmt"
	"strings"

	"go.yaml.in/yaml/v3"
	"google.golang.org/protobuf/reflect/protoreflect"
)

// scalar reads a value into the kind that its field has.
func (r *reader) scalar(path string, n *yaml.Node, fd protoreflect.FieldDescriptor) (protoreflect.Value, bool) {
	none := protoreflect.Value{}
	if n.Kind != yaml.ScalarNode {
		r.problem(n, path, fmt.Sprintf("%s where %s belongs", describe(n), kindInWords(fd)), "write one value: "+r.example(fd))
		return none, false
	}
	switch fd.Kind() {
	case protoreflect.StringKind:
		return protoreflect.ValueOfString(n.Value), true
	case protoreflect.BoolKind:
		if v := n.Value; !quoted(n) && (v == "true" || v == "false") {
			return protoreflect.ValueOfBool(v == "true"), true
		}
		r.problem(n, path, shown(n.Value)+" where true or false belongs", "write true or false, without quotes")
		return none, false
	case protoreflect.EnumKind:
		return r.enum(path, n, fd.Enum())
	case protoreflect.DoubleKind:
		v, bad, next := number(n.Value, quoted(n))
		if m := withUnit.FindStringSubmatch(n.Value); m != nil && bad != "" && !quoted(n) {
			next = cmp.Or(otherUnit(fd.Name(), m[1], m[2]), next)
		}
		if bad != "" {
			r.problem(n, path, shown(n.Value)+" "+bad, next)
			return none, false
		}
		return protoreflect.ValueOfFloat64(v), true
	case protoreflect.Uint32Kind:
		v, bad, next := count(n.Value, quoted(n))
		if bad != "" {
			r.problem(n, path, shown(n.Value)+" "+bad, next)
			return none, false
		}
		return protoreflect.ValueOfUint32(v), true
	}
	// A kind of the contract that no request uses yet: refused, never guessed.
	r.problem(n, path, "this lixi cannot read values of kind "+fd.Kind().String(), "use a newer lixi")
	return none, false
}

// enum reads a word for an enum value: lower case, without the enum's name.
func (r *reader) enum(path string, n *yaml.Node, d protoreflect.EnumDescriptor) (protoreflect.Value, bool) {
	values := d.Values()
	for i := range values.Len() {
		if v := values.Get(i); v.Number() != 0 && enumWord(d, v) == n.Value {
			return protoreflect.ValueOfEnum(v.Number()), true
		}
	}
	words := enumWords(d)
	next := "write " + either(words)
	if near := Nearest(n.Value, words); len(near) > 0 {
		next = "did you mean " + either(near) + "? The words here: " + strings.Join(words, ", ")
	}
	r.problem(n, path, "no choice named "+shown(n.Value), next)
	return protoreflect.Value{}, false
}

// enumWords lists the words of an enum. The value 0 means that nothing was
// said and is written by leaving the field out.
func enumWords(d protoreflect.EnumDescriptor) []string {
	var words []string
	for i := range d.Values().Len() {
		if v := d.Values().Get(i); v.Number() != 0 {
			words = append(words, enumWord(d, v))
		}
	}
	return words
}

// enumWord turns GEL_INTENT_AVOID of GelIntent into "avoid".
func enumWord(d protoreflect.EnumDescriptor, v protoreflect.EnumValueDescriptor) string {
	var prefix strings.Builder
	for i, c := range string(d.Name()) {
		if i > 0 && c >= 'A' && c <= 'Z' {
			prefix.WriteByte('_')
		}
		prefix.WriteRune(c)
	}
	return strings.ToLower(strings.TrimPrefix(string(v.Name()), strings.ToUpper(prefix.String())+"_"))
}

func kindInWords(fd protoreflect.FieldDescriptor) string {
	switch fd.Kind() {
	case protoreflect.StringKind:
		return "text"
	case protoreflect.BoolKind:
		return "true or false"
	case protoreflect.EnumKind:
		return "a word"
	default:
		return "a number"
	}
}
