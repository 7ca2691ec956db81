package engine_test

import (
	"context"
	"testing"

	"lixivium.example/engine"
)

// watcher owns nothing and watches one fat.
type watcher struct{ asked, reviewed int }

func (w *watcher) Owner(string) (engine.AdditiveInfo, bool) { return engine.AdditiveInfo{}, false }
func (w *watcher) WatchedFats() []string                    { return []string{"beeswax"} }
func (w *watcher) Adjust(_ context.Context, q *engine.AdjustQuestion) (*engine.AdjustAnswer, error) {
	w.asked++
	return &engine.AdjustAnswer{FatFactors: []engine.FatFactor{{Fat: "beeswax", TraceTime: engine.Band{Low: 0.4, Typical: 0.5, High: 0.7}}}}, nil
}
func (w *watcher) Review(context.Context, *engine.ReviewBatch) (*engine.ReviewAnswer, error) {
	w.reviewed++
	return &engine.ReviewAnswer{Findings: []engine.Finding{{Code: "waxes/seen", Severity: engine.Note}}}, nil
}

// A watched fat is shown to its watcher in a recipe without a single dose, and
// another recipe is not.
func TestWatchedFats(t *testing.T) {
	for wax, want := range map[string]int{"beeswax": 1, "carnauba-wax": 0} {
		w := &watcher{}
		r := bar()
		r.Fats = append(r.Fats, engine.FatLine{ID: "wax", Fat: wax, Mass: engine.InGrams(20)})
		f, err := engine.New(w).Formulate(context.Background(), r, engine.Options{IncludeWorksheet: true})
		if err != nil {
			t.Fatal(err)
		}
		if w.asked != want || w.reviewed != want {
			t.Errorf("%s: asked %d times, reviewed %d", wax, w.asked, w.reviewed)
		}
		if got := f.Behavior.TraceTimeFactor; (got == 0.5) != (want == 1) {
			t.Errorf("%s: trace time times %v", wax, got)
		}
		checkSheet(t, f.Worksheet)
	}
}
