package translate

import (
	"fmt"
	"reflect"

	"lixivium.example/engine"
)

// filler fills engine values with numbers and texts that are all different and
// rise in the order of the fields, so that what comes out of a translation
// tells where it came from.
type filler struct{ next int }

const elements = 5 // as many as a Remedy has changes

func (f *filler) number() int { f.next++; return f.next }

func (f *filler) fill(v reflect.Value) {
	switch v.Type() {
	case reflect.TypeFor[engine.Optional]():
		v.Set(reflect.ValueOf(engine.Some(float64(f.number()))))
		return
	case reflect.TypeFor[engine.Quantity]():
		v.Set(reflect.ValueOf(engine.InGrams(float64(f.number()))))
		return
	case reflect.TypeFor[engine.Recipe]():
		return // premixes hold fats that hold premixes; recipes have a round trip of their own
	}
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			f.fill(v.Field(i))
		}
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		f.fill(v.Elem())
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), elements, elements))
		for i := range elements {
			f.fill(v.Index(i))
			keepChoice(v.Index(i), i)
		}
	case reflect.Map:
		v.Set(reflect.MakeMap(v.Type()))
		v.SetMapIndex(reflect.ValueOf(fmt.Sprintf("text-%06d", f.number())), reflect.ValueOf(float64(f.number())))
	case reflect.String:
		v.SetString(fmt.Sprintf("text-%06d", f.number()))
	case reflect.Float64:
		v.SetFloat(float64(f.number()))
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Int:
		if v.Type() == reflect.TypeFor[int]() {
			v.SetInt(int64(f.number()))
		} else {
			v.SetInt(1) // an enum: its first value that says something
		}
	default:
		panic("engine types have a new kind of field: " + v.Type().String())
	}
}

// keepChoice leaves one of the alternatives that a value may carry, a
// different one in each element of a list.
func keepChoice(v reflect.Value, element int) {
	var choices []string
	switch v.Type() {
	case reflect.TypeFor[engine.Remedy]():
		choices = []string{"Water", "SuperfatPct", "Dose", "Process", "RemoveLineID"}
	case reflect.TypeFor[engine.WorksheetInput]():
		choices = []string{"LineID", "RequestPath", "DataRow", "Adjustment"}
	}
	for i, name := range choices {
		if i != element%len(choices) {
			v.FieldByName(name).SetZero()
		}
	}
}

func maximal[T any]() *T {
	var v T
	(&filler{}).fill(reflect.ValueOf(&v).Elem())
	return &v
}

// fieldID names a field of an engine type.
type fieldID struct {
	owner reflect.Type
	name  string
}

// forget sets one field of a type to zero wherever the type occurs below v.
func forget(v reflect.Value, id fieldID) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			if !v.Type().Field(i).IsExported() {
				continue
			}
			if v.Type() == id.owner && v.Type().Field(i).Name == id.name {
				v.Field(i).SetZero()
				continue
			}
			forget(v.Field(i), id)
		}
	case reflect.Pointer:
		if !v.IsNil() {
			forget(v.Elem(), id)
		}
	case reflect.Slice:
		for i := range v.Len() {
			forget(v.Index(i), id)
		}
	}
}

// fieldsOf lists the fields of every engine type below t.
func fieldsOf(t reflect.Type, seen map[reflect.Type]bool) []fieldID {
	switch t.Kind() {
	case reflect.Pointer, reflect.Slice:
		return fieldsOf(t.Elem(), seen)
	case reflect.Struct:
	default:
		return nil
	}
	if seen[t] {
		return nil
	}
	seen[t] = true
	var ids []fieldID
	for i := range t.NumField() {
		if f := t.Field(i); f.IsExported() {
			ids = append(ids, fieldID{t, f.Name})
			ids = append(ids, fieldsOf(f.Type, seen)...)
		}
	}
	return ids
}
