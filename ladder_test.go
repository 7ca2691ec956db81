// Package lixivium_test holds what must be true of the tree as a whole: who may import whom, and how long a file may get.
package lixivium_test

import (
	"fmt"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
)

const module = "lixivium.example"

// decimals is the one library outside the standard library that the engine may use, for money.
const decimals = "github.com/cockroachdb/apd/v3"

// messages is the generated code of the front-end API. Inside the server only messagePackages see it: everywhere else
// the engine's own types are spoken.
const messages = "proto/lixivium/v1"

var messagePackages = []string{"server/app", "server/cmd", "server/policy", "server/translate"}

// impure are the standard packages, each with what is below it, that would give the engine a clock, chance, a file, a
// socket or the machine it runs on.
var impure = []string{
	"C", "crypto/rand", "database", "expvar", "io/ioutil", "log", "math/rand", "net", "os", "plugin", "runtime",
	"syscall", "testing", "time", "unsafe",
}

// edge is one import: both ends by their path below the module, or imported by its full path when it is not ours.
type edge struct {
	importer, imported string
	ours               bool
}

// objection says why an import is not allowed, or nothing when it is.
func objection(e edge) string {
	if e.ours && below(e.imported, "proto/mutate") {
		return "proto/mutate is for fuzz targets, which are tests"
	}
	switch top, _, _ := strings.Cut(e.importer, "/"); top {
	case "engine":
		return engineObjection(e)
	case "server":
		return serverObjection(e)
	case "proto":
		return unless(!e.ours, "generated code stands alone")
	case "plugins":
		return pluginObjection(e)
	case "clients":
		return clientObjection(e)
	}
	return "this folder has no place on the ladder"
}

func engineObjection(e edge) string {
	switch {
	case e.ours:
		return unless(below(e.imported, "engine"), "the engine imports nothing of ours outside engine/")
	case below(e.imported, decimals):
		return ""
	case strings.Contains(firstElement(e.imported), "."):
		return "the engine uses the standard library and " + decimals + " only"
	}
	return unless(!belowAny(e.imported, impure), "the engine has no clock, chance, file, socket or machine")
}

func serverObjection(e edge) string {
	switch {
	case !e.ours:
		return ""
	case below(e.imported, messages):
		return unless(belowAny(e.importer, messagePackages), "messages stop at "+strings.Join(messagePackages, ", "))
	}
	return unless(belowAny(e.imported, []string{"engine", "server", "proto", "clients/web"}),
		"the server imports engine, proto and clients/web only")
}

func pluginObjection(e edge) string {
	allowed := []string{"plugins/sdk", ownFolder(e.importer)}
	switch {
	case !e.ours:
		return ""
	case below(e.importer, "plugins/sdk/inprocess"):
		allowed = append(allowed, "proto/lixivium/additive", "engine")
	case below(e.importer, "plugins/sdk"), below(e.importer, "plugins/conform"):
		allowed = append(allowed, "proto/lixivium/additive")
	case below(e.imported, "plugins/sdk/inprocess"):
		return "a plugin runs in its own process; plugins/sdk/inprocess is for embedders"
	}
	return unless(belowAny(e.imported, allowed), "a plugin imports plugins/sdk and its own folder only")
}

func clientObjection(e edge) string {
	allowed := []string{messages, ownFolder(e.importer)}
	if below(e.importer, "clients/lixi") {
		allowed = append(allowed, "server/app")
	}
	if below(e.importer, "clients/web") {
		allowed = []string{"clients/web"}
	}
	return unless(!e.ours || slices.Contains(allowed, e.imported) || below(e.imported, ownFolder(e.importer)),
		"a client imports "+strings.Join(allowed, ", ")+" only")
}

func unless(allowed bool, reason string) string {
	if allowed {
		return ""
	}
	return reason
}

func firstElement(importPath string) string {
	first, _, _ := strings.Cut(importPath, "/")
	return first
}

// ownFolder gives the two outermost folders: "clients/lixi" for "clients/lixi/sheet".
func ownFolder(pkg string) string {
	parts := strings.SplitN(pkg, "/", 3)
	return strings.Join(parts[:min(2, len(parts))], "/")
}

func below(pkg, folder string) bool {
	return pkg == folder || strings.HasPrefix(pkg, folder+"/")
}

func belowAny(pkg string, folders []string) bool {
	return slices.ContainsFunc(folders, func(folder string) bool { return below(pkg, folder) })
}

// goFiles calls visit with every Go file of the module, whatever its build tags. Hidden folders, testdata and built
// files are no part of it.
func goFiles(tree fs.FS, visit func(name string, source []byte) error) error {
	return fs.WalkDir(tree, ".", func(name string, entry fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case entry.IsDir() && name != "." && (strings.HasPrefix(entry.Name(), ".") || entry.Name() == "testdata" || name == "bin"):
			return fs.SkipDir
		case entry.IsDir() || path.Ext(name) != ".go":
			return nil
		}
		source, err := fs.ReadFile(tree, name)
		if err != nil {
			return err
		}
		return visit(name, source)
	})
}

// objections reads the imports of every file that is not a test and answers what the ladder forbids, and how many
// imports it looked at in each top folder.
func objections(tree fs.FS) (found []string, seen map[string]int, err error) {
	seen = map[string]int{}
	err = goFiles(tree, func(name string, source []byte) error {
		if strings.HasSuffix(name, "_test.go") {
			return nil
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, source, parser.ImportsOnly)
		if err != nil {
			return err
		}
		for _, spec := range file.Imports {
			imported, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				return fmt.Errorf("%s: import %s: %w", name, spec.Path.Value, err)
			}
			e := edge{importer: path.Dir(name), imported: imported}
			e.imported, e.ours = strings.CutPrefix(imported, module+"/")
			seen[firstElement(e.importer)]++
			if reason := objection(e); reason != "" {
				found = append(found, fmt.Sprintf("%s imports %q: %s", name, imported, reason))
			}
		}
		return nil
	})
	return found, seen, err
}

func TestImportLadder(t *testing.T) {
	found, seen, err := objections(os.DirFS("."))
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range found {
		t.Error(text)
	}
	for _, folder := range []string{"engine", "server", "proto", "clients"} {
		if seen[folder] == 0 {
			t.Errorf("no import was read below %s/: the ladder looked in the wrong place", folder)
		}
	}
}

func TestLadderRefusesABrokenTree(t *testing.T) {
	tree := fstest.MapFS{
		"engine/lye/lye.go":      {Data: []byte("package lye\nimport _ \"lixivium.example/server/app\"\n")},
		"engine/lye/lye_test.go": {Data: []byte("package lye\nimport _ \"os\"\n")},
		"engine/lye/tagged.go":   {Data: []byte("//go:build wasip1\n\npackage lye\nimport _ \"time\"\n")},
		"tools/tool.go":          {Data: []byte("package main\nimport \"fmt\"\n")},
	}
	found, _, err := objections(tree)
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"engine/lye/lye.go", "engine/lye/tagged.go", "tools/tool.go"}
	if len(found) != len(want) {
		t.Fatalf("got %q, want one objection for each of %q", found, want)
	}
	for i, name := range want {
		if !strings.HasPrefix(found[i], name+" imports ") {
			t.Errorf("objection %d is %q, want it to name %s", i, found[i], name)
		}
	}
}

func TestLadderRules(t *testing.T) {
	ours := func(importer, imported string) edge { return edge{importer, imported, true} }
	foreign := func(importer, imported string) edge { return edge{importer, imported, false} }
	allowed := []edge{
		foreign("engine", "math"), foreign("engine/fat", "embed"), foreign("engine/fat", "io/fs"),
		foreign("engine/money", decimals), ours("engine/settle", "engine/fat"), ours("engine", "engine/settle"),
		ours("server/app", "engine"), ours("server/app", "proto/lixivium/v1"), ours("server/translate", "proto/lixivium/v1"),
		ours("server/cmd/lixiviumd", "proto/lixivium/v1"), ours("server/host", "proto/lixivium/additive/v1"),
		ours("server/listen", "clients/web"), foreign("server/listen", "net"), foreign("server/app", "google.golang.org/grpc"),
		ours("plugins/sodium-lactate", "plugins/sdk"), ours("plugins/sodium-lactate", "plugins/sodium-lactate/rules"),
		ours("plugins/sdk", "proto/lixivium/additive/v1"), ours("plugins/sdk/inprocess", "engine"),
		ours("plugins/conform", "proto/lixivium/additive/v1"),
		ours("clients/lixi", "server/app"), ours("clients/lixi", "clients/lixi/sheet"), ours("clients/lixi/sheet", "proto/lixivium/v1"),
		foreign("clients/lixi", "os"), foreign("proto/lixivium/v1", "google.golang.org/protobuf/proto"),
	}
	for _, e := range allowed {
		if reason := objection(e); reason != "" {
			t.Errorf("%s imports %s was refused: %s", e.importer, e.imported, reason)
		}
	}
	refused := []edge{
		foreign("engine", "os"), foreign("engine", "os/exec"), foreign("engine", "net"), foreign("engine", "net/http"),
		foreign("engine", "time"), foreign("engine", "math/rand"), foreign("engine", "math/rand/v2"),
		foreign("engine", "crypto/rand"), foreign("engine", "syscall"), foreign("engine", "io/ioutil"),
		foreign("engine", "google.golang.org/protobuf/proto"), foreign("engine", "gonum.org/v1/gonum/stat"),
		ours("engine", "proto/lixivium/v1"), ours("engine/fat", "server/app"), ours("engine", "plugins/sdk"),
		ours("engine", "enginex"),
		ours("server/app", "plugins/sdk"), ours("server/app", "clients/lixi"), ours("server/config", "proto/lixivium/v1"),
		ours("server/application", "proto/lixivium/v1"),
		ours("plugins/sodium-lactate", "engine"), ours("plugins/sodium-lactate", "proto/lixivium/additive/v1"),
		ours("plugins/sodium-lactate", "plugins/salt"), ours("plugins/sodium-lactate", "plugins/sdk/inprocess"),
		ours("plugins/sdk", "engine"), ours("plugins/sdk", "proto/lixivium/v1"), ours("plugins/conform", "server/app"),
		ours("clients/lixi", "engine"), ours("clients/lixi", "server/translate"), ours("clients/lixi", "server/app/inner"),
		ours("clients/lixi/sheet", "engine/unit"), ours("clients/web", "proto/lixivium/v1"), ours("clients/watch", "server/app"),
		ours("server/app", "proto/mutate"), ours("proto/lixivium/additive/v1", "proto/lixivium/v1"), ours("proto/lixivium/v1", "engine"),
		foreign(".", "fmt"), foreign("tools", "fmt"),
	}
	for _, e := range refused {
		if objection(e) == "" {
			t.Errorf("%s imports %s was allowed", e.importer, e.imported)
		}
	}
}
