package recipefile

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode"

	"golang.org/x/tools/txtar"
	"google.golang.org/protobuf/proto"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
	"lixivium.example/proto/mutate"
)

// Files are fuzzed as bytes, since line, column and what YAML makes of them
// matter; requests that are written as files come from a tape (package mutate).

// seed gives the fuzzer the demo files and the bad ones.
func seed(f *testing.F) {
	f.Helper()
	n := 0
	add := func(data []byte) {
		f.Add(n, data)
		n++
	}
	add([]byte(ordinary))
	add([]byte(shelf))
	add([]byte("recipe_format: 1\nvariant_of: base.yaml\nchanges:\n  recipe:\n    fats: [{id: olive-oil, remove: true}, {id: own, mass: {kg: 1}}]\n    alkali: {naoh: {purity_pct: 98}}\n"))
	add([]byte("\xef\xbb\xbfrecipe_format: 1\r\nrecipe: {name: a}\r\n"))
	files, err := filepath.Glob("../../../testdata/recipes/*.yaml")
	if err != nil || len(files) < 10 {
		f.Fatalf("%d demo files, %v", len(files), err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		add(data)
	}
	tables, err := filepath.Glob("../../../testdata/bad/file-*.txtar")
	if err != nil || len(tables) == 0 {
		f.Fatalf("%d tables of bad files, %v", len(tables), err)
	}
	for _, table := range tables {
		archive, err := txtar.ParseFile(table)
		if err != nil {
			f.Fatal(err)
		}
		for i := 0; i < len(archive.Files); i += 3 { // a row is a file and two refusals
			add(archive.Files[i].Data)
		}
	}
}

// FuzzRead holds what a hostile file must not do: panic, take long, be refused
// without a word on what to do, or be read as something that cannot be written.
// The file is read as one kind of the five there are; a variant is laid over a
// sound base.
func FuzzRead(f *testing.F) {
	seed(f)
	f.Fuzz(func(t *testing.T, kind int, data []byte) {
		began := time.Now()
		base := func(string) ([]byte, error) { return []byte(ordinary), nil }
		kinds := []proto.Message{
			&lixiviumv1.FormulateRequest{}, &lixiviumv1.ScaleRequest{}, &lixiviumv1.ReconcileWeightsRequest{}, &lixiviumv1.CostedRecipe{},
		}
		if which := uint(kind) % 5; which == 4 {
			if _, err := ReadPrices("x", data, &lixiviumv1.CostRequest{}); err != nil {
				refusedWell(t, err, data)
			}
		} else if _, err := ReadVariant(base, "x", data, kinds[which], nil); err != nil {
			refusedWell(t, err, data)
		} else {
			readsBack(t, kinds[which])
		}
		if took := time.Since(began); took > 5*time.Second+time.Duration(len(data))*50*time.Microsecond {
			t.Errorf("%d bytes took %v", len(data), took)
		}
	})
}

// FuzzVariantOfAnything lays sound changes over a base of any bytes.
func FuzzVariantOfAnything(f *testing.F) {
	seed(f)
	const changes = "recipe_format: 1\nvariant_of: base.yaml\nchanges:\n  recipe:\n    fats: [{id: olive-oil, remove: true}, {id: own, mass: {kg: 1}}]\n    alkali: {superfat_pct: 8}\n  balances: [{step: {g: 1}}]\n"
	f.Fuzz(func(t *testing.T, _ int, data []byte) {
		m := &lixiviumv1.ScaleRequest{}
		if _, err := ReadVariant(func(string) ([]byte, error) { return data, nil }, "x", []byte(changes), m, nil); err != nil {
			refusedWell(t, err, append(data, changes...))
		} else {
			readsBack(t, m)
		}
	})
}

// FuzzWrite: every request that the wire can carry is written as a file that
// reads back as it was, or refused in words. NaN and infinity no file can hold.
func FuzzWrite(f *testing.F) {
	for _, m := range []*lixiviumv1.ScaleRequest{
		{Recipe: want().GetRecipe(), Balances: want().GetBalances()},
		{Fit: &lixiviumv1.Fit{Target: &lixiviumv1.Fit_Bars{Bars: &lixiviumv1.Bars{Count: 3}}}, AllowIncomplete: true},
	} {
		message, err := proto.Marshal(m)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(message, []byte{})
		f.Add(message, []byte("0123456789abcdefghijklmnopqrstuvwxyz"))
	}
	f.Fuzz(func(t *testing.T, message, tape []byte) {
		m := &lixiviumv1.ScaleRequest{}
		if len(message) > 16<<10 || (proto.UnmarshalOptions{DiscardUnknown: true}).Unmarshal(message, m) != nil {
			return
		}
		mutate.Apply(m, tape, []string{"olive-oil", "C18:1", "# no comment", "a: b", "- x", "'", "\"", "|", "yes", "~", "1_000", "0x1f", "2025-01-14", "\n", "\t", "a\nb", "\ufeff", "\u2028", "\u0085"})
		readsBack(t, m)
	})
}

// readsBack writes a request and reads it again.
func readsBack(t *testing.T, m proto.Message) {
	t.Helper()
	text, err := Write(m)
	if err != nil {
		if err.Error() == "" || strings.ContainsFunc(err.Error(), unicode.IsControl) {
			t.Errorf("refused with %q", err)
		}
		return
	}
	again := m.ProtoReflect().New().Interface()
	if _, err := Read("x", []byte(text), again, nil); err != nil {
		t.Fatalf("%v\nin what was written:\n%s", err, text)
	}
	// A copy holds zero for minus zero, as a file does.
	if m := proto.Clone(m); !proto.Equal(m, again) {
		t.Errorf("%v is read back as %v from\n%s", m, again, text)
	}
}

// refusedWell checks that a refusal tells where, what and what to do.
func refusedWell(t *testing.T, err error, data []byte) {
	t.Helper()
	var bad *Problems
	if !errors.As(err, &bad) {
		t.Fatalf("an error of another kind: %v", err)
	}
	if len(bad.List) == 0 || len(bad.List) > MaxProblems {
		t.Errorf("%d problems", len(bad.List))
	}
	lines := bytes.Count(data, []byte("\n")) + bytes.Count(data, []byte("\r")) + 40 // a base has some too
	for i, p := range bad.List {
		if p.Text == "" || p.Next == "" || p.Line > lines || p.Line > 0 && p.Column < 1 {
			t.Errorf("%s: %+v", bad.What(i), p)
		}
		if strings.ContainsFunc(bad.What(i)+p.Next, unicode.IsControl) {
			t.Errorf("control characters: %q", bad.What(i))
		}
	}
}
