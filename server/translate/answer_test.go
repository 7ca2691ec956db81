package translate

import (
	"reflect"
	"slices"
	"testing"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"

	"lixivium.example/engine"
)

// TestAnswersAreTotal: with every engine field filled, no field of the answer
// is left empty, and every alternative of the answer's own choices is taken.
func TestAnswersAreTotal(t *testing.T) {
	for _, m := range []proto.Message{
		Formulation(maximal[engine.Formulation]()),
		Reconciliation(maximal[engine.Reconciliation]()),
		Scaled(maximal[engine.Scaled]()),
		Swapped(maximal[engine.Swapped]()),
		WaterReferences(*maximal[[]engine.WaterReference]()),
		FindingCodes(*maximal[[]engine.FindingCode]()),
	} {
		taken := map[protoreflect.FullName]bool{}
		checkFilled(t, m.ProtoReflect(), string(m.ProtoReflect().Descriptor().Name()), taken)
		for _, d := range []protoreflect.MessageDescriptor{
			(&lixiviumv1.Remedy{}).ProtoReflect().Descriptor(),
			(&lixiviumv1.WorksheetInput{}).ProtoReflect().Descriptor(),
		} {
			members := d.Oneofs().Get(0).Fields()
			for i := range members.Len() {
				if name := members.Get(i).FullName(); taken[d.FullName()] && !taken[name] {
					t.Errorf("%s: %s is never sent", m.ProtoReflect().Descriptor().Name(), name)
				}
			}
		}
	}
}

// isRecipe: TestRecipeRoundTrip proves recipes, and here their alternatives hide
// each other.
func isRecipe(m protoreflect.Message) bool { return m.Descriptor().Name() == "Recipe" }

func checkFilled(t *testing.T, m protoreflect.Message, at string, taken map[protoreflect.FullName]bool) {
	t.Helper()
	if isRecipe(m) {
		return
	}
	d := m.Descriptor()
	taken[d.FullName()] = true
	for i := range d.Oneofs().Len() {
		if o := d.Oneofs().Get(i); m.WhichOneof(o) == nil {
			t.Errorf("%s.%s: none is set", at, o.Name())
		}
	}
	for i := range d.Fields().Len() {
		f := d.Fields().Get(i)
		if f.ContainingOneof() != nil && !m.Has(f) {
			continue
		}
		here := at + "." + string(f.Name())
		taken[f.FullName()] = true
		switch {
		case !m.Has(f):
			t.Errorf("%s is empty", here)
		case f.IsMap():
		case f.IsList() && f.Message() != nil:
			for j := range m.Get(f).List().Len() {
				checkFilled(t, m.Get(f).List().Get(j).Message(), here, taken)
			}
		case !f.IsList() && f.Message() != nil:
			checkFilled(t, m.Get(f).Message(), here, taken)
		}
	}
}

// TestAnswersAreNotMixedUp: the fields of the messages stand in the order of
// the engine's, so the rising numbers of the filler rise here too. Two fields
// that were swapped, or one that was used twice, break the order.
func TestAnswersAreNotMixedUp(t *testing.T) {
	checkOrder(t, Formulation(maximal[engine.Formulation]()).ProtoReflect(), "formulation")
	checkOrder(t, Reconciliation(maximal[engine.Reconciliation]()).ProtoReflect(), "reconciliation")
	checkOrder(t, Scaled(maximal[engine.Scaled]()).ProtoReflect(), "scaled")
	checkOrder(t, Swapped(maximal[engine.Swapped]()).ProtoReflect(), "swapped")
}

func checkOrder(t *testing.T, m protoreflect.Message, at string) {
	t.Helper()
	if isRecipe(m) {
		return
	}
	var number float64
	var text string
	fields := m.Descriptor().Fields()
	for i := range fields.Len() {
		f := fields.Get(i)
		here := at + "." + string(f.Name())
		if f.ContainingOneof() != nil && !m.Has(f) {
			continue
		}
		switch {
		case f.IsMap():
		case f.IsList():
			for j := range m.Get(f).List().Len() {
				if f.Message() != nil {
					checkOrder(t, m.Get(f).List().Get(j).Message(), here)
				}
			}
		case f.Message() != nil:
			checkOrder(t, m.Get(f).Message(), here)
		case f.Kind() == protoreflect.DoubleKind:
			if v := m.Get(f).Float(); v <= number {
				t.Errorf("%s is %g after %g: mixed up", here, v, number)
			} else {
				number = v
			}
		case f.Kind() == protoreflect.StringKind:
			if v := m.Get(f).String(); v <= text {
				t.Errorf("%s is %q after %q: mixed up", here, v, text)
			} else {
				text = v
			}
		}
	}
}

// recipeParts are the types that remedies share with recipes, of which
// TestRecipeRoundTrip proves every field; here alternatives hide each other.
func recipeParts() map[reflect.Type]bool {
	return map[reflect.Type]bool{
		reflect.TypeFor[engine.Water]():   true,
		reflect.TypeFor[engine.Dose]():    true,
		reflect.TypeFor[engine.Process](): true,
	}
}

// TestEveryEngineFieldIsSent: clearing a field of the engine's answer changes
// the message, so none was forgotten.
func TestEveryEngineFieldIsSent(t *testing.T) {
	full := Formulation(maximal[engine.Formulation]())
	for _, id := range fieldsOf(reflect.TypeFor[engine.Formulation](), recipeParts()) {
		f := maximal[engine.Formulation]()
		forget(reflect.ValueOf(f).Elem(), id)
		name := id.owner.Name() + "." + id.name
		if proto.Equal(full, Formulation(f)) {
			t.Errorf("%s is not sent", name)
		}
	}
	parts := recipeParts()
	parts[reflect.TypeFor[engine.Formulation]()] = true
	fullPlan := Reconciliation(maximal[engine.Reconciliation]())
	for _, id := range fieldsOf(reflect.TypeFor[engine.Reconciliation](), parts) {
		if id.name == "Plan" {
			continue // a reconciliation always has one
		}
		r := maximal[engine.Reconciliation]()
		forget(reflect.ValueOf(r).Elem(), id)
		name := id.owner.Name() + "." + id.name
		if proto.Equal(fullPlan, Reconciliation(r)) {
			t.Errorf("%s is not sent", name)
		}
	}
}

// TestEveryFieldOfAChangeIsSent does the same for what Scale and SwapFat answer.
func TestEveryFieldOfAChangeIsSent(t *testing.T) {
	skip := recipeParts()
	skip[reflect.TypeFor[engine.Formulation]()] = true
	skip[reflect.TypeFor[engine.Recipe]()] = true
	scaled, swapped := Scaled(maximal[engine.Scaled]()), Swapped(maximal[engine.Swapped]())
	whole := []string{"Formulation", "Before", "After", "Recipe"} // an answer always has them
	for _, id := range fieldsOf(reflect.TypeFor[engine.Scaled](), skip) {
		s := maximal[engine.Scaled]()
		if slices.Contains(whole, id.name) {
			continue
		}
		if forget(reflect.ValueOf(s).Elem(), id); proto.Equal(scaled, Scaled(s)) {
			t.Errorf("%s.%s is not sent", id.owner.Name(), id.name)
		}
	}
	for _, id := range fieldsOf(reflect.TypeFor[engine.Swapped](), skip) {
		s := maximal[engine.Swapped]()
		if slices.Contains(whole, id.name) && id.owner == reflect.TypeFor[engine.Swapped]() {
			continue
		}
		if forget(reflect.ValueOf(s).Elem(), id); proto.Equal(swapped, Swapped(s)) {
			t.Errorf("%s.%s is not sent", id.owner.Name(), id.name)
		}
	}
}

// TestNothingIsShared: changing an answer or a request in the same process
// does not reach the engine's values.
func TestNothingIsShared(t *testing.T) {
	f := maximal[engine.Formulation]()
	m := Formulation(f)
	m.MissingPlugins[0] = "changed"
	m.Findings[0].SubjectIds[0] = "changed"
	clear(m.Findings[0].Remedies[2].GetDose().Parameters)
	clear(m.Findings[0].Remedies[2].GetDose().GetCustom().FatGPerG)
	if !reflect.DeepEqual(f, maximal[engine.Formulation]()) {
		t.Error("a change of the message reached the engine's answer")
	}

	q := &lixiviumv1.Recipe{
		Fats:  []*lixiviumv1.FatLine{{Kind: &lixiviumv1.FatLine_Custom{Custom: &lixiviumv1.CustomFat{SvMgKohPerG: &lixiviumv1.Measured{}, FattyAcidPct: map[string]float64{"a": 1}}}}},
		Doses: []*lixiviumv1.Dose{{Parameters: map[string]float64{"a": 1}}},
	}
	r := (&reader{}).recipe(q)
	r.Fats[0].Custom.FattyAcidsPct["a"] = 2
	r.Doses[0].Parameters["a"] = 2
	if q.Fats[0].GetCustom().FattyAcidPct["a"] != 1 || q.Doses[0].Parameters["a"] != 1 {
		t.Error("a change of the engine's recipe reached the request")
	}
}
