package twin_test

import (
	"context"
	"sync"
	"testing"
	"time"

	"google.golang.org/protobuf/proto"

	additivev1 "lixivium.example/proto/lixivium/additive/v1"
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
	"lixivium.example/server/app"
	"lixivium.example/server/listen"
)

// floor gives a prepared answer, after so many rounds of empty calls to bare
// plugins, all plugins of a round at once. No rounds: an echo.
type floor struct {
	app.Service
	answer  *lixiviumv1.FormulateResponse
	plugins []additivev1.AdditiveServiceClient
	rounds  int
}

func (f *floor) Formulate(ctx context.Context, _ *lixiviumv1.FormulateRequest) (*lixiviumv1.FormulateResponse, error) {
	for range f.rounds {
		var wait sync.WaitGroup
		var once sync.Once
		var failed error
		for _, p := range f.plugins {
			wait.Go(func() {
				if _, err := p.Adjust(ctx, &additivev1.AdjustRequest{}); err != nil {
					once.Do(func() { failed = err })
				}
			})
		}
		if wait.Wait(); failed != nil {
			return nil, failed
		}
	}
	return f.answer, nil
}

// dosed is a recipe with a dose of each of four plugins.
func dosed(n int) *lixiviumv1.FormulateRequest {
	grams := func(v float64) *lixiviumv1.Quantity {
		return &lixiviumv1.Quantity{Amount: &lixiviumv1.Quantity_G{G: v}}
	}
	q := &lixiviumv1.FormulateRequest{Recipe: &lixiviumv1.Recipe{
		Fats: []*lixiviumv1.FatLine{
			{Id: "olive", Kind: &lixiviumv1.FatLine_Fat{Fat: "olive-oil"}, Amount: &lixiviumv1.FatLine_Mass{Mass: grams(700)}},
			{Id: "coconut", Kind: &lixiviumv1.FatLine_Fat{Fat: "coconut-oil"}, Amount: &lixiviumv1.FatLine_Mass{Mass: grams(300)}},
		},
		Alkali: &lixiviumv1.Alkali{Amount: &lixiviumv1.Alkali_SuperfatPct{SuperfatPct: 5}},
		Water: &lixiviumv1.Water{Ask: &lixiviumv1.Water_Measure{Measure: &lixiviumv1.WaterMeasure{
			Measure: &lixiviumv1.WaterMeasure_LyeConcentrationPct{LyeConcentrationPct: 33}}}},
	}}
	for _, id := range []string{"sodium-lactate", "titanium-dioxide", "kaolin", "sugar"} {
		q.Recipe.Doses = append(q.Recipe.Doses, &lixiviumv1.Dose{
			Id: id, Kind: &lixiviumv1.Dose_Additive{Additive: id}, Amount: &lixiviumv1.Dose_OfFatsPct{OfFatsPct: 1 + float64(n)*1e-7},
		})
	}
	return q
}

// BenchmarkService compares Formulate with four plugins, over TCP, with an echo
// of a prepared answer and with a floor that also makes the empty plugin calls:
// one round of four, and two, since a recipe is adjusted and reviewed. All of it
// in one run, in alternating rounds.
func BenchmarkService(b *testing.B) {
	const callsARound = 100
	lines, _ := five(b)
	h := start(b, lines, 0)
	service, err := app.New(app.Options{Plugins: h})
	if err != nil {
		b.Fatal(err)
	}
	answer, err := service.Formulate(b.Context(), dosed(0))
	if err != nil {
		b.Fatal(err)
	}
	var plugins []additivev1.AdditiveServiceClient
	for _, l := range lines[1:] {
		plugins = append(plugins, bare(b, l.File))
	}
	names := []string{"echo", "floor", "floor-twice", "repeated", "distinct"}
	doors := map[string]app.Service{
		"echo":        served(b, &floor{answer: answer}),
		"floor":       served(b, &floor{answer: answer, plugins: plugins, rounds: 1}),
		"floor-twice": served(b, &floor{answer: answer, plugins: plugins, rounds: 2}),
		"repeated":    served(b, service),
	}
	doors["distinct"] = doors["repeated"]
	n := 0
	round := func(name string) float64 {
		began := time.Now()
		for range callsARound {
			q := dosed(0)
			if name == "distinct" {
				n++
				q = dosed(n)
			}
			if _, err := doors[name].Formulate(b.Context(), q); err != nil {
				b.Fatal(err)
			}
		}
		return time.Since(began).Seconds() / callsARound * 1e6
	}
	for _, name := range names {
		round(name) // connect and warm up
	}
	times := map[string][]time.Duration{}
	for b.Loop() {
		for _, name := range names {
			times[name] = append(times[name], time.Duration(round(name)*1000))
		}
	}
	us := map[string]float64{}
	for _, name := range names {
		us[name] = float64(median(times[name]).Nanoseconds()) / 1000
		b.ReportMetric(us[name], name+"-µs")
	}
	b.ReportMetric(us["echo"]/us["repeated"], "repeated-of-echo")
	b.ReportMetric(us["floor"]/us["distinct"], "distinct-of-floor")
	b.ReportMetric(us["floor-twice"]/us["distinct"], "distinct-of-floor-twice")
	b.ReportMetric(float64(proto.Size(answer)), "answer-B")
	b.ReportMetric(0, "ns/op") // of a round of all, which says nothing
}

// served puts a service behind a listener of its own and connects to it.
func served(b *testing.B, s app.Service) app.Service {
	b.Helper()
	server, err := listen.Open(b.Context(), "127.0.0.1:0", s, listen.Limits{MaxRequestBytes: 1 << 20, MaxConcurrentStreams: 128, MaxConnections: 512, CallTimeout: 10 * time.Second})
	if err != nil {
		b.Fatal(err)
	}
	go server.Serve()
	b.Cleanup(server.Stop)
	client, closer, err := app.Dial(server.Address())
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { closer.Close() })
	return client
}
