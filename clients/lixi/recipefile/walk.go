package recipefile

import (
	"fmt"
	"strings"

	"go.yaml.in/yaml/v3"
	"google.golang.org/protobuf/reflect/protoreflect"
)

// pair is a key of a map with its value.
type pair struct{ key, value *yaml.Node }

// top reads the root: the format number and the fields of the request.
func (r *reader) top(root *yaml.Node, m protoreflect.Message) {
	if !r.ordinary("", root) || !r.isMap("", root, m.Descriptor()) {
		return
	}
	pairs := r.takeFormat(root)
	if !r.prices {
		pairs = r.variant(pairs, m.Descriptor())
	}
	r.fields("", pairs, m, 1)
}

// message reads a map into a message.
func (r *reader) message(path string, n *yaml.Node, m protoreflect.Message, depth int) {
	if depth > maxDepth {
		r.problem(n, path, fmt.Sprintf("nested more than %d levels deep", maxDepth), "write it flatter; a premix holds fats, no further premix")
		return
	}
	if r.isMap(path, n, m.Descriptor()) {
		r.fields(path, r.pairs(path, n), m, depth)
	}
}

// fields reads the pairs of a map as fields of a message.
func (r *reader) fields(path string, pairs []pair, m protoreflect.Message, depth int) {
	chosen := map[protoreflect.FullName]string{}
	for i, p := range pairs {
		if r.full() {
			return
		}
		fd := m.Descriptor().Fields().ByName(protoreflect.Name(p.key.Value))
		if fd == nil || r.prices && path == "" && r.elsewhere[p.key.Value] != "" {
			r.unknownKey(path, pairs, i, m.Descriptor())
			continue
		}
		at := join(path, p.key.Value)
		if one := fd.ContainingOneof(); one != nil && !one.IsSynthetic() {
			if other, ok := chosen[one.FullName()]; ok {
				r.problem(p.key, at, fmt.Sprintf("%s and %s exclude each other", other, fd.Name()), "keep one of the two")
				continue
			}
			chosen[one.FullName()] = string(fd.Name())
		}
		r.field(at, p, m, fd, depth)
	}
}

// field reads one value into its field.
func (r *reader) field(path string, p pair, m protoreflect.Message, fd protoreflect.FieldDescriptor, depth int) {
	r.note(path, p.key)
	if !r.ordinary(path, p.value) {
		return
	}
	if isNull(p.value) {
		r.problem(p.key, path, "no value follows", "give it one, or take the line out: "+r.example(fd))
		return
	}
	switch {
	case fd.IsMap():
		r.mapField(path, p.value, m.Mutable(fd).Map(), fd, depth+1)
	case fd.IsList():
		r.list(path, p.value, m.Mutable(fd).List(), fd, depth+1)
	case fd.Message() != nil:
		if r.looksLikeAmount(path, p.value, fd) {
			return
		}
		r.message(path, p.value, m.Mutable(fd).Message(), depth+1)
	default:
		if v, ok := r.scalar(path, p.value, fd); ok {
			r.note(path, p.value)
			m.Set(fd, v)
		}
	}
}

// list reads a list field.
func (r *reader) list(path string, n *yaml.Node, list protoreflect.List, fd protoreflect.FieldDescriptor, depth int) {
	if n.Kind != yaml.SequenceNode {
		r.problem(n, path, fmt.Sprintf("%s where a list belongs", describe(n)), "begin each entry with a dash: "+r.example(fd))
		return
	}
	for i, item := range n.Content {
		if r.full() {
			return
		}
		at := fmt.Sprintf("%s[%d]", path, i)
		r.note(at, item)
		switch {
		case !r.ordinary(at, item):
		case isNull(item):
			r.problem(item, at, "an empty entry", "give it a value, or take the dash out")
		case fd.Message() != nil:
			r.message(at, item, list.AppendMutable().Message(), depth+1)
		default:
			if v, ok := r.scalar(at, item, fd); ok {
				list.Append(v)
			}
		}
	}
}

// mapField reads a map field whose keys are names of the caller's choosing.
func (r *reader) mapField(path string, n *yaml.Node, into protoreflect.Map, fd protoreflect.FieldDescriptor, depth int) {
	if n.Kind != yaml.MappingNode {
		r.problem(n, path, fmt.Sprintf("%s where a map of names to values belongs", describe(n)), "write it as: "+r.example(fd))
		return
	}
	for _, p := range r.pairs(path, n) {
		if r.full() {
			return
		}
		at := join(path, p.key.Value)
		r.note(at, p.key)
		if !r.ordinary(at, p.value) {
			continue
		}
		if isNull(p.value) {
			r.problem(p.key, at, "no value follows", "give it one, or take the line out")
			continue
		}
		key := protoreflect.ValueOfString(p.key.Value).MapKey()
		if fd.MapValue().Message() != nil {
			r.message(at, p.value, into.Mutable(key).Message(), depth+1)
		} else if v, ok := r.scalar(at, p.value, fd.MapValue()); ok {
			r.note(at, p.value)
			into.Set(key, v)
		}
	}
}

// isMap tells whether a map stands where a message belongs.
func (r *reader) isMap(path string, n *yaml.Node, d protoreflect.MessageDescriptor) bool {
	if n.Kind == yaml.MappingNode {
		return true
	}
	next := "write a map with any of: " + strings.Join(fieldNames(d), ", ")
	if n.Kind == yaml.SequenceNode {
		next = "take out the dash; " + next
	}
	r.problem(n, path, fmt.Sprintf("%s where a map belongs", describe(n)), next)
	return false
}

// pairs gives the pairs of a map whose keys are plain names, each once.
func (r *reader) pairs(path string, n *yaml.Node) []pair {
	first := map[string]*yaml.Node{}
	var all []pair
	for i := 0; i+1 < len(n.Content) && !r.full(); i += 2 {
		key := n.Content[i]
		switch {
		case !r.ordinary(path, key):
			continue
		case key.Kind != yaml.ScalarNode:
			r.problem(key, path, fmt.Sprintf("%s as a key", describe(key)), "a key is a plain name")
			continue
		case key.Value == "":
			r.problem(key, path, "an empty key", "write the name of a field before the colon")
			continue
		}
		at := join(path, key.Value)
		if earlier := first[key.Value]; earlier != nil {
			r.problem(key, at, fmt.Sprintf("this key stands twice, first on line %d", earlier.Line), "keep the one you mean")
			continue
		}
		first[key.Value] = key
		all = append(all, pair{key, n.Content[i+1]})
	}
	return all
}

// ordinary refuses what YAML can do beyond plain data.
func (r *reader) ordinary(path string, n *yaml.Node) bool {
	switch {
	case n.Kind == yaml.ScalarNode && n.Value == "<<" && !quoted(n):
		r.problem(n, path, "a merge key (<<)", "write the fields out")
	case n.Kind == yaml.AliasNode:
		r.problem(n, path, fmt.Sprintf("an alias (*%s)", n.Value), "write the value out; "+r.kind().noun+"s have no anchors and aliases")
	case n.Anchor != "":
		r.problem(n, path, fmt.Sprintf("an anchor (&%s)", n.Anchor), "take it out; "+r.kind().noun+"s have no anchors and aliases")
	case n.Style&yaml.TaggedStyle != 0:
		r.problem(n, path, fmt.Sprintf("a tag (%s)", n.Tag), "take it out; the field says what kind of value it holds")
	default:
		return true
	}
	return false
}

func (r *reader) note(path string, n *yaml.Node) {
	r.places.at[path] = place{n.Line, n.Column, r.files[n]}
}

func join(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

// isNull tells whether nothing stands where a value belongs.
func isNull(n *yaml.Node) bool {
	return n.Kind == yaml.ScalarNode && n.ShortTag() == "!!null"
}

func quoted(n *yaml.Node) bool {
	return n.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle|yaml.LiteralStyle|yaml.FoldedStyle) != 0
}

// describe says in words what stands at a node.
func describe(n *yaml.Node) string {
	switch n.Kind {
	case yaml.MappingNode:
		return "a map"
	case yaml.SequenceNode:
		return "a list"
	default:
		return shown(n.Value)
	}
}
