package host

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/rs/zerolog"
	"go.uber.org/goleak"

	"lixivium.example/engine"
)

// TestMain lets the test's executable be a plugin and a host in a process of
// its own.
func TestMain(m *testing.M) {
	switch {
	case os.Getenv(cookieKey) != "":
		runPlugin()
		return
	case os.Getenv(hostChildKey) != "":
		runHostChild()
		return
	}
	folder, err := os.MkdirTemp("", "lxt")
	if err != nil {
		panic(err)
	}
	builds.folder = folder
	goleak.VerifyTestMain(m, goleak.Cleanup(func(code int) {
		_ = os.RemoveAll(folder)
		os.Exit(code)
	}))
}

// builds holds the executables of all tests; the same script is written once.
var builds struct {
	sync.Mutex
	folder string
	made   map[string]Line
}

// build writes a test plugin and gives the line that accepts it as it is.
func build(t testing.TB, s script) Line {
	t.Helper()
	if s.Name == "" {
		s.Name = "clays"
	}
	if s.Version == "" {
		s.Version = "1"
	}
	if s.Owns == nil && s.Watches == nil {
		s.Owns = []string{"kaolin"}
	}
	if s.Wants == nil {
		s.Wants = []string{"water", "trace", "heat", "findings"}
	}
	key, _ := json.Marshal(s)
	builds.Lock()
	defer builds.Unlock()
	if l, ok := builds.made[string(key)]; ok {
		return l
	}
	own, err := os.Open("/proc/self/exe")
	if err != nil {
		t.Fatal(err)
	}
	defer own.Close()
	l := Line{Name: s.Name, File: filepath.Join(builds.folder, fmt.Sprintf("plugin%d", len(builds.made))), Additives: s.Owns, WatchesFats: s.Watches}
	for _, g := range s.Wants {
		l.Grants = append(l.Grants, engine.Grant(g))
	}
	out, err := os.OpenFile(l.File, os.O_CREATE|os.O_WRONLY|os.O_EXCL, 0o700)
	if err != nil {
		t.Fatal(err)
	}
	h := sha256.New()
	if _, err := io.Copy(io.MultiWriter(out, h), io.MultiReader(own, bytes.NewReader(s.tail()))); err != nil {
		t.Fatal(err)
	}
	if err := out.Close(); err != nil {
		t.Fatal(err)
	}
	l.SHA256 = hex.EncodeToString(h.Sum(nil))
	if builds.made == nil {
		builds.made = map[string]Line{}
	}
	builds.made[string(key)] = l
	return l
}

// runBase is a short folder for run folders; it must be empty at the end.
func runBase(t testing.TB) string {
	t.Helper()
	base, err := os.MkdirTemp("/tmp", "lxr")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		left, err := os.ReadDir(base)
		if err != nil || len(left) > 0 {
			t.Errorf("left in the run folder: %v %v", left, err)
		}
		_ = os.RemoveAll(base)
	})
	return base
}

// newHost makes a host that is closed at the end, quickly and without a trace.
func newHost(t testing.TB, c Config, lines ...Line) *Host {
	t.Helper()
	c.Plugins = append(c.Plugins, lines...)
	if c.RunFolder == "" {
		c.RunFolder = runBase(t)
	}
	h, err := New(c)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		began := time.Now()
		if err := h.Close(context.Background()); err != nil {
			t.Error(err)
		}
		if took := time.Since(began); took > 3*time.Second {
			t.Errorf("closing took %v", took)
		}
	})
	return h
}

// started is a host with its plugins running.
func started(t testing.TB, c Config, lines ...Line) *Host {
	t.Helper()
	h := newHost(t, c, lines...)
	if err := h.StartAll(within(t, 10*time.Second)); err != nil {
		t.Fatal(err)
	}
	return h
}

func within(t testing.TB, d time.Duration) context.Context {
	ctx, cancel := context.WithTimeout(context.Background(), d)
	t.Cleanup(cancel)
	return ctx
}

// about is a question about doses of kaolin with these ids. Each id is a
// question of its own.
func about(ids ...string) *engine.AdjustQuestion {
	q := &engine.AdjustQuestion{FatPct: map[string]float64{"olive-oil": 60, "coconut-oil": 40}}
	for _, id := range ids {
		q.Doses = append(q.Doses, engine.DoseView{ID: id, Additive: "kaolin", OfFatsPct: 2, OfPortionFatsPct: 2, Stage: engine.StageTrace, Parameters: map[string]float64{"strength_pct": 60}})
	}
	return q
}

// answers asks and wants the right answer to every dose.
func answers(t testing.TB, h *Host, ids ...string) {
	t.Helper()
	a, err := h.Adjust(within(t, 10*time.Second), about(ids...))
	if err != nil {
		t.Fatal(err)
	}
	if problem := right(a, ids...); problem != "" {
		t.Fatal(problem)
	}
}

// right tells what is wrong with an answer of a plugin that behaves.
func right(a *engine.AdjustAnswer, ids ...string) string {
	if len(a.Failures) > 0 {
		return fmt.Sprintf("failures: %+v", a.Failures)
	}
	if len(a.Adjustments) != len(ids) {
		return fmt.Sprintf("%d adjustments for %d doses", len(a.Adjustments), len(ids))
	}
	for i, id := range ids {
		if x := a.Adjustments[i]; x.DoseID != id || x.WaterGPerG != 0.3 || x.BoundWaterGPerG != 2 || x.DensityGPerML != 1.2 || x.TraceTime != (engine.Band{Low: 0.8, Typical: 0.9, High: 1}) {
			return fmt.Sprintf("dose %s is answered with %+v", id, x)
		}
	}
	return ""
}

// fails asks and wants a failure with this reason, and nothing else.
func fails(t testing.TB, h *Host, reason string, ids ...string) engine.Failure {
	t.Helper()
	a, err := h.Adjust(within(t, 10*time.Second), about(ids...))
	if err != nil {
		t.Fatal(err)
	}
	if len(a.Adjustments) > 0 || len(a.Failures) != 1 {
		t.Fatalf("got %+v, want one failure", a)
	}
	f := a.Failures[0]
	if f.Reason != reason || !slices.Equal(f.DoseIDs, ids) {
		t.Fatalf("got %+v, want %s for %v", f, reason, ids)
	}
	return f
}

// health is that of the only plugin.
func health(h *Host) PluginHealth { return h.Health()[0] }

// eventually waits for a condition that comes true soon.
func eventually(t testing.TB, what string, d time.Duration, f func() bool) {
	t.Helper()
	for end := time.Now().Add(d); !f(); time.Sleep(5 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("not within %v: %s", d, what)
		}
	}
}

// logged gathers log lines.
type logged struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (l *logged) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.Write(p)
}

func (l *logged) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.String()
}

func (l *logged) logger() zerolog.Logger { return zerolog.New(l) }

func (l *logged) count(s string) int { return strings.Count(l.String(), s) }
