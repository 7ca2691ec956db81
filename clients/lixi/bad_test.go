package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"
)

// badFolder is absolute, since rows are run in folders of their own.
var badFolder = func() string {
	folder, err := filepath.Abs("../../testdata/bad")
	if err != nil {
		panic(err)
	}
	return folder + string(filepath.Separator)
}()

// badKinds are the kinds of bad input that the table must hold; each row names its own.
var badKinds = []string{
	"wrong unit", "mixed units", "shares that do not sum", "zero mass", "negative mass", "NaN", "infinity", "denormal", "duplicate",
	"unknown name", "ambiguous name", "a thousand fats", "a thousand fats and one", "a 5 MB file", "deep YAML", "anchors that explode",
	"tab", "BOM", "CRLF", "truncated file", "impossible lye", "alkali by the spoon", "discount without reference", "two alkali statements",
	"superfat of 120 %", "superfat of 0.05", "percent against fraction", "decimal comma", "currency mix",
}

// TestBadInput puts every row of testdata/bad to both doors and compares the refusals, word by word. The format is
// described in testdata/bad/README.md. LIXI_UPDATE=1 writes what is answered now and fails, so that a person reads the
// difference before it becomes the new wording.
func TestBadInput(t *testing.T) {
	doors := openDoors(t)
	seen, rows := map[string]int{}, 0
	files, err := filepath.Glob(badFolder + "*.txtar")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		archive, err := txtar.ParseFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if len(archive.Files)%3 != 0 {
			t.Fatalf("%s: %d sections; a row has three", file, len(archive.Files))
		}
		for i := 0; i < len(archive.Files); i += 3 {
			r, err := parseRow(archive.Files[i])
			if err != nil {
				t.Fatalf("%s: %s: %v", file, archive.Files[i].Name, err)
			}
			rows++
			for _, kind := range r.kinds {
				seen[kind]++
			}
			t.Run(strings.TrimSuffix(filepath.Base(file), ".txtar")+"/"+r.name, func(t *testing.T) {
				yaml, grpc := doors.knock(t, r)
				compareSection(t, &archive.Files[i+1], "lixi", yaml)
				compareSection(t, &archive.Files[i+2], "grpc", grpc)
			})
		}
		if os.Getenv("LIXI_UPDATE") == "1" {
			if err := os.WriteFile(file, txtar.Format(archive), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	t.Logf("%d rows", rows)
	if rows < 80 {
		t.Errorf("%d rows", rows)
	}
	for _, kind := range badKinds {
		if seen[kind] == 0 {
			t.Errorf("no row is of the kind %q", kind)
		}
		delete(seen, kind)
	}
	for kind := range seen {
		t.Errorf("a row is of the kind %q, which is not listed", kind)
	}
}

// compareSection compares what a door answered with what the table expects, and takes it over.
func compareSection(t *testing.T, section *txtar.File, door, got string) {
	t.Helper()
	if section.Name != door {
		t.Fatalf("the section %q stands where %q belongs", section.Name, door)
	}
	if want := string(section.Data); got != want {
		t.Errorf("%s: got\n%swant\n%s", door, got, want)
		section.Data = []byte(got)
	}
}

// TestTableNoticesAChange: a word, a place or a code that differs fails.
func TestTableNoticesAChange(t *testing.T) {
	doors := openDoors(t)
	r, err := parseRow(txtar.File{Name: "row", Data: []byte("#: change\n  alkali: {superfat_pct: 120}\n")})
	if err != nil {
		t.Fatal(err)
	}
	yaml, grpc := doors.knock(t, r)
	for _, part := range []string{"recipe.yaml:6:26: recipe.alkali.superfat_pct: 120 % is outside"} {
		if !strings.Contains(yaml, part) {
			t.Errorf("%q is not in %q", part, yaml)
		}
	}
	if want := "Formulate INVALID_ARGUMENT INVALID_REQUEST\nrecipe.alkali.superfat_pct OUT_OF_RANGE, the same words\n"; grpc != want {
		t.Errorf("got %q, want %q", grpc, want)
	}
	r.text = strings.Replace(r.text, "120", "5", 1)
	if yaml, grpc := doors.knock(t, r); yaml != "accepted\n" || grpc != "Formulate OK\n" {
		t.Errorf("a sound recipe is answered with %q and %q", yaml, grpc)
	}
}
