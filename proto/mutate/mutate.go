// Package mutate changes protobuf messages as a tape of bytes says. It is for
// fuzz targets and linked into nothing else.
//
// Random changes to the bytes of a message mostly break a length somewhere, and
// what no longer parses tests the parser of the protobuf library alone. So a
// fuzz target here takes two byte strings: the encoded message, which the
// fuzzer changes as it likes, and a tape, whose bytes choose fields and values
// by the message's own descriptor. Both are kept where they reach new code. A
// new field of a message is reached without a change here.
//
// The edits are bounded in number, depth and growth, so that a tape cannot buy
// minutes with a few bytes.
package mutate

import (
	"encoding/binary"
	"math"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
)

// Bounds of what one tape may do.
const (
	maxEdits = 24
	maxDepth = 12
	maxItems = 64
)

// numbers are values at which arithmetic and range checks turn.
var numbers = []float64{
	math.NaN(), math.Inf(1), math.Inf(-1), math.Copysign(0, -1), 0, 1, -1, 2, 5, 10, 33, 50, 95, 99.9999, 100, 100.0001, 120, 200,
	0.05, 0.3, 0.33, 0.5, 0.98, 1.5, 1e-9, 1e-6, 1e-3, 1e4, 1e6, 1e7, 1e9, 1e12, 1e100, math.MaxFloat64, -math.MaxFloat64,
	math.SmallestNonzeroFloat64, 2.2250738585072014e-308, math.MaxInt64,
}

// texts are words that readers trip over; those of the subject come from the
// caller.
var texts = []string{
	"", " ", "a", "a,b", "\x00", "\x1b[31m", "é", "\u202e", "0", "-1", "1e9", "12.50", "12,50", "0.000", "NaN", "null", "true", "../x", "%s%n",
	"a-very-long-name-a-very-long-name-a-very-long-name-a-very-long-name-a-very-long-name",
}

// Apply carries out the edits of a tape. Words are texts that mean something
// to the reader of the message, such as ids. The same message, tape and words
// give the same result.
func Apply(m proto.Message, tape []byte, words []string) {
	e := &editor{tape: tape, words: words}
	for range maxEdits {
		if len(e.tape) == 0 {
			return
		}
		e.message(m.ProtoReflect(), 0)
	}
}

type editor struct {
	tape  []byte
	words []string
}

// next takes a byte; an empty tape goes on with zeros.
func (e *editor) next() int {
	if len(e.tape) == 0 {
		return 0
	}
	b := e.tape[0]
	e.tape = e.tape[1:]
	return int(b)
}

// message changes one field of a message, or of one below it. Two times in
// three the field is one that is set, since changes to what is there reach
// further than one more lonely field.
func (e *editor) message(m protoreflect.Message, depth int) {
	fields := m.Descriptor().Fields()
	if fields.Len() == 0 || depth > maxDepth {
		return
	}
	choice := e.next()
	fd := fields.Get(choice / 3 % fields.Len())
	if choice%3 > 0 {
		var set []protoreflect.FieldDescriptor
		for i := range fields.Len() {
			if m.Has(fields.Get(i)) {
				set = append(set, fields.Get(i))
			}
		}
		if len(set) > 0 {
			fd = set[choice/3%len(set)]
		}
	}
	switch {
	case fd.IsMap():
		e.entry(m.Mutable(fd).Map(), fd)
	case fd.IsList():
		e.list(m.Mutable(fd).List(), fd, depth)
	case fd.Message() != nil:
		switch op := e.next(); {
		case op < 16:
			m.Clear(fd)
		case op < 32:
			m.Set(fd, m.NewField(fd)) // there, and empty
		default:
			e.message(m.Mutable(fd).Message(), depth+1)
		}
	default:
		if op := e.next(); op < 16 {
			m.Clear(fd)
		} else {
			m.Set(fd, e.scalar(fd))
		}
	}
}

// list changes one item, or adds, doubles, takes out or swaps one.
func (e *editor) list(l protoreflect.List, fd protoreflect.FieldDescriptor, depth int) {
	op, at := e.next(), e.next()
	n := l.Len()
	switch {
	case n == 0 || op < 24 && n < maxItems:
		if fd.Message() == nil {
			l.Append(e.scalar(fd))
			return
		}
		e.message(l.AppendMutable().Message(), depth+1)
	case op < 48 && n < maxItems: // the same once more
		x := l.Get(at % n)
		if fd.Message() != nil {
			x = protoreflect.ValueOfMessage(proto.Clone(x.Message().Interface()).ProtoReflect())
		}
		l.Append(x)
	case op < 64: // the last takes its place
		l.Set(at%n, l.Get(n-1))
		l.Truncate(n - 1)
	case fd.Message() != nil:
		e.message(l.Get(at%n).Message(), depth+1)
	default:
		l.Set(at%n, e.scalar(fd))
	}
}

// entry sets or takes out an entry of a map.
func (e *editor) entry(m protoreflect.Map, fd protoreflect.FieldDescriptor) {
	op := e.next()
	key := e.scalar(fd.MapKey()).MapKey()
	switch {
	case op < 16:
		m.Clear(key)
	case m.Len() >= maxItems:
	case fd.MapValue().Message() != nil:
		e.message(m.Mutable(key).Message(), maxDepth)
	default:
		m.Set(key, e.scalar(fd.MapValue()))
	}
}

// scalar draws a value of a field's kind.
func (e *editor) scalar(fd protoreflect.FieldDescriptor) protoreflect.Value {
	b := e.next()
	switch fd.Kind() {
	case protoreflect.DoubleKind:
		return protoreflect.ValueOfFloat64(e.number(b))
	case protoreflect.FloatKind:
		return protoreflect.ValueOfFloat32(float32(e.number(b)))
	case protoreflect.StringKind:
		return protoreflect.ValueOfString(e.text(b))
	case protoreflect.BytesKind:
		return protoreflect.ValueOfBytes([]byte(e.text(b)))
	case protoreflect.BoolKind:
		return protoreflect.ValueOfBool(b%2 == 0)
	case protoreflect.EnumKind:
		return protoreflect.ValueOfEnum(protoreflect.EnumNumber(b%(fd.Enum().Values().Len()+2) - 1)) // one below, one above
	case protoreflect.Int32Kind, protoreflect.Sint32Kind, protoreflect.Sfixed32Kind:
		return protoreflect.ValueOfInt32(int32(e.whole(b)))
	case protoreflect.Uint32Kind, protoreflect.Fixed32Kind:
		return protoreflect.ValueOfUint32(uint32(e.whole(b)))
	case protoreflect.Int64Kind, protoreflect.Sint64Kind, protoreflect.Sfixed64Kind:
		return protoreflect.ValueOfInt64(int64(e.whole(b)))
	default:
		return protoreflect.ValueOfUint64(e.whole(b))
	}
}

// number is one of the list, a small decimal, or any eight bytes.
func (e *editor) number(b int) float64 {
	switch {
	case b < 128:
		return numbers[b%len(numbers)]
	case b < 224:
		return float64(e.next()) * math.Pow10(b%8-4)
	}
	return math.Float64frombits(e.whole(255))
}

// whole is a small number, or any eight bytes.
func (e *editor) whole(b int) uint64 {
	if b < 192 {
		return uint64(b % 16)
	}
	var raw [8]byte
	e.tape = e.tape[copy(raw[:], e.tape):]
	return binary.LittleEndian.Uint64(raw[:])
}

func (e *editor) text(b int) string {
	if at := b % (len(texts) + len(e.words)); at >= len(texts) {
		return e.words[at-len(texts)]
	} else {
		return texts[at]
	}
}
