package listen

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/rs/zerolog"
	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
	"lixivium.example/server/app"
)

// benchServer set in the environment makes the test binary the server of the
// benchmark instead.
const benchServer = "LIXIVIUM_BENCH_SERVER"

func TestMain(m *testing.M) {
	if os.Getenv(benchServer) == "" {
		os.Exit(m.Run())
	}
	if err := serveBench(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// benchRequest has ten fats, two portions and one acid.
func benchRequest(worksheet bool) *lixiviumv1.FormulateRequest {
	const text = `{"recipe":{"name":"bench","alkali":{"superfat_pct":5},"water":{"measure":{"lye_concentration_pct":33}},
		"total_fats":{"g":1000},"fats":[
		{"id":"f0","fat":"olive-oil","share_of_fats_pct":25},{"id":"f1","fat":"coconut-oil","share_of_fats_pct":20},
		{"id":"f2","fat":"palm-oil","share_of_fats_pct":15},{"id":"f3","fat":"shea-butter","share_of_fats_pct":8},
		{"id":"f4","fat":"castor-oil","share_of_fats_pct":7},{"id":"f5","fat":"sweet-almond-oil","share_of_fats_pct":6},
		{"id":"f6","fat":"avocado-oil","share_of_fats_pct":6},{"id":"f7","fat":"cocoa-butter","share_of_fats_pct":5},
		{"id":"f8","fat":"argan-oil","share_of_fats_pct":5},{"id":"f9","fat":"beeswax","share_of_fats_pct":3}],
		"doses":[{"id":"acid","custom":{"name":"citric acid","alkali_mol_per_g":{"value":0.015615,"half_width":0.0001}},
			"of_fats_pct":1.5,"stage":"STAGE_WATER_BEFORE_LYE","treatment":"ALKALI_TREATMENT_ADD"}],
		"portions":[{"id":"white","share_of_base_pct":40},{"id":"green","share_of_base_pct":60}]}}`
	q := &lixiviumv1.FormulateRequest{}
	if err := protojson.Unmarshal([]byte(text), q); err != nil {
		panic(err)
	}
	q.IncludeWorksheet = worksheet
	return q
}

// echo gives a prepared answer and does nothing else.
type echo struct {
	app.Service
	answer *lixiviumv1.FormulateResponse
}

func (e *echo) Formulate(context.Context, *lixiviumv1.FormulateRequest) (*lixiviumv1.FormulateResponse, error) {
	return e.answer, nil
}

// serveBench serves the real thing and the echo, tells both addresses and
// leaves when its standard input ends.
func serveBench() error {
	discard, err := os.OpenFile(os.DevNull, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	defer discard.Close()
	// The log line is part of a call, its write included.
	service, err := app.New(app.Options{Logger: zerolog.New(discard).Level(zerolog.InfoLevel).With().Timestamp().Logger()})
	if err != nil {
		return err
	}
	answer, err := service.Formulate(context.Background(), benchRequest(os.Getenv(benchServer) == "worksheet"))
	if err != nil {
		return err
	}
	wide := Limits{MaxRequestBytes: 1 << 20, MaxConcurrentStreams: 128, MaxConnections: 512, CallTimeout: 10 * time.Second}
	for _, s := range []app.Service{service, &echo{answer: answer}} {
		server, err := Open(context.Background(), "127.0.0.1:0", s, wide)
		if err != nil {
			return err
		}
		defer server.Stop()
		go server.Serve()
		fmt.Println(server.Address())
	}
	_, err = io.Copy(io.Discard, os.Stdin)
	return err
}

// BenchmarkFormulateOverTCP compares Formulate with an echo of a prepared
// answer of the same size, from another process, in alternating rounds. The
// figure to watch is of-echo: calls a second as a share of the echo's.
func BenchmarkFormulateOverTCP(b *testing.B) {
	for _, c := range []struct {
		name      string
		worksheet bool
		atOnce    int
	}{
		{"one at a time", false, 1},
		{"32 at once", false, 32},
		{"with worksheet, 32 at once", true, 32},
	} {
		b.Run(c.name, func(b *testing.B) { benchAgainstEcho(b, c.worksheet, c.atOnce) })
	}
}

func benchAgainstEcho(b *testing.B, worksheet bool, atOnce int) {
	const callsARound = 320
	formulate, prepared := benchServices(b, worksheet)
	request := benchRequest(worksheet)
	answer, err := formulate.Formulate(b.Context(), request)
	if err != nil {
		b.Fatal(err)
	}
	round := func(s app.Service) time.Duration {
		began := time.Now()
		var callers sync.WaitGroup
		for range atOnce {
			callers.Go(func() {
				for range callsARound / atOnce {
					if _, err := s.Formulate(b.Context(), request); err != nil {
						b.Error(err)
						return
					}
				}
			})
		}
		callers.Wait()
		return time.Since(began)
	}
	round(formulate) // connect and warm up
	round(prepared)
	var real, echoed, shares []float64
	for b.Loop() {
		r, e := round(formulate), round(prepared)
		real = append(real, r.Seconds()/callsARound*1e6)
		echoed = append(echoed, e.Seconds()/callsARound*1e6)
		shares = append(shares, e.Seconds()/r.Seconds())
	}
	b.ReportMetric(median(real), "formulate-µs")
	b.ReportMetric(median(echoed), "echo-µs")
	b.ReportMetric(median(shares), "of-echo")
	b.ReportMetric(float64(proto.Size(request)), "request-B")
	b.ReportMetric(float64(proto.Size(answer)), "answer-B")
	b.ReportMetric(0, "ns/op") // of a round of both, which says nothing
}

func median(v []float64) float64 {
	slices.Sort(v)
	return v[len(v)/2]
}

// benchServices starts the servers in a child process and connects to both.
func benchServices(b *testing.B, worksheet bool) (formulate, prepared app.Service) {
	b.Helper()
	exe, err := os.Executable()
	if err != nil {
		b.Fatal(err)
	}
	child := exec.Command(exe)
	// The collector as lixiviumd sets it.
	child.Env = append(os.Environ(), "GOGC=400", benchServer+"=plain")
	if worksheet {
		child.Env = append(child.Env, benchServer+"=worksheet")
	}
	child.Stderr = os.Stderr
	lifeline, err := child.StdinPipe()
	if err != nil {
		b.Fatal(err)
	}
	out, err := child.StdoutPipe()
	if err != nil {
		b.Fatal(err)
	}
	if err := child.Start(); err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() {
		lifeline.Close()
		child.Wait()
	})
	lines := bufio.NewScanner(out)
	dialed := make([]app.Service, 2)
	for i := range dialed {
		if !lines.Scan() {
			b.Fatal("the server of the benchmark did not start")
		}
		s, closer, err := app.Dial(lines.Text())
		if err != nil {
			b.Fatal(err)
		}
		b.Cleanup(func() { closer.Close() })
		dialed[i] = s
	}
	return dialed[0], dialed[1]
}
