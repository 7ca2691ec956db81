package recipefile

import (
	"bytes"
	"errors"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"golang.org/x/tools/txtar"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// FuzzRead holds what a hostile file must not do: panic, take long, or be
// refused without a word on what to do.
func FuzzRead(f *testing.F) {
	f.Add([]byte(ordinary))
	files, err := filepath.Glob("testdata/bad/*.txtar")
	if err != nil {
		f.Fatal(err)
	}
	for _, file := range files {
		archive, err := txtar.ParseFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(archive.Files[0].Data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		began := time.Now()
		_, err := Read("x", data, &lixiviumv1.ReconcileWeightsRequest{}, nil)
		if took := time.Since(began); took > time.Second+time.Duration(len(data))*10*time.Microsecond {
			t.Errorf("%d bytes took %v", len(data), took)
		}
		var bad *Problems
		if err != nil && !errors.As(err, &bad) {
			t.Fatalf("an error of another kind: %v", err)
		}
		if bad == nil {
			return
		}
		if len(bad.List) == 0 || len(bad.List) > MaxProblems {
			t.Errorf("%d problems", len(bad.List))
		}
		lines := bytes.Count(data, []byte("\n")) + bytes.Count(data, []byte("\r")) + 2
		for i, p := range bad.List {
			if p.Text == "" || p.Next == "" || p.Line > lines || p.Line > 0 && p.Column < 1 {
				t.Errorf("%s: %+v", bad.What(i), p)
			}
			if strings.ContainsFunc(bad.What(i), func(r rune) bool { return r < ' ' }) {
				t.Errorf("control characters: %q", bad.What(i))
			}
		}
	})
}

// TestLargeFilesEndInTime reads files of the largest size in shapes that cost
// a YAML parser most. Each must end within seconds, whatever it says.
func TestLargeFilesEndInTime(t *testing.T) {
	fill := func(head, unit string) []byte {
		return []byte(head + strings.Repeat(unit, (MaxBytes-len(head))/len(unit)))
	}
	head := "recipe_format: 1\nrecipe: "
	for name, data := range map[string][]byte{
		"brackets":      fill(head, "["),
		"braces":        fill(head, "{a: "),
		"dashes":        fill("", "- "),
		"questions":     fill("", "? "),
		"comments":      fill("", "#\n"),
		"short entries": fill("recipe_format: 1\nrecipe:\n  fats:\n", "  - {}\n"),
		"empty entries": fill("recipe_format: 1\nrecipe:\n  fats:\n", "  -\n"),
		"one key":       fill("recipe_format: 1\nrecipe:\n", "  a: 1\n"),
		"long key":      fill("recipe_format: 1\nrecipe:\n  ", "k"),
		"anchors":       fill(head, "&a "),
		"aliases":       fill(head+"&a [", "*a, "),
		"quotes":        fill(head, "\""),
		"commas":        fill(head+"[", ","),
		"documents":     fill("", "---\n"),
		"block text":    fill("recipe_format: 1\nrecipe:\n  name: |\n", "    x\n"),
		"commented":     fill("recipe_format: 1\nrecipe:\n  fats:\n", "  # c\n  - {} # d\n"),
	} {
		t.Run(name, func(t *testing.T) {
			began := time.Now()
			_, err := Read("x", data, &lixiviumv1.FormulateRequest{}, nil)
			took := time.Since(began)
			if took > 10*time.Second {
				t.Errorf("took %v", took)
			}
			t.Logf("%v, %.80v", took, err)
		})
	}
}
