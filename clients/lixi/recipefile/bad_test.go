package recipefile

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"google.golang.org/protobuf/reflect/protoreflect"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// The messages themselves are held by testdata/bad, a table at the root that
// package main of clients/lixi puts to the command.

// TestProblemsAreBounded: a file with more than twenty problems tells twenty,
// and that there are more.
func TestProblemsAreBounded(t *testing.T) {
	for n := MaxProblems - 1; n <= MaxProblems+2; n++ {
		var b strings.Builder
		b.WriteString("recipe_format: 1\nrecipe:\n")
		for i := range n {
			fmt.Fprintf(&b, "  k%d: 1\n", i)
		}
		_, err := Read("recipe.yaml", []byte(b.String()), &lixiviumv1.FormulateRequest{}, nil)
		var bad *Problems
		if !errors.As(err, &bad) || len(bad.List) != min(n, MaxProblems) || bad.More != (n > MaxProblems) {
			t.Errorf("%d problems: %v", n, err)
		}
	}
}

// TestOtherUnits: a length or a temperature is converted only where its unit is
// known, and nothing is said where the unit is the field's own.
func TestOtherUnits(t *testing.T) {
	for _, c := range []struct{ field, value, word, want string }{
		{"length_mm", "10", "in", "write 254: this field is in millimeters"},
		{"length_mm", "2,5", "cm", "write 25: this field is in millimeters"},
		{"length_mm", "10", "mm", ""},
		{"length_mm", "10", "cubits", ""},
		{"fats_c", "100", "°F", "write 37.8: this field is in degrees Celsius"},
		{"fats_c", "38", "°C", ""},
		{"g", "1", "kg", "write kg: 1 in place of g"},
		{"g", "400", "grams", ""},
	} {
		m := withUnit.FindStringSubmatch(c.value + " " + c.word)
		if m == nil {
			t.Fatalf("%s %s is no number with a unit", c.value, c.word)
		}
		if got := otherUnit(protoreflect.Name(c.field), m[1], m[2]); got != c.want {
			t.Errorf("%s: %s %s: %q, want %q", c.field, c.value, c.word, got, c.want)
		}
	}
}
