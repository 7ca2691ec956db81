// Package twin_test compares plugin processes with the same rules in this
// process. It stands apart from package host because a program that holds the
// SDK gives its standard output away when it is started as a plugin, as the
// tests of package host are.
package twin_test

import (
	"context"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"slices"
	"sync"
	"testing"
	"time"

	"lixivium.example/engine"
	"lixivium.example/plugins/acids"
	"lixivium.example/plugins/clays"
	"lixivium.example/plugins/lactate"
	"lixivium.example/plugins/pigments"
	"lixivium.example/plugins/sdk"
	"lixivium.example/plugins/sdk/inprocess"
	"lixivium.example/plugins/sugars"
	"lixivium.example/server/host"
)

// five are our own plugins: their executables accepted as they are, and the
// same rules in this process.
func five(t testing.TB) ([]host.Line, *inprocess.Set) {
	t.Helper()
	rules := []*sdk.Plugin{acids.Plugin(), clays.Plugin(), lactate.Plugin(), pigments.Plugin(), sugars.Plugin()}
	folder := build(t, rules)
	var lines []host.Line
	base := shortFolder(t)
	for _, p := range rules {
		l, err := host.Inspect(within(t, 10*time.Second), host.Config{RunFolder: base}, filepath.Join(folder, "lixivium-"+p.Name))
		if err != nil {
			t.Fatal(err)
		}
		lines = append(lines, l)
	}
	set, err := inprocess.New(rules...)
	if err != nil {
		t.Fatal(err)
	}
	return lines, set
}

// built is the folder of the executables, made once.
var built struct {
	once   sync.Once
	folder string
	err    error
}

func TestMain(m *testing.M) {
	code := m.Run()
	_ = os.RemoveAll(built.folder)
	os.Exit(code)
}

// build gives a folder of this test's own that names the executables, since a
// test may take names away.
func build(t testing.TB, rules []*sdk.Plugin) string {
	t.Helper()
	built.once.Do(func() {
		if built.folder, built.err = os.MkdirTemp("", "lxt"); built.err != nil {
			return
		}
		args := []string{"build", "-o", built.folder + "/"}
		for _, p := range rules {
			args = append(args, "lixivium.example/plugins/"+p.Name+"/cmd/lixivium-"+p.Name)
		}
		if out, err := exec.Command("go", args...).CombinedOutput(); err != nil {
			built.err = fmt.Errorf("go build: %w\n%s", err, out)
		}
	})
	if built.err != nil {
		t.Fatal(built.err)
	}
	folder := t.TempDir()
	for _, p := range rules {
		name := "lixivium-" + p.Name
		if err := os.Link(filepath.Join(built.folder, name), filepath.Join(folder, name)); err != nil {
			t.Fatal(err)
		}
	}
	return folder
}

// start makes a host with all its plugins running.
func start(t testing.TB, lines []host.Line, timeout time.Duration) *host.Host {
	t.Helper()
	h, err := host.New(host.Config{Plugins: lines, RunFolder: shortFolder(t), CallTimeout: timeout})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := h.Close(within(t, 5*time.Second)); err != nil {
			t.Error(err)
		}
	})
	if err := h.StartAll(within(t, 10*time.Second)); err != nil {
		t.Fatal(err)
	}
	return h
}

// shortFolder is short enough for sockets, which t.TempDir is not.
func shortFolder(t testing.TB) string {
	t.Helper()
	folder, err := os.MkdirTemp("/tmp", "lxr")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = os.RemoveAll(folder) })
	return folder
}

func within(t testing.TB, d time.Duration) context.Context {
	ctx, cancel := context.WithTimeout(context.Background(), d)
	t.Cleanup(cancel)
	return ctx
}

// grid is every additive of the set at several doses, stages and carriers, and
// at the ends of its parameters.
func grid(set *inprocess.Set) []engine.DoseView {
	var out []engine.DoseView
	for _, a := range set.Additives() {
		defaults := map[string]float64{}
		for _, q := range a.Parameters {
			defaults[q.Name] = q.Default
		}
		settings := []map[string]float64{defaults}
		for _, q := range a.Parameters {
			for _, v := range []float64{q.Min, (q.Min + q.Max) / 2, q.Max} {
				m := maps.Clone(defaults)
				m[q.Name] = v
				settings = append(settings, m)
			}
		}
		for n, pct := range []float64{0.01, a.LowOfFatsPct, a.HighOfFatsPct, 3 * a.HighOfFatsPct} {
			if pct <= 0 {
				continue
			}
			for _, s := range []engine.Stage{a.UsualStage, engine.StageTrace} {
				for _, m := range settings {
					d := engine.DoseView{ID: "dose", Additive: a.ID, OfFatsPct: pct, OfPortionFatsPct: pct, Stage: s, Parameters: m}
					if n == 1 {
						d.PortionID, d.OfPortionFatsPct, d.CarrierKind, d.CarrierGPerG = "light", 3*pct, "water", 2
					}
					out = append(out, d)
				}
			}
		}
	}
	return out
}

// Processes answer what the same rules answer in this process, to the last
// bit: over a grid of doses, and through the engine.
func TestProcessesAnswerLikeTheirTwins(t *testing.T) {
	lines, set := five(t)
	h := start(t, lines, 0)
	if got, want := h.Owned(), set.Owned(); len(want) == 0 || !slices.Equal(got, want) {
		t.Errorf("owned are %v, want %v", got, want) // no plugin has started yet
	}
	for _, want := range set.Additives() {
		got, ok := h.Owner(want.ID)
		got.Plugin.Digest, want.Plugin.Digest = "", ""
		if !ok || !reflect.DeepEqual(got, want) {
			t.Errorf("%s is described as\n%+v, want\n%+v", want.ID, got, want)
		}
	}
	conditions := engine.Conditions{FatsC: engine.Some(40), LyeC: engine.Some(45), RoomC: engine.Some(20), Gel: engine.GelForce, KOHOfMolesPct: 5}
	doses := grid(set)
	for from := 0; from < len(doses); from += 20 {
		some := doses[from:min(from+20, len(doses))]
		for i := range some {
			some[i].ID = "dose-" + string(rune('a'+i))
		}
		q := &engine.AdjustQuestion{Doses: some, Conditions: conditions, FatPct: map[string]float64{"olive-oil": 100}}
		want, _ := set.Adjust(context.Background(), q)
		got, err := h.Adjust(within(t, 10*time.Second), q)
		if err != nil || len(got.Failures) > 0 || !sameAnswer(got, want) {
			t.Fatalf("Adjust from dose %d (%v):\ngot  %+v\nwant %+v", from, err, got, want)
		}
		b := &engine.ReviewBatch{Doses: some, Conditions: conditions, Formulation: settled()}
		found, _ := set.Review(context.Background(), b)
		seen, err := h.Review(within(t, 10*time.Second), b)
		if err != nil || len(seen.Failures) > 0 || len(seen.Findings) != len(found.Findings) {
			t.Fatalf("Review from dose %d (%v):\ngot  %+v\nwant %+v", from, err, seen, found)
		}
		for i := range found.Findings {
			if !reflect.DeepEqual(normal(seen.Findings[i]), normal(found.Findings[i])) {
				t.Fatalf("Review from dose %d:\ngot  %+v\nwant %+v", from, seen.Findings[i], found.Findings[i])
			}
		}
	}
	t.Logf("%d doses", len(doses))
}

func sameAnswer(a, b *engine.AdjustAnswer) bool {
	return len(a.Adjustments) == len(b.Adjustments) && len(a.Rejections) == len(b.Rejections) && len(a.FatFactors) == len(b.FatFactors) &&
		(len(a.Adjustments) == 0 || reflect.DeepEqual(a.Adjustments, b.Adjustments)) &&
		(len(a.Rejections) == 0 || reflect.DeepEqual(a.Rejections, b.Rejections)) &&
		(len(a.FatFactors) == 0 || reflect.DeepEqual(a.FatFactors, b.FatFactors))
}

// normal makes nothing and an empty list the same.
func normal(f engine.Finding) engine.Finding {
	if len(f.Subjects) == 0 {
		f.Subjects = nil
	}
	return f
}

// settled is a batch as the engine might have worked it out.
func settled() *engine.Formulation {
	f := &engine.Formulation{}
	f.Totals.FatsG, f.Alkali.NaOHPureG, f.Superfat.Pct = 1000, 138, 5
	f.Fats = []engine.FatAnswer{{FatID: "olive-oil", MassG: 1000}}
	f.Water.AskedG, f.Water.TotalG, f.Water.FreeG, f.Water.JugPurePct = 300, 310, 305, 31
	f.Behavior.TraceTimeFactor, f.Behavior.AdditiveHeatJ = 0.8, 12
	f.Portions = []engine.PortionAnswer{{PortionID: "light", BatterG: 500, FreeWaterG: 150, BatchStrengthPct: 31}, {PortionID: "dark", BatterG: 950, FreeWaterG: 155, BatchStrengthPct: 31}}
	f.Profile.Acids = []engine.AcidAmount{{Acid: "oleic", SharePct: 71}, {Acid: "palmitic", SharePct: 13}}
	return f
}
