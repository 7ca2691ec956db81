package conform_test

import (
	"context"
	"os/exec"
	"path/filepath"
	"reflect"
	"testing"

	"lixivium.example/plugins/acids"
	"lixivium.example/plugins/clays"
	"lixivium.example/plugins/conform"
	"lixivium.example/plugins/lactate"
	"lixivium.example/plugins/pigments"
	"lixivium.example/plugins/sdk"
	"lixivium.example/plugins/sugars"
)

func five() []*sdk.Plugin {
	return []*sdk.Plugin{lactate.Plugin(), pigments.Plugin(), clays.Plugin(), sugars.Plugin(), acids.Plugin()}
}

// built makes the executables of all five and gives their folder.
func built(t *testing.T) string {
	t.Helper()
	folder := t.TempDir()
	args := []string{"build", "-trimpath", "-buildvcs=false", "-o", folder + string(filepath.Separator)}
	for _, p := range five() {
		args = append(args, "lixivium.example/plugins/"+p.Name+"/cmd/lixivium-"+p.Name)
	}
	if out, err := exec.Command("go", args...).CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	return folder
}

// Every plugin as built is the plugin as written: the process answers word for
// word what the package answers. The whole kit goes through one process only,
// that of the fewest additives; the rules are tried in each package.
func TestExecutables(t *testing.T) {
	folder := built(t)
	for _, p := range five() {
		t.Run(p.Name, func(t *testing.T) {
			process := conform.Start(t, filepath.Join(folder, "lixivium-"+p.Name))
			if process.Name != p.Name || process.Version != p.Version || !reflect.DeepEqual(process.Wants, p.Wants) || !reflect.DeepEqual(process.Owns, p.Owns) {
				t.Errorf("it describes itself as %+v, want %+v", process, p)
			}
			for i := range p.Owns {
				same(t, process, p, &p.Owns[i])
			}
			if p.Name == "lactate" {
				conform.Run(t, process)
			}
		})
	}
}

// same asks the process and the package about one additive, in the middle of its
// usual dose and far above it.
func same(t *testing.T, process, p *sdk.Plugin, a *sdk.Additive) {
	t.Helper()
	values := map[string]float64{}
	for _, q := range a.Parameters {
		values[q.Name] = q.Default
	}
	for _, pct := range []float64{(a.LowOfFatsPct + a.HighOfFatsPct) / 2, 3 * a.HighOfFatsPct} {
		q := sdk.Question{Doses: []sdk.Dose{{
			ID: "d", Additive: a.ID, OfFatsPct: pct, OfPortionFatsPct: pct, Stage: a.UsualStage, Parameters: values,
		}}}
		if got, want := process.Adjust(context.Background(), q), p.Adjust(context.Background(), q); !reflect.DeepEqual(got, want) {
			t.Errorf("%s at %v %%: the process answers\n%+v\nthe package\n%+v", a.ID, pct, got, want)
		}
		b := sdk.Batch{
			FatsG: 1000, NaOHG: 140, FreeWaterG: 380, Doses: q.Doses,
			Portions: []sdk.PortionView{{FreeWaterG: 380, BatterG: 1500, BatchStrengthPct: 26.9}},
		}
		if got, want := process.Review(context.Background(), b), p.Review(context.Background(), b); !equal(got, want) {
			t.Errorf("%s at %v %%: the process finds\n%+v\nthe package\n%+v", a.ID, pct, got, want)
		}
	}
}

// equal holds no findings and an empty list for the same.
func equal(a, b []sdk.Finding) bool {
	return len(a) == 0 && len(b) == 0 || reflect.DeepEqual(a, b)
}
