package engine

import (
	"context"
	"encoding/json"
	"testing"
)

func TestSmoke(t *testing.T) {
	r := &Recipe{Name: "x", Fats: []FatLine{{ID: "olive", Fat: "olive-oil", Mass: InGrams(700)}, {ID: "coco", Fat: "coconut-oil", Mass: InGrams(300)}},
		Alkali: Alkali{SuperfatPct: Some(5), NaOH: &AlkaliStock{PurityPct: Some(98.5), HalfWidthPct: Some(0.5)}}, Water: &Water{Measure: &WaterMeasure{LyeConcentrationPct: Some(33)}}}
	f, err := New(nil).Formulate(context.Background(), r, Options{Balances: []Balance{{Step: InGrams(1)}}})
	if err != nil {
		t.Fatal(err)
	}
	b, _ := json.MarshalIndent(f, "", " ")
	t.Log(string(b))
}
func BenchmarkSmoke(b *testing.B) {
	r := &Recipe{Name: "x", Fats: []FatLine{{ID: "olive", Fat: "olive-oil", Mass: InGrams(700)}, {ID: "coco", Fat: "coconut-oil", Mass: InGrams(300)}},
		Alkali: Alkali{SuperfatPct: Some(5), NaOH: &AlkaliStock{PurityPct: Some(98.5), HalfWidthPct: Some(0.5)}}, Water: &Water{Measure: &WaterMeasure{LyeConcentrationPct: Some(33)}}}
	e := New(nil)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := e.Formulate(context.Background(), r, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
