package lixivium_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"strings"
	"testing"
	"testing/fstest"

	"google.golang.org/protobuf/reflect/protoreflect"

	additivev1 "lixivium.example/proto/lixivium/additive/v1"
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// fuzzTarget is a target that must be there: its folder, its name, and the message that it must speak of.
type fuzzTarget struct{ folder, name, message string }

// neededTargets lists the targets that the services ask for. A call of the front-end service is fuzzed by its request; a
// call of a plugin by its request, as the plugin reads it, and by its answer, as the host reads it.
func neededTargets(files ...protoreflect.FileDescriptor) []fuzzTarget {
	var needed []fuzzTarget
	for _, file := range files {
		for i := range file.Services().Len() {
			calls := file.Services().Get(i).Methods()
			for j := range calls.Len() {
				call := calls.Get(j)
				request, response := string(call.Input().Name()), string(call.Output().Name())
				if file.Package() == additivev1.File_lixivium_additive_v1_additive_proto.Package() {
					needed = append(needed, fuzzTarget{"plugins/sdk", "Fuzz" + request, request}, fuzzTarget{"server/host/wire", "Fuzz" + response, response})
				} else {
					needed = append(needed, fuzzTarget{"server/app", "Fuzz" + string(call.Name()), request})
				}
			}
		}
	}
	return needed
}

// missingTargets gives those of the needed targets that a tree does not have. A target that does not name its message
// in its body is none.
func missingTargets(tree fs.FS, needed []fuzzTarget) ([]fuzzTarget, error) {
	has := map[fuzzTarget]bool{}
	err := goFiles(tree, func(name string, source []byte) error {
		if !strings.HasSuffix(name, "_test.go") {
			return nil
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, source, 0)
		if err != nil {
			return err
		}
		for _, d := range file.Decls {
			f, ok := d.(*ast.FuncDecl)
			if !ok || f.Recv != nil || !strings.HasPrefix(f.Name.Name, "Fuzz") {
				continue
			}
			ast.Inspect(f.Body, func(n ast.Node) bool {
				if s, ok := n.(*ast.SelectorExpr); ok {
					has[fuzzTarget{path.Dir(name), f.Name.Name, s.Sel.Name}] = true
				}
				return true
			})
		}
		return nil
	})
	var missing []fuzzTarget
	for _, t := range needed {
		if !has[t] {
			missing = append(missing, t)
		}
	}
	return missing, err
}

// TestEveryCallIsFuzzed: a new call of either service needs a fuzz target.
func TestEveryCallIsFuzzed(t *testing.T) {
	needed := neededTargets(
		lixiviumv1.File_lixivium_v1_formulation_service_proto, lixiviumv1.File_lixivium_v1_catalog_service_proto,
		additivev1.File_lixivium_additive_v1_additive_proto,
	)
	if len(needed) < 17 {
		t.Errorf("%d targets are needed, so the services were not read", len(needed))
	}
	missing, err := missingTargets(os.DirFS("."), needed)
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range missing {
		t.Errorf("%s has no fuzz target %s that puts a %s to the test", m.folder, m.name, m.message)
	}
}

func TestMissingTargetsAreFound(t *testing.T) {
	needed := []fuzzTarget{{"a", "FuzzOne", "OneRequest"}, {"a", "FuzzTwo", "TwoRequest"}, {"a", "FuzzThree", "ThreeRequest"}}
	tree := fstest.MapFS{
		"a/one_test.go":   {Data: []byte("package a\nfunc FuzzOne(f *testing.F) { use(&v1.OneRequest{}) }\n")},
		"a/two_test.go":   {Data: []byte("package a\nfunc FuzzTwo(f *testing.F) { use(&v1.OneRequest{}) }\n")},
		"b/three_test.go": {Data: []byte("package b\nfunc FuzzThree(f *testing.F) { use(&v1.ThreeRequest{}) }\n")},
	}
	missing, err := missingTargets(tree, needed)
	if err != nil || len(missing) != 2 || missing[0].name != "FuzzTwo" || missing[1].name != "FuzzThree" {
		t.Errorf("missing %v, %v", missing, err)
	}
}

// TestServicesAreAllRead: a service in a new file is not forgotten.
func TestServicesAreAllRead(t *testing.T) {
	services := 0
	for _, folder := range []string{"proto/lixivium/v1", "proto/lixivium/additive/v1"} {
		err := fs.WalkDir(os.DirFS("."), folder, func(name string, entry fs.DirEntry, err error) error {
			if err == nil && path.Ext(name) == ".proto" {
				source, err := os.ReadFile(name)
				services += strings.Count(string(source), "\nservice ")
				return err
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if services != 3 {
		t.Errorf("the protos have %d services; TestEveryCallIsFuzzed looks at 3", services)
	}
}
