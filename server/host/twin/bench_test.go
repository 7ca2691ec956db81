package twin_test

import (
	"context"
	"sync"
	"testing"
	"time"

	"lixivium.example/engine"
	"lixivium.example/plugins/sdk/inprocess"
	additivev1 "lixivium.example/proto/lixivium/additive/v1"
	"lixivium.example/server/host"
)

// four are doses of four different plugins.
func four(set *inprocess.Set, n int) *engine.AdjustQuestion {
	q := &engine.AdjustQuestion{FatPct: map[string]float64{"olive-oil": 60, "coconut-oil": 40}}
	seen := map[string]bool{"acids": true}
	for _, a := range set.Additives() {
		if seen[a.Plugin.Name] {
			continue
		}
		seen[a.Plugin.Name] = true
		m := map[string]float64{}
		for _, p := range a.Parameters {
			m[p.Name] = p.Default
		}
		pct := a.LowOfFatsPct + float64(n)*1e-7
		q.Doses = append(q.Doses, engine.DoseView{ID: "dose-" + a.ID, Additive: a.ID, OfFatsPct: pct, OfPortionFatsPct: pct, Stage: a.UsualStage, Parameters: m})
	}
	return q
}

func must(b *testing.B, a *engine.AdjustAnswer, err error) {
	if err != nil || len(a.Failures) > 0 || len(a.Adjustments) != 4 {
		b.Fatalf("got %+v, %v", a, err)
	}
}

// BenchmarkHost measures questions to the host beside their floors.
func BenchmarkHost(b *testing.B) {
	lines, set := five(b)
	ctx := context.Background()
	h := start(b, lines, 0)
	one := four(set, 0)
	one.Doses = one.Doses[:1]
	b.Run("remembered, one plugin", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if a, err := h.Adjust(ctx, one); err != nil || len(a.Adjustments) != 1 {
				b.Fatalf("got %+v, %v", a, err)
			}
		}
	})
	b.Run("remembered, four plugins", func(b *testing.B) {
		b.ReportAllocs()
		q := four(set, 0)
		for b.Loop() {
			a, err := h.Adjust(ctx, q)
			must(b, a, err)
		}
	})
	// Times of single answers, so that one that is asked again does not count.
	b.Run("remembered, four plugins, median", func(b *testing.B) {
		q := four(set, 0)
		var times []time.Duration
		for b.Loop() {
			began := time.Now()
			a, err := h.Adjust(ctx, q)
			times = append(times, time.Since(began))
			must(b, a, err)
		}
		b.ReportMetric(float64(median(times).Nanoseconds()), "ns-median")
	})
	n := 0
	b.Run("asked, one plugin", func(b *testing.B) {
		for b.Loop() {
			n++
			q := four(set, n)
			q.Doses = q.Doses[:1]
			if a, err := h.Adjust(ctx, q); err != nil || len(a.Adjustments) != 1 {
				b.Fatalf("got %+v, %v", a, err)
			}
		}
	})
	b.Run("asked, four plugins", func(b *testing.B) {
		for b.Loop() {
			n++
			a, err := h.Adjust(ctx, four(set, n))
			must(b, a, err)
		}
	})
	b.Run("in this process, four plugins", func(b *testing.B) {
		for b.Loop() {
			n++
			a, err := set.Adjust(ctx, four(set, n))
			must(b, a, err)
		}
	})
	b.Run("review remembered, four plugins", func(b *testing.B) {
		b.ReportAllocs()
		batch := &engine.ReviewBatch{Doses: four(set, 0).Doses, Formulation: settled()}
		for b.Loop() {
			if a, err := h.Review(ctx, batch); err != nil || len(a.Failures) > 0 {
				b.Fatalf("got %+v, %v", a, err)
			}
		}
	})
	b.Run("review asked, four plugins", func(b *testing.B) {
		batch := &engine.ReviewBatch{Doses: four(set, 0).Doses, Formulation: settled()}
		for b.Loop() {
			batch.Formulation.Totals.FatsG++
			if a, err := h.Review(ctx, batch); err != nil || len(a.Failures) > 0 {
				b.Fatalf("got %+v, %v", a, err)
			}
		}
	})
	b.Run("bare, four empty calls", func(b *testing.B) {
		var clients []additivev1.AdditiveServiceClient
		for _, l := range lines[1:] {
			clients = append(clients, bare(b, l.File))
		}
		for b.Loop() {
			var wait sync.WaitGroup
			for _, c := range clients {
				wait.Go(func() {
					if _, err := c.Adjust(ctx, &additivev1.AdjustRequest{}); err != nil {
						b.Error(err)
					}
				})
			}
			wait.Wait()
		}
	})
	b.Run("start of five, to the first answer", func(b *testing.B) {
		for b.Loop() {
			g, err := host.New(host.Config{Plugins: lines, RunFolder: shortFolder(b)})
			if err != nil {
				b.Fatal(err)
			}
			if err := g.StartAll(ctx); err != nil {
				b.Fatal(err)
			}
			a, err := g.Adjust(ctx, four(set, 0))
			must(b, a, err)
			b.StopTimer()
			if err := g.Close(ctx); err != nil {
				b.Fatal(err)
			}
			b.StartTimer()
		}
	})
	var resident uint64
	for _, p := range h.Health() {
		resident += p.ResidentBytes
	}
	b.Logf("five plugins hold %d MiB", resident>>20)
}
