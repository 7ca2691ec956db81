package recipefile

import (
	"fmt"
	"path"
	"path/filepath"
	"slices"

	"go.yaml.in/yaml/v3"
	"google.golang.org/protobuf/reflect/protoreflect"
)

// Keys of a variant: a file that names a base and states only what differs.
//
//	recipe_format: 1
//	variant_of: kitchen-bar.yaml
//	changes:
//	  recipe:
//	    alkali: {superfat_pct: 8}
//
// Changes are laid over the base field by field; lists whose entries have an id
// are laid over entry by entry, other lists are replaced. `remove: true` takes
// the entry of an id out. Choosing one of several ways to state a thing takes
// the base's way out.
const (
	variantKey = "variant_of"
	changesKey = "changes"
	removeKey  = "remove"
	idField    = "id"
)

// Opener reads the file that a variant names, by its path from the variant.
type Opener func(name string) ([]byte, error)

// variant gives the pairs of a file, with those of its base below where it names
// one.
func (r *reader) variant(pairs []pair, d protoreflect.MessageDescriptor) []pair {
	var base, changes *pair
	for i := range pairs {
		switch pairs[i].key.Value {
		case variantKey:
			base = &pairs[i]
		case changesKey:
			changes = &pairs[i]
		}
	}
	if base == nil {
		return pairs
	}
	for _, p := range pairs {
		if p.key.Value != variantKey && p.key.Value != changesKey {
			r.problem(p.key, p.key.Value, "this key stands beside "+variantKey, "put it under `changes:`, which is laid over the base")
		}
	}
	switch {
	case changes == nil:
		r.problem(base.key, variantKey, "a variant without changes", "write what differs under `changes:`")
		return nil
	case !r.ordinary(changesKey, changes.value) || !r.isMap(changesKey, changes.value, d):
		return nil
	}
	below, ok := r.base(base.value, d)
	if !ok {
		return nil
	}
	return r.overlay("", below, r.pairs("", changes.value), d, 1)
}

// base reads the pairs of the file that a variant names.
func (r *reader) base(n *yaml.Node, d protoreflect.MessageDescriptor) ([]pair, bool) {
	switch {
	case !r.ordinary(variantKey, n):
		return nil, false
	case n.Kind != yaml.ScalarNode || !filepath.IsLocal(n.Value):
		r.problem(n, variantKey, describe(n)+" is no file beside this one", "write the path of the base from this file, such as kitchen-bar.yaml, in this folder or below")
		return nil, false
	case r.open == nil:
		r.problem(n, variantKey, "a base cannot be read here", "write the recipe out in one file")
		return nil, false
	}
	data, err := r.open(n.Value)
	if err != nil {
		r.problem(n, variantKey, fmt.Sprintf("the base %s cannot be read", shown(n.Value)), "write the path of the base from this file; the file must be there")
		return nil, false
	}
	b := &reader{file: path.Join(path.Dir(filepath.ToSlash(r.file)), filepath.ToSlash(n.Value)), places: r.places}
	var pairs []pair
	if root := b.document(data); root != nil && b.ordinary("", root) && b.isMap("", root, d) {
		pairs = b.takeFormat(root)
		r.belongs(root, b.file)
	}
	for _, p := range pairs {
		if p.key.Value == variantKey {
			r.problem(n, variantKey, fmt.Sprintf("the base %s is itself a variant", shown(n.Value)), "name its own base, and lay its changes over here")
			return nil, false
		}
	}
	for _, p := range b.problems {
		p.File = b.file
		r.add(p)
	}
	r.more = r.more || b.more
	return pairs, len(b.problems) == 0
}

// belongs notes which file the nodes of a base come from.
func (r *reader) belongs(n *yaml.Node, file string) {
	if r.files == nil {
		r.files = map[*yaml.Node]string{}
	}
	r.files[n] = file
	for _, x := range n.Content { // aliases have no content
		r.belongs(x, file)
	}
}

// overlay lays pairs over those of a base, as fields of one message.
func (r *reader) overlay(at string, base, over []pair, d protoreflect.MessageDescriptor, depth int) []pair {
	base = slices.DeleteFunc(slices.Clone(base), func(b pair) bool {
		return slices.ContainsFunc(over, func(p pair) bool { return excludes(d, p.key.Value, b.key.Value) })
	})
	for _, p := range over {
		below := slices.IndexFunc(base, func(b pair) bool { return b.key.Value == p.key.Value })
		if below < 0 {
			base = append(base, p)
			continue
		}
		fd := d.Fields().ByName(protoreflect.Name(p.key.Value))
		base[below] = pair{p.key, r.laid(join(at, p.key.Value), base[below].value, p.value, fd, depth)}
	}
	return base
}

// excludes tells whether a field of the base is another way to state what a
// field of the changes states.
func excludes(d protoreflect.MessageDescriptor, field, other string) bool {
	x, y := d.Fields().ByName(protoreflect.Name(field)), d.Fields().ByName(protoreflect.Name(other))
	if x == nil || y == nil || x == y {
		return false
	}
	one := x.ContainingOneof()
	return one != nil && !one.IsSynthetic() && y.ContainingOneof() == one
}

// laid is the value of a field with changes laid over it. What cannot be merged
// is replaced; whether it is well formed is for the walk to say.
func (r *reader) laid(at string, base, over *yaml.Node, fd protoreflect.FieldDescriptor, depth int) *yaml.Node {
	switch {
	case fd == nil || depth > maxDepth || base.Kind != over.Kind || !plain(base) || !plain(over):
		return over
	case fd.IsMap() && over.Kind == yaml.MappingNode:
		return r.mapping(base, keyed(r.pairs(at, base), r.pairs(at, over)))
	case fd.IsList() && over.Kind == yaml.SequenceNode && fd.Message() != nil && fd.Message().Fields().ByName(idField) != nil:
		return r.entries(at, base, over, fd.Message(), depth)
	case !fd.IsList() && fd.Message() != nil && over.Kind == yaml.MappingNode:
		return r.mapping(base, r.overlay(at, r.pairs(at, base), r.pairs(at, over), fd.Message(), depth+1))
	}
	return over
}

// plain tells whether a node can be merged: no anchor and no tag, which the walk
// refuses.
func plain(n *yaml.Node) bool { return n.Anchor == "" && n.Style&yaml.TaggedStyle == 0 }

// keyed lays the entries of a map over those of a base.
func keyed(base, over []pair) []pair {
	for _, p := range over {
		found := false
		for i := range base {
			if base[i].key.Value == p.key.Value {
				base[i], found = p, true
			}
		}
		if !found {
			base = append(base, p)
		}
	}
	return base
}

// entries lays entries over those of the same id; others are added at the end.
func (r *reader) entries(at string, base, over *yaml.Node, d protoreflect.MessageDescriptor, depth int) *yaml.Node {
	all := append([]*yaml.Node(nil), base.Content...)
	for i, x := range over.Content {
		here := fmt.Sprintf("%s[%d]", at, i)
		id := valueOf(x, idField)
		found := -1
		for j := range all {
			if b := valueOf(all[j], idField); id != nil && b != nil && b.Value == id.Value {
				found = j
			}
		}
		remove := valueOf(x, removeKey)
		switch {
		case remove != nil && (found < 0 || remove.Value != "true" || len(x.Content) != 4):
			r.problem(remove, here+"."+removeKey, "this takes out nothing of the base", "write {id: ..., remove: true} with the id of an entry of the base, and nothing else")
		case remove != nil:
			all = append(all[:found], all[found+1:]...)
		case found < 0:
			all = append(all, x)
		case !plain(all[found]) || !plain(x):
			all[found] = x
		default:
			all[found] = r.mapping(all[found], r.overlay(here, r.pairs(here, all[found]), r.pairs(here, x), d, depth+1))
		}
	}
	return &yaml.Node{Kind: yaml.SequenceNode, Content: all, Line: over.Line, Column: over.Column}
}

// valueOf is the scalar of a key in a map; nil where there is none.
func valueOf(n *yaml.Node, key string) *yaml.Node {
	if n.Kind != yaml.MappingNode {
		return nil
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key && n.Content[i+1].Kind == yaml.ScalarNode {
			return n.Content[i+1]
		}
	}
	return nil
}

// mapping is a map of pairs that stands where the base's did.
func (r *reader) mapping(base *yaml.Node, pairs []pair) *yaml.Node {
	n := &yaml.Node{Kind: yaml.MappingNode, Line: base.Line, Column: base.Column}
	for _, p := range pairs {
		n.Content = append(n.Content, p.key, p.value)
	}
	r.files[n] = r.files[base]
	return n
}
