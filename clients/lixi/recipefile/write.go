package recipefile

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"go.yaml.in/yaml/v3"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
)

// widestEntry is the longest entry that is written on one line, in characters.
const widestEntry = 100

// Write gives the file that Read fills the same request from. Numbers are the
// shortest decimals that read back to the same value.
func Write(m proto.Message) (string, error) {
	root := &yaml.Node{Kind: yaml.MappingNode}
	add(root, formatKey, &yaml.Node{Kind: yaml.ScalarNode, Value: strconv.Itoa(Format)})
	fields, err := messageNode(m.ProtoReflect())
	if err != nil {
		return "", err
	}
	fields.Style = 0
	root.Content = append(root.Content, fields.Content...)
	for i := 3; i < len(root.Content); i += 2 {
		root.Content[i].Style = 0 // what the file is about stands line by line
	}
	var b bytes.Buffer
	encoder := yaml.NewEncoder(&b)
	encoder.SetIndent(2)
	if err := encoder.Encode(root); err != nil {
		return "", err
	}
	return b.String(), encoder.Close()
}

func add(to *yaml.Node, key string, value *yaml.Node) {
	to.Content = append(to.Content, textNode(key), value)
}

// textNode is text; it gets quotes where it would read as something else, and
// escapes for what does not print, which a file may not hold as it is.
func textNode(s string) *yaml.Node {
	n := &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: s}
	if strings.ContainsFunc(s, func(r rune) bool { return !unicode.IsPrint(r) && r != '\n' }) {
		n.Style = yaml.DoubleQuotedStyle
	}
	return n
}

// messageNode writes the fields of a message that are set, in the order of the
// contract; on one line where that is short.
func messageNode(m protoreflect.Message) (*yaml.Node, error) {
	n := &yaml.Node{Kind: yaml.MappingNode}
	fields := m.Descriptor().Fields()
	for i := range fields.Len() {
		fd := fields.Get(i)
		if !m.Has(fd) {
			continue
		}
		value, err := fieldNode(fd, m.Get(fd))
		if err != nil {
			return nil, err
		}
		add(n, string(fd.Name()), value)
	}
	if onOneLine(n) {
		n.Style = yaml.FlowStyle
	}
	return n, nil
}

func fieldNode(fd protoreflect.FieldDescriptor, v protoreflect.Value) (*yaml.Node, error) {
	switch {
	case fd.IsMap():
		n := &yaml.Node{Kind: yaml.MappingNode, Style: yaml.FlowStyle}
		var keys []string
		v.Map().Range(func(k protoreflect.MapKey, _ protoreflect.Value) bool {
			keys = append(keys, k.String())
			return true
		})
		slices.Sort(keys)
		for _, k := range keys {
			value, err := scalarNode(fd.MapValue(), v.Map().Get(protoreflect.ValueOfString(k).MapKey()))
			if err != nil {
				return nil, err
			}
			add(n, k, value)
		}
		return n, nil
	case fd.IsList():
		n := &yaml.Node{Kind: yaml.SequenceNode}
		for i := range v.List().Len() {
			entry, err := messageNode(v.List().Get(i).Message())
			if err != nil {
				return nil, err
			}
			n.Content = append(n.Content, entry)
		}
		return n, nil
	case fd.Message() != nil:
		return messageNode(v.Message())
	}
	return scalarNode(fd, v)
}

func scalarNode(fd protoreflect.FieldDescriptor, v protoreflect.Value) (*yaml.Node, error) {
	text := ""
	switch fd.Kind() {
	case protoreflect.StringKind:
		return textNode(v.String()), nil
	case protoreflect.BoolKind:
		text = strconv.FormatBool(v.Bool())
	case protoreflect.EnumKind:
		value := fd.Enum().Values().ByNumber(v.Enum())
		if value == nil {
			return nil, fmt.Errorf("%s has a value that this lixi does not know", fd.Name())
		}
		text = enumWord(fd.Enum(), value)
	case protoreflect.Uint32Kind:
		text = strconv.FormatUint(v.Uint(), 10)
	case protoreflect.DoubleKind:
		if x := v.Float(); math.IsNaN(x) || math.IsInf(x, 0) {
			return nil, fmt.Errorf("%s is %v, which no file can hold", fd.Name(), x)
		}
		text = decimalText(v.Float() + 0) // minus zero is zero
	default:
		return nil, fmt.Errorf("this lixi cannot write values of kind %s", fd.Kind())
	}
	return &yaml.Node{Kind: yaml.ScalarNode, Value: text}, nil
}

// decimalText writes a number without exponent where that stays short.
func decimalText(v float64) string {
	format := byte('f')
	if a := math.Abs(v); a != 0 && (a < 1e-6 || a >= 1e15) {
		format = 'g'
	}
	return strconv.FormatFloat(v, format, -1, 64)
}

// onOneLine tells whether a map is short and holds no list.
func onOneLine(n *yaml.Node) bool {
	width := 0
	var walk func(n *yaml.Node) bool
	walk = func(n *yaml.Node) bool {
		width += len(n.Value) + 2
		for _, x := range n.Content {
			if x.Kind == yaml.SequenceNode || !walk(x) {
				return false
			}
		}
		return width <= widestEntry
	}
	return walk(n)
}
