package recipefile

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
	"pgregory.net/rapid"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// TestEveryRequestCanBeWritten fills requests by their descriptor, writes them
// as YAML and reads them back: every field of the contract is a key of the
// file, and every value has a place in it.
func TestEveryRequestCanBeWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := &lixiviumv1.ReconcileWeightsRequest{}
		fill(t, want.ProtoReflect(), 0)
		var b strings.Builder
		b.WriteString("recipe_format: 1\n")
		writeFields(&b, want.ProtoReflect(), "")
		got := &lixiviumv1.ReconcileWeightsRequest{}
		places, err := Read("x", []byte(b.String()), got, nil)
		if err != nil {
			t.Fatalf("%v in\n%s", err, b.String())
		}
		if !proto.Equal(got, want) {
			t.Fatalf("got %v\nwant %v\nfrom\n%s", got, want, b.String())
		}
		lines := strings.Split(b.String(), "\n")
		for path, p := range places.at {
			if p.line < 1 || p.line > len(lines) || p.column < 1 {
				t.Fatalf("%s stands at %v", path, p)
			}
		}
	})
}

// fill sets fields of a message as a draw decides, at most one of a oneof.
func fill(t *rapid.T, m protoreflect.Message, level int) {
	fields := m.Descriptor().Fields()
	for i := range fields.Len() {
		fd := fields.Get(i)
		if !rapid.Bool().Draw(t, string(fd.Name())) || level > 6 && fd.Message() != nil {
			continue
		}
		if one := fd.ContainingOneof(); one != nil && m.WhichOneof(one) != nil {
			continue
		}
		switch {
		case fd.IsMap():
			name := protoreflect.ValueOfString(rapid.SampledFrom([]string{"olive-oil", "C18:1", "no", "1"}).Draw(t, "key"))
			m.Mutable(fd).Map().Set(name.MapKey(), value(t, fd.MapValue()))
		case fd.IsList():
			for range rapid.IntRange(1, 3).Draw(t, "entries") {
				fill(t, m.Mutable(fd).List().AppendMutable().Message(), level+1)
			}
		case fd.Message() != nil:
			fill(t, m.Mutable(fd).Message(), level+1)
		default:
			m.Set(fd, value(t, fd))
		}
	}
}

func value(t *rapid.T, fd protoreflect.FieldDescriptor) protoreflect.Value {
	switch fd.Kind() {
	case protoreflect.BoolKind:
		return protoreflect.ValueOfBool(rapid.Bool().Draw(t, "bool"))
	case protoreflect.EnumKind:
		return protoreflect.ValueOfEnum(protoreflect.EnumNumber(rapid.IntRange(1, fd.Enum().Values().Len()-1).Draw(t, "enum")))
	case protoreflect.Uint32Kind:
		return protoreflect.ValueOfUint32(rapid.Uint32().Draw(t, "count"))
	case protoreflect.StringKind:
		return protoreflect.ValueOfString(rapid.StringMatching(`[ -~äß°]{0,12}`).Draw(t, "text"))
	}
	return protoreflect.ValueOfFloat64(rapid.Float64Range(-1e300, 1e300).Draw(t, "number") + 0)
}

// writeFields writes a message as block YAML, an empty one as {}.
func writeFields(b *strings.Builder, m protoreflect.Message, indent string) {
	m.Range(func(fd protoreflect.FieldDescriptor, v protoreflect.Value) bool {
		b.WriteString(indent + string(fd.Name()) + ":")
		switch {
		case fd.IsMap():
			v.Map().Range(func(k protoreflect.MapKey, v protoreflect.Value) bool {
				fmt.Fprintf(b, "\n%s  %q: %s", indent, k.String(), word(fd.MapValue(), v))
				return true
			})
		case fd.IsList():
			for i := range v.List().Len() {
				b.WriteString("\n" + indent + "-")
				writeMessage(b, v.List().Get(i).Message(), indent+"  ")
			}
		case fd.Message() != nil:
			writeMessage(b, v.Message(), indent+"  ")
		default:
			b.WriteString(" " + word(fd, v))
		}
		b.WriteString("\n")
		return true
	})
}

func writeMessage(b *strings.Builder, m protoreflect.Message, indent string) {
	var inner strings.Builder
	writeFields(&inner, m, indent)
	if inner.Len() == 0 {
		b.WriteString(" {}")
		return
	}
	b.WriteString("\n" + strings.TrimSuffix(inner.String(), "\n"))
}

func word(fd protoreflect.FieldDescriptor, v protoreflect.Value) string {
	switch fd.Kind() {
	case protoreflect.EnumKind:
		return enumWord(fd.Enum(), fd.Enum().Values().ByNumber(v.Enum()))
	case protoreflect.StringKind:
		return "'" + strings.ReplaceAll(v.String(), "'", "''") + "'"
	case protoreflect.BoolKind:
		return strconv.FormatBool(v.Bool())
	}
	return strconv.FormatFloat(v.Float(), 'g', -1, 64)
}
