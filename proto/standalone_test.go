// Package proto_test checks what the schemas promise to people who copy them.
package proto_test

import (
	"io/fs"
	"os"
	"path"
	"regexp"
	"testing"
	"testing/fstest"
)

// importLine is an import statement of a .proto file; comments start with // and cannot match.
var importLine = regexp.MustCompile(`(?m)^[ \t]*import[ \t"'].*$`)

// importsBelow gives the import statements of every .proto file, by file, and the number of files.
func importsBelow(tree fs.FS) (found map[string]string, files int, err error) {
	found = map[string]string{}
	err = fs.WalkDir(tree, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || path.Ext(name) != ".proto" {
			return err
		}
		files++
		source, err := fs.ReadFile(tree, name)
		if line := importLine.Find(source); line != nil {
			found[name] = string(line)
		}
		return err
	})
	return found, files, err
}

// The author of an additive in any language needs the one file: no well-known types, nothing of the front-end API.
func TestAdditiveContractImportsNothing(t *testing.T) {
	found, files, err := importsBelow(os.DirFS("lixivium/additive"))
	if err != nil {
		t.Fatal(err)
	}
	if files == 0 {
		t.Error("no .proto file found")
	}
	for name, line := range found {
		t.Errorf("%s: %s", name, line)
	}
}

func TestImportIsFound(t *testing.T) {
	found, files, err := importsBelow(fstest.MapFS{
		"a.proto": {Data: []byte("syntax = \"proto3\";\n\nimport \"google/protobuf/duration.proto\";\n")},
		"b.proto": {Data: []byte("syntax = \"proto3\";\n// import \"a.proto\";\nmessage Important {}\n")},
		"c.proto": {Data: []byte("import public \"a.proto\";")},
	})
	if err != nil {
		t.Fatal(err)
	}
	if files != 3 || len(found) != 2 || found["a.proto"] == "" || found["c.proto"] == "" {
		t.Errorf("got %d files and %q, want imports in a.proto and c.proto", files, found)
	}
}
