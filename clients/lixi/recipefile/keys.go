package recipefile

import (
	"regexp"
	"slices"
	"strings"

	"google.golang.org/protobuf/reflect/protoreflect"
)

// unknownKey says what is wrong with a key that the message does not have.
func (r *reader) unknownKey(path string, pairs []pair, i int, d protoreflect.MessageDescriptor) {
	key := pairs[i].key
	word := key.Value
	at := join(path, word)
	if len(word) > maxTypo {
		at = path
	}
	if where, ok := r.elsewhere[word]; ok && path == "" {
		if where == "" {
			r.note(at, key)
			return
		}
		r.problem(key, at, "this key does not belong here", where)
		return
	}
	if path == "" && word == changesKey {
		r.problem(key, at, "changes of what?", "name the file that they are laid over: variant_of: kitchen-bar.yaml")
		return
	}
	if i > 0 && isNull(pairs[i].value) {
		// In {g: 5,5 g} the comma ends the value, and "5 g" becomes a key.
		before, decimals := pairs[i-1], afterComma.FindStringSubmatch(word)
		if decimals != nil && plainNumber.MatchString(before.value.Value) {
			r.problem(before.value, join(path, before.key.Value), "a decimal comma",
				commaFixWithin(before.key.Value+": ", before.value.Value+","+decimals[1], ""))
			return
		}
	}
	names := slices.DeleteFunc(fieldNames(d), func(name string) bool {
		return r.prices && path == "" && r.elsewhere[name] != ""
	})
	next := "the keys here are: " + strings.Join(names, ", ")
	if length := lengthKey(word, pairs[i].value.Value, d); length != "" {
		next = length
	} else if near := Nearest(word, names); len(near) > 0 {
		next = "did you mean " + either(near) + "?"
	} else if below := fieldBelow(d, protoreflect.Name(word), 3); below != "" {
		next = "it belongs one level further in: " + below
	}
	r.problem(key, at, "no key named "+shown(word)+" here", next)
}

// afterComma is what stands behind a decimal comma, perhaps with a unit.
var afterComma = regexp.MustCompile(`^([0-9]+)(?: ?[\pL°%]+)?$`)

// fieldNames lists the fields of a message in the order of the contract.
func fieldNames(d protoreflect.MessageDescriptor) []string {
	names := make([]string, d.Fields().Len())
	for i := range names {
		names[i] = string(d.Fields().Get(i).Name())
	}
	return names
}

// fieldBelow finds a field by name in the messages that a message holds, and
// gives the path to it. Empty: not within that many levels.
func fieldBelow(d protoreflect.MessageDescriptor, name protoreflect.Name, levels int) string {
	if levels == 0 {
		return ""
	}
	for i := range d.Fields().Len() {
		fd := d.Fields().Get(i)
		if fd.Message() == nil || fd.IsMap() {
			continue
		}
		step := string(fd.Name())
		if fd.IsList() {
			step += "[]"
		}
		if fd.Message().Fields().ByName(name) != nil {
			return step + "." + string(name)
		}
		if below := fieldBelow(fd.Message(), name, levels-1); below != "" {
			return step + "." + below
		}
	}
	return ""
}

// example shows how a field is written.
func (r *reader) example(fd protoreflect.FieldDescriptor) string {
	name := string(fd.Name())
	switch {
	case fd.IsMap():
		return name + ": {name: 12.5}"
	case fd.Message() != nil && fd.Message().Name() == quantityName:
		return name + ": {g: 400}"
	case fd.Message() != nil && fd.IsList():
		return name + ": [{" + string(fd.Message().Fields().Get(0).Name()) + ": ...}]"
	case fd.Message() != nil:
		return name + ": {" + string(fd.Message().Fields().Get(0).Name()) + ": ...}"
	case fd.Enum() != nil:
		return name + ": " + strings.Join(enumWords(fd.Enum()), " or ")
	case fd.Kind() == protoreflect.BoolKind:
		return name + ": true"
	case fd.Kind() == protoreflect.StringKind:
		return name + ": some words"
	default:
		return name + ": 12.5"
	}
}
