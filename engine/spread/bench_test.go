package spread

import "testing"

var (
	sink     float64
	sinkOdds Odds
)

// BenchmarkInterval is the whole of one verdict: the 95 % interval and two
// probabilities, for a batch of six fats.
func BenchmarkInterval(b *testing.B) {
	m := fourteen().model()
	if len(m.Sources) < 14 {
		b.Fatalf("%d sources", len(m.Sources))
	}
	b.ReportAllocs()
	for b.Loop() {
		sinkOdds = m.Odds(0.95)
	}
}

func BenchmarkSmallBatch(b *testing.B) {
	m := worked(50, 1).model()
	b.ReportAllocs()
	for b.Loop() {
		sinkOdds = m.Odds(0.95)
	}
}

// BenchmarkEvaluation is one probability of a prepared model.
func BenchmarkEvaluation(b *testing.B) {
	var s shape
	s.prepare(fourteen().model())
	b.ReportAllocs()
	for b.Loop() {
		sink, _ = s.below(1)
	}
}

func BenchmarkPrepare(b *testing.B) {
	m := fourteen().model()
	for b.Loop() {
		var s shape
		s.prepare(m)
		sink = s.low
	}
}

func TestDoesNotAllocate(t *testing.T) {
	m := fourteen().model()
	buf := make([]Contribution, 0, len(m.Sources))
	if n := testing.AllocsPerRun(100, func() {
		sinkOdds = m.Odds(0.95)
		sink = m.Below(0) + m.Quantile(0.1) + m.Uncertainty()
		buf = m.Contributions(buf[:0])
	}); n != 0 {
		t.Errorf("%v allocations", n)
	}
}
