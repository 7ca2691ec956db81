package recipefile

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// TestBadFiles holds the exact message for every class of bad file. Setting
// LIXI_UPDATE=1 writes what is answered now and fails, so that a person reads
// the difference before it becomes the new wording.
func TestBadFiles(t *testing.T) {
	files, err := filepath.Glob("testdata/bad/*.txtar")
	if err != nil || len(files) < 40 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txtar"), func(t *testing.T) {
			archive, err := txtar.ParseFile(file)
			if err != nil {
				t.Fatal(err)
			}
			got := messages(t, archive.Files[0].Data)
			if want := string(archive.Files[1].Data); got != want {
				t.Errorf("got:\n%swant:\n%s", got, want)
				if os.Getenv("LIXI_UPDATE") == "1" {
					archive.Files[1].Data = []byte(got)
					if err := os.WriteFile(file, txtar.Format(archive), 0o644); err != nil {
						t.Fatal(err)
					}
				}
			}
		})
	}
}

// messages reads bad data and gives what would be printed.
func messages(t *testing.T, data []byte) string {
	t.Helper()
	_, err := Read("recipe.yaml", data, &lixiviumv1.FormulateRequest{}, map[string]string{"actual": "lixi weigh reads it"})
	var bad *Problems
	if !errors.As(err, &bad) {
		t.Fatalf("no problems, but %v", err)
	}
	var b strings.Builder
	for i, p := range bad.List {
		fmt.Fprintf(&b, "%s\n  next: %s\n", bad.What(i), p.Next)
	}
	if bad.More {
		b.WriteString("and more\n")
	}
	return b.String()
}

// TestBytesThatEditorsHide covers what a text archive cannot hold.
func TestBytesThatEditorsHide(t *testing.T) {
	for name, c := range map[string]struct{ data, want string }{
		"tab":             {"recipe_format: 1\nrecipe:\n\tname: Bar\n", "recipe.yaml:3:1: a tab indents this line\n  next: indent with spaces, two a level\n"},
		"tab after space": {"recipe_format: 1\r\nrecipe:\r\n  \tname: Bar\r\n", "recipe.yaml:3:3: a tab indents this line\n  next: indent with spaces, two a level\n"},
		"broken UTF-8":    {"recipe_format: 1\nrecipe: {name: K\xe4se}\n", "recipe.yaml:2:17: a byte here is not UTF-8 text\n  next: save the file as UTF-8\n"},
		"UTF-16":          {"\xff\xfer\x00e\x00", "recipe.yaml:1:1: the file is UTF-16 text\n  next: save it as UTF-8\n"},
		"NUL":             {"recipe_format: 1\x00\n", "recipe.yaml:1:17: the control character U+0000\n  next: take it out; a recipe file is plain text\n"},
		"escape":          {"recipe_format: 1\nrecipe: {name: \x1b[31m}\n", "recipe.yaml:2:16: the control character U+001B\n  next: take it out; a recipe file is plain text\n"},
		"line separator":  {"recipe_format: 1\nrecipe: {name: a\u2028b}\n", "recipe.yaml:2:17: the line separator U+2028\n  next: put a plain line end in its place\n"},
		"too large":       {strings.Repeat("#", MaxBytes+1), "recipe.yaml: the file is larger than 1048576 bytes (1 MiB), the most a recipe file may hold\n  next: keep one recipe a file; photographs and notes belong elsewhere\n"},
	} {
		t.Run(name, func(t *testing.T) {
			if got := messages(t, []byte(c.data)); got != c.want {
				t.Errorf("got:\n%swant:\n%s", got, c.want)
			}
		})
	}
}
