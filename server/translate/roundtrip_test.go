package translate

import (
	"fmt"
	"reflect"
	"slices"
	"testing"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
	"pgregory.net/rapid"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// TestRecipeRoundTrip draws recipes of every shape the contract allows. A
// field that one direction forgets is lost on the way and found; that every
// field was drawn is checked at the end.
func TestRecipeRoundTrip(t *testing.T) {
	roundTrips(t, &lixiviumv1.Recipe{}, checkRoundTrip)
}

// TestFitRoundTrip does the same for sizes.
func TestFitRoundTrip(t *testing.T) {
	roundTrips(t, &lixiviumv1.Fit{}, func(t *rapid.T, drawn map[protoreflect.FullName]bool) {
		m := &lixiviumv1.Fit{}
		drawMessage(t, m.ProtoReflect(), drawn, 0)
		var r reader
		if back := fitMessage(r.fit(m)); len(r.wrong) > 0 || !proto.Equal(m, back) {
			t.Fatalf("lost on the way:\nsent %v\nback %v, %v", m, back, r.wrong)
		}
	})
}

// roundTrips draws until every field of a message was drawn.
func roundTrips(t *testing.T, of proto.Message, one func(*rapid.T, map[protoreflect.FullName]bool)) {
	drawn := map[protoreflect.FullName]bool{}
	all := fieldsBelow(of.ProtoReflect().Descriptor(), map[protoreflect.FullName]bool{})
	missing := func() []protoreflect.FullName {
		return slices.DeleteFunc(slices.Clone(all), func(f protoreflect.FullName) bool { return drawn[f] })
	}
	// One round draws most fields, a few rounds all of them.
	for round := 0; round < 50 && (round == 0 || len(missing()) > 0); round++ {
		rapid.Check(t, func(t *rapid.T) { one(t, drawn) })
	}
	for _, name := range missing() {
		t.Errorf("%s was never drawn, so nothing is known about it", name)
	}
}

func checkRoundTrip(t *rapid.T, drawn map[protoreflect.FullName]bool) {
	m := &lixiviumv1.Recipe{}
	drawMessage(t, m.ProtoReflect(), drawn, 0)

	var r reader
	first := r.recipe(m)
	if len(r.wrong) > 0 {
		t.Fatalf("a well-formed recipe is refused: %v", r.wrong)
	}
	back := recipeMessage(first)
	if !proto.Equal(m, back) {
		t.Fatalf("lost on the way:\nsent %v\nback %v", m, back)
	}
	if second := r.recipe(back); !reflect.DeepEqual(first, second) {
		t.Fatalf("engine recipe differs:\n%+v\n%+v", first, second)
	}
}

// alwaysThere are the messages that the engine holds as plain values: absent
// and empty are the same to it, and say the same.
var alwaysThere = map[protoreflect.FullName]bool{
	"lixivium.v1.Recipe.alkali":             true,
	"lixivium.v1.Recipe.process":            true,
	"lixivium.v1.Recipe.vessels":            true,
	"lixivium.v1.CustomFat.sv_mg_koh_per_g": true,
}

// drawMessage sets fields to values that are neither absent nor zero.
func drawMessage(t *rapid.T, m protoreflect.Message, drawn map[protoreflect.FullName]bool, depth int) {
	d := m.Descriptor()
	set := func(f protoreflect.FieldDescriptor) {
		drawn[f.FullName()] = true
		switch {
		case f.IsMap():
			for i := range rapid.IntRange(1, 3).Draw(t, "entries") {
				m.Mutable(f).Map().Set(protoreflect.ValueOfString(fmt.Sprint("key", i)).MapKey(), drawScalar(t, f.MapValue()))
			}
		case f.IsList():
			for range rapid.IntRange(1, 3).Draw(t, "elements") {
				drawMessage(t, m.Mutable(f).List().AppendMutable().Message(), drawn, depth+1)
			}
		case f.Message() != nil:
			drawMessage(t, m.Mutable(f).Message(), drawn, depth+1)
		default:
			m.Set(f, drawScalar(t, f))
		}
	}
	for i := range d.Oneofs().Len() {
		o := d.Oneofs().Get(i)
		if o.IsSynthetic() {
			continue
		}
		members := o.Fields().Len()
		// A quantity without its unit is refused, and is tested elsewhere.
		least := -1
		if d.Name() == "Quantity" {
			least = 0
		}
		choice := rapid.IntRange(least, members-1).Draw(t, string(o.Name()))
		if choice < 0 {
			continue
		}
		if f := o.Fields().Get(choice); f.Name() != "premix" || depth < 4 {
			set(f)
		}
	}
	for i := range d.Fields().Len() {
		f := d.Fields().Get(i)
		if o := f.ContainingOneof(); o != nil && !o.IsSynthetic() {
			continue
		}
		if alwaysThere[f.FullName()] || rapid.Bool().Draw(t, string(f.Name())) {
			set(f)
		}
	}
}

func drawScalar(t *rapid.T, f protoreflect.FieldDescriptor) protoreflect.Value {
	name := string(f.Name())
	switch f.Kind() {
	case protoreflect.DoubleKind:
		v := rapid.Float64().Draw(t, name)
		if v == 0 && !f.HasPresence() {
			v = 1 // zero is absent; minus zero as well
		}
		return protoreflect.ValueOfFloat64(v)
	case protoreflect.StringKind:
		return protoreflect.ValueOfString(rapid.StringN(1, 12, -1).Draw(t, name))
	case protoreflect.BoolKind:
		return protoreflect.ValueOfBool(true)
	case protoreflect.Uint32Kind:
		return protoreflect.ValueOfUint32(rapid.Uint32Range(1, 1<<31-1).Draw(t, name))
	case protoreflect.EnumKind:
		return protoreflect.ValueOfEnum(protoreflect.EnumNumber(rapid.IntRange(1, f.Enum().Values().Len()-1).Draw(t, name)))
	}
	panic("the contract has a new kind of field: " + f.Kind().String())
}

// fieldsBelow lists every field of a message and of all it can hold.
func fieldsBelow(d protoreflect.MessageDescriptor, seen map[protoreflect.FullName]bool) []protoreflect.FullName {
	if seen[d.FullName()] || d.IsMapEntry() {
		return nil
	}
	seen[d.FullName()] = true
	var names []protoreflect.FullName
	for i := range d.Fields().Len() {
		f := d.Fields().Get(i)
		names = append(names, f.FullName())
		if f.Message() != nil {
			names = append(names, fieldsBelow(f.Message(), seen)...)
		}
	}
	return names
}

// TestUnknownFieldsAreTolerated: what a newer client adds does not disturb.
func TestUnknownFieldsAreTolerated(t *testing.T) {
	m := &lixiviumv1.FormulateRequest{Recipe: &lixiviumv1.Recipe{Name: "x"}}
	want := Formulate(m)
	m.Recipe.ProtoReflect().SetUnknown(protoreflect.RawFields{0xf8, 0x7f, 0x01}) // field 2047, varint 1
	if got := Formulate(m); !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v, want %+v", got, want)
	}
}
