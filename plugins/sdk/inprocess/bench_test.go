package inprocess_test

import (
	"testing"

	"lixivium.example/engine"
	"lixivium.example/plugins/acids"
	"lixivium.example/plugins/clays"
	"lixivium.example/plugins/lactate"
	"lixivium.example/plugins/pigments"
	"lixivium.example/plugins/sdk/inprocess"
	"lixivium.example/plugins/sugars"
)

// BenchmarkFormulate is the twin without processes: the designed bar with five
// plugins, nothing remembered.
func BenchmarkFormulate(b *testing.B) {
	set, err := inprocess.New(lactate.Plugin(), pigments.Plugin(), clays.Plugin(), sugars.Plugin(), acids.Plugin())
	if err != nil {
		b.Fatal(err)
	}
	e, r := engine.New(set), design()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := e.Formulate(b.Context(), r, engine.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
