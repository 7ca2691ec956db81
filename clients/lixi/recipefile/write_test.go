package recipefile

import (
	"strings"
	"testing"

	"google.golang.org/protobuf/proto"
	"pgregory.net/rapid"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// TestWrittenFilesReadBack: every request can be written and reads back as it
// was.
func TestWrittenFilesReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := &lixiviumv1.ScaleRequest{}
		fill(t, want.ProtoReflect(), 0)
		text, err := Write(want)
		if err != nil {
			t.Fatal(err)
		}
		got := &lixiviumv1.ScaleRequest{}
		if _, err := Read("x", []byte(text), got, nil); err != nil {
			t.Fatalf("%v in\n%s", err, text)
		}
		if !proto.Equal(got, want) {
			t.Fatalf("got %v\nwant %v\nfrom\n%s", got, want, text)
		}
	})
}

// TestWrittenFileIsReadable: short entries stand on a line, numbers as a maker
// writes them.
func TestWrittenFileIsReadable(t *testing.T) {
	m := want()
	m.Recipe.Fats[0].GetMass().Amount = &lixiviumv1.Quantity_G{G: 1234567.5}
	text, err := Write(m)
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range []string{
		"recipe_format: 1\nrecipe:\n  name: 2024 bar\n  fats:\n",
		"    - {id: olive-oil, fat: olive oil, mass: {g: 1234567.5}}\n",
		"  alkali: {superfat_pct: 5}\n",
		"balances:\n  - {step: {g: 0.1}}\n",
	} {
		if !strings.Contains(text, line) {
			t.Errorf("%q is not in\n%s", line, text)
		}
	}
}

func TestWriteRefusesUnknownValues(t *testing.T) {
	m := &lixiviumv1.FormulateRequest{Recipe: &lixiviumv1.Recipe{Process: &lixiviumv1.Process{Gel: 99}}}
	if text, err := Write(m); err == nil {
		t.Errorf("wrote %s", text)
	}
}
