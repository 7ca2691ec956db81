package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	"lixivium.example/clients/lixi/recipefile"
	"lixivium.example/plugins/acids"
	"lixivium.example/plugins/clays"
	"lixivium.example/plugins/lactate"
	"lixivium.example/plugins/pigments"
	"lixivium.example/plugins/sdk/inprocess"
	"lixivium.example/plugins/sugars"
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
	"lixivium.example/server/app"
)

// golden is what one demo recipe answers: every number by its place, and the
// codes of the findings.
type golden struct {
	Figures  map[string]float64 `json:"figures"`
	Findings []string           `json:"findings"`
}

const goldens = "../../testdata/golden"

// fromExpAndLog are the figures that come out of exp, log or the error function,
// whose last bits differ between machines: trace, interval, probability. All
// others are the same to the bit everywhere.
var fromExpAndLog = regexp.MustCompile(`behavior\.trace|superfat\.(low95|high95)_pct$|_probability_pct$`)

// figureTolerance is relative, for those figures.
const (
	figureTolerance = 1e-9
	leastFigure     = 1e-12
)

// demoRecipes are all recipe files, variants among them.
func demoRecipes(t *testing.T) []string {
	t.Helper()
	files, err := filepath.Glob("../../testdata/recipes/*.yaml")
	files = slices.DeleteFunc(files, func(file string) bool { return filepath.Base(file) == "prices.yaml" })
	if err != nil || len(files) < 13 {
		t.Fatalf("%d recipes, %v", len(files), err)
	}
	return files
}

// readDemo fills a request from a demo recipe and passes over what other
// requests hold.
func readDemo(t *testing.T, file string, into proto.Message) *recipefile.Places {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	open := func(base string) ([]byte, error) { return os.ReadFile(filepath.Join(filepath.Dir(file), base)) }
	places, err := recipefile.ReadVariant(open, filepath.Base(file), data, into, map[string]string{"fit": "", "actual": "", "terms": ""})
	if err != nil {
		t.Fatal(err)
	}
	return places
}

// TestFiguresOfTheDemos compares every number that the demo recipes answer with
// those kept in testdata/golden, at their own size and at that of their fit.
// LIXI_UPDATE=1 writes what is answered now and fails all the same, so that a
// person reads the difference first.
func TestFiguresOfTheDemos(t *testing.T) {
	rules, err := inprocess.New(lactate.Plugin(), pigments.Plugin(), clays.Plugin(), sugars.Plugin(), acids.Plugin())
	if err != nil {
		t.Fatal(err)
	}
	service, err := app.New(app.Options{Additives: rules})
	if err != nil {
		t.Fatal(err)
	}
	kept, err := filepath.Glob(filepath.Join(goldens, "*.json"))
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range demoRecipes(t) {
		name := strings.TrimSuffix(filepath.Base(file), ".yaml") + ".json"
		kept = slices.DeleteFunc(kept, func(path string) bool { return filepath.Base(path) == name })
		t.Run(strings.TrimSuffix(name, ".json"), func(t *testing.T) {
			compareGolden(t, filepath.Join(goldens, name), answersOf(t, service, file))
		})
	}
	for _, path := range kept {
		t.Errorf("%s belongs to no recipe", path)
	}
}

// answersOf are the figures of a recipe, and of its fit where it has one.
func answersOf(t *testing.T, service app.Service, file string) golden {
	t.Helper()
	g := golden{Figures: map[string]float64{}}
	plan := &lixiviumv1.FormulateRequest{}
	readDemo(t, file, plan)
	f, err := service.Formulate(t.Context(), plan)
	if err != nil {
		t.Fatal(err)
	}
	g.take("", f.GetFormulation().ProtoReflect())
	size := &lixiviumv1.ScaleRequest{}
	if readDemo(t, file, size); size.GetFit() != nil {
		s, err := service.Scale(t.Context(), size)
		if err != nil {
			t.Fatal(err)
		}
		again, err := service.Formulate(t.Context(), &lixiviumv1.FormulateRequest{Recipe: s.GetRecipe(), Balances: s.GetBalances()})
		if err != nil || !proto.Equal(again.GetFormulation(), s.GetFormulation()) {
			t.Errorf("the scaled recipe is answered otherwise than it was scaled: %v", err)
		}
		s.Recipe, s.Balances = nil, nil
		g.take("scaled.", s.ProtoReflect())
	}
	slices.Sort(g.Findings)
	return g
}

// take adds every number below a message that is not zero.
func (g *golden) take(at string, m protoreflect.Message) {
	if _, ok := m.Interface().(*lixiviumv1.Finding); ok {
		g.Findings = append(g.Findings, strings.TrimSuffix(at, "."))
		return // its numbers are figures of the answer in other words
	}
	m.Range(func(fd protoreflect.FieldDescriptor, v protoreflect.Value) bool {
		here := at + string(fd.Name())
		switch {
		case fd.IsMap():
		case fd.IsList() && fd.Message() != nil:
			for i := range v.List().Len() {
				entry := v.List().Get(i).Message()
				g.take(here+"["+keyOf(entry, i)+"].", entry)
			}
		case !fd.IsList() && fd.Message() != nil:
			g.take(here+".", v.Message())
		case fd.Kind() == protoreflect.DoubleKind:
			if math.Abs(v.Float()) > leastFigure { // less is zero on another machine
				g.Figures[here] = v.Float()
			}
		case fd.Kind() == protoreflect.Uint32Kind:
			g.Figures[here] = float64(v.Uint())
		}
		return true
	})
}

// keyOf names an entry of a list by its id or name where it has one.
func keyOf(m protoreflect.Message, i int) string {
	for _, name := range []protoreflect.Name{"line_id", "dose_id", "portion_id", "acid", "code", "name"} {
		if fd := m.Descriptor().Fields().ByName(name); fd != nil && m.Get(fd).String() != "" {
			return m.Get(fd).String()
		}
	}
	return fmt.Sprint(i)
}

// sameFigure compares to the bit, but for what comes out of exp and log.
func sameFigure(place string, got, kept float64) bool {
	if fromExpAndLog.MatchString(place) {
		return math.Abs(got-kept) <= figureTolerance*math.Abs(kept)+leastFigure
	}
	return math.Float64bits(got) == math.Float64bits(kept)
}

func TestOneBitIsAnotherFigure(t *testing.T) {
	next := math.Nextafter(136.87, 137)
	for place, same := range map[string]bool{
		"weigh_out[naoh].weigh_g": false, "portions[white].superfat.superfat_pct": false, "scaled.factor": false,
		"portions[white].superfat.low95_pct": true, "superfat.lye_excess_probability_pct": true, "scaled.formulation.behavior.trace.thin.low": true,
	} {
		if sameFigure(place, next, 136.87) != same {
			t.Errorf("%s: one bit more counts as the same: %v", place, !same)
		}
	}
	if sameFigure("superfat.low95_pct", 3.1184, 3.1185) {
		t.Error("the ends of intervals may be anything")
	}
}

func compareGolden(t *testing.T, file string, got golden) {
	t.Helper()
	var want golden
	data, err := os.ReadFile(file)
	if err == nil {
		err = json.Unmarshal(data, &want)
	} else if errors.Is(err, fs.ErrNotExist) {
		t.Errorf("%s is not there", file)
		err = nil
	}
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Figures) < 100 {
		t.Errorf("only %d figures", len(got.Figures))
	}
	for _, place := range slices.Sorted(maps.Keys(want.Figures)) {
		v, ok := got.Figures[place]
		if w := want.Figures[place]; !ok || !sameFigure(place, v, w) {
			t.Errorf("%s is %.17g (answered: %v), kept is %.17g", place, v, ok, w)
		}
	}
	for _, place := range slices.Sorted(maps.Keys(got.Figures)) {
		if _, ok := want.Figures[place]; !ok {
			t.Errorf("%s is new: %.12g", place, got.Figures[place])
		}
	}
	if !slices.Equal(got.Findings, want.Findings) {
		t.Errorf("findings %q, kept are %q", got.Findings, want.Findings)
	}
	if t.Failed() && os.Getenv("LIXI_UPDATE") == "1" {
		text, err := json.MarshalIndent(got, "", " ")
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, append(text, '\n'), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
