package engine_test

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
)

// figure is a number somewhere in an answer or a recipe.
type figure struct {
	path  string
	value float64
}

// figures lists every floating-point number of a value with its place, fields
// nobody exports included.
func figures(v any) []figure {
	var out []figure
	walk(reflect.ValueOf(v), "", func(path string, leaf reflect.Value) {
		if leaf.CanFloat() {
			out = append(out, figure{path, leaf.Float()})
		}
	})
	return out
}

// walk visits the leaves of a value in a fixed order.
func walk(v reflect.Value, path string, visit func(string, reflect.Value)) {
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			walk(v.Elem(), path, visit)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			walk(v.Field(i), path+"."+v.Type().Field(i).Name, visit)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			walk(v.Index(i), fmt.Sprintf("%s[%d]", path, i), visit)
		}
	case reflect.Map:
		keys := v.MapKeys()
		slices.SortFunc(keys, func(a, b reflect.Value) int { return strings.Compare(a.String(), b.String()) })
		for _, k := range keys {
			walk(v.MapIndex(k), path+"["+k.String()+"]", visit)
		}
	default:
		visit(path, v)
	}
}

// notFinite gives the place of a number that is none, or "".
func notFinite(v any) string {
	for _, f := range figures(v) {
		if math.IsNaN(f.value) || math.IsInf(f.value, 0) {
			return f.path
		}
	}
	return ""
}

// describe prints what of a value is set, for failures.
func describe(v any) string {
	var b strings.Builder
	walk(reflect.ValueOf(v), "", func(path string, leaf reflect.Value) {
		if !leaf.IsZero() {
			fmt.Fprintf(&b, "%s = %v\n", path, leaf)
		}
	})
	return b.String()
}
