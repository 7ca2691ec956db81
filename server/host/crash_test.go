package host

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"lixivium.example/engine"
)

// clock is a clock that tests move.
type clock struct {
	mu sync.Mutex
	t  time.Time
}

func (c *clock) now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.t
}

func (c *clock) pass(d time.Duration) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.t = c.t.Add(d)
}

// A plugin killed in the middle of a call costs one retry, for everybody who
// waited, and one restart.
func TestKilledMidCallCostsOneRetry(t *testing.T) {
	h := started(t, Config{}, build(t, script{}))
	var wait sync.WaitGroup
	began := time.Now()
	for i := range 5 {
		wait.Go(func() {
			a, err := h.Adjust(within(t, 10*time.Second), about(fmt.Sprintf("hold-%d", i)))
			if err != nil {
				t.Error(err)
			} else if problem := right(a, fmt.Sprintf("hold-%d", i)); problem != "" {
				t.Error(problem)
			}
		})
	}
	time.Sleep(100 * time.Millisecond)
	_ = syscall.Kill(health(h).PID, syscall.SIGKILL)
	killed := time.Now()
	wait.Wait()
	answers(t, h, "a")
	if took := time.Since(killed); took > 2*time.Second {
		t.Errorf("answers came %v after the kill", took)
	}
	if p := health(h); p.Restarts != 1 || p.LastReason != ReasonCrashed {
		t.Errorf("after %v: %+v", time.Since(began), p)
	}
}

func TestIdleCrashIsRepaired(t *testing.T) {
	h := started(t, Config{}, build(t, script{}))
	_ = syscall.Kill(health(h).PID, syscall.SIGKILL)
	eventually(t, "a restart", 2*time.Second, func() bool { return health(h).Restarts == 1 })
	answers(t, h, "a")
}

// A question that takes the plugin down twice is not asked again for ten
// minutes, and is no strike against a plugin that answers others.
func TestPoisonQuestion(t *testing.T) {
	c := &clock{t: time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)}
	h := started(t, Config{Now: c.now, MaxStrikes: 3}, build(t, script{}))
	answers(t, h, "a")
	f := fails(t, h, ReasonPoison, "panic-1")
	if !strings.Contains(f.Text, "panic: this dose is too much for me") {
		t.Errorf("the operator is told %q", f.Text)
	}
	answers(t, h, "b")
	before := health(h)
	if before.Restarts != 2 {
		t.Errorf("%d restarts, want 2", before.Restarts)
	}
	for range 5 {
		fails(t, h, ReasonPoison, "panic-1")
	}
	if after := health(h); after.Restarts != before.Restarts {
		t.Error("a poison question was asked again")
	}
	c.pass(poisonTime)
	fails(t, h, ReasonPoison, "panic-1")
	answers(t, h, "c")
	if after := health(h); after.Restarts != before.Restarts+2 {
		t.Error("a poison question was not asked again after its time")
	}
	for i := range 6 {
		fails(t, h, ReasonPoison, fmt.Sprintf("exit-%d", i))
		answers(t, h, fmt.Sprintf("d-%d", i))
	}
	if p := health(h); p.State != Ready {
		t.Errorf("questions were counted against the plugin: %+v", p)
	}
}

func TestPoisonIsBounded(t *testing.T) {
	var p poison
	now := time.Now()
	for i := range 10 * maxPoison {
		p.blame(key(i), blamesToPoison, now)
	}
	if len(p.seen) != maxPoison || len(p.order) != maxPoison {
		t.Errorf("%d and %d questions are remembered, want %d", len(p.seen), len(p.order), maxPoison)
	}
	if !p.holds(key(10*maxPoison-1), now) || p.holds(key(0), now) {
		t.Error("the oldest should be forgotten first")
	}
}

// Somebody who kills the process from outside, even twice during one question,
// does not make the question poison.
func TestKillsFromOutsideAreNotTheQuestions(t *testing.T) {
	h := started(t, Config{}, build(t, script{}))
	for range 2 {
		pid := health(h).PID
		time.AfterFunc(100*time.Millisecond, func() { _ = syscall.Kill(pid, syscall.SIGKILL) })
		time.AfterFunc(110*time.Millisecond, func() {
			for end := time.Now().Add(2 * time.Second); time.Now().Before(end); time.Sleep(time.Millisecond) {
				if next := health(h).PID; next != 0 && next != pid {
					time.Sleep(50 * time.Millisecond)
					_ = syscall.Kill(next, syscall.SIGKILL)
					return
				}
			}
		})
		fails(t, h, ReasonCrashed, "hold-1")
		eventually(t, "a restart", 2*time.Second, func() bool { return health(h).State == Ready })
	}
	answers(t, h, "hold-1")
}

// Whoever waits on the plugin while somebody's question crashes it is answered
// and not blamed.
func TestPoisonHitsNobodyElse(t *testing.T) {
	h := started(t, Config{}, build(t, script{}))
	answers(t, h, "a")
	var wait sync.WaitGroup
	for i := range 6 {
		wait.Go(func() {
			id := fmt.Sprintf("hold-%d", i)
			a, err := h.Adjust(within(t, 10*time.Second), about(id))
			if err != nil {
				t.Error(err)
			} else if problem := right(a, id); problem != "" {
				t.Error(problem)
			}
		})
	}
	time.Sleep(50 * time.Millisecond)
	fails(t, h, ReasonPoison, "panic-1")
	wait.Wait()
}

// One that crashes on everything is put out of service, although each question
// looks like poison.
func TestCrasherIsQuarantined(t *testing.T) {
	h := started(t, Config{}, build(t, script{Calls: "exit"}))
	for i := range 6 {
		a, err := h.Adjust(within(t, 10*time.Second), about(fmt.Sprint(i)))
		if err != nil || len(a.Failures) != 1 {
			t.Fatal(a, err)
		}
	}
	eventually(t, "quarantine", 3*time.Second, func() bool { return health(h).State == Quarantined })
	f := fails(t, h, ReasonQuarantined, "z")
	if !strings.Contains(f.Text, "exit status 7") || !strings.Contains(f.Text, "until the program is started anew") {
		t.Errorf("the operator is told %q", f.Text)
	}
	if _, ok := h.Owner("kaolin"); !ok {
		t.Error("what is owned is forgotten")
	}
}

// A rule that panics and is caught in the plugin leaves the process alone.
func TestCaughtPanicIsNoCrash(t *testing.T) {
	h := started(t, Config{MaxStrikes: 2}, build(t, script{}))
	pid := health(h).PID
	for range 4 {
		fails(t, h, ReasonCrashed, "rule-1")
	}
	answers(t, h, "a")
	if p := health(h); p.PID != pid || p.LastReason != ReasonCrashed {
		t.Errorf("health is %+v", p)
	}
}

// A frozen plugin costs its deadline and is replaced. go-plugin's Kill would
// wait for it for ever.
func TestFrozenPluginIsReplaced(t *testing.T) {
	h := started(t, Config{CallTimeout: 400 * time.Millisecond}, build(t, script{}))
	pid := health(h).PID
	began := time.Now()
	fails(t, h, ReasonTimeout, "freeze-1")
	if took := time.Since(began); took < 400*time.Millisecond || took > time.Second {
		t.Errorf("it cost %v, want the deadline and little more", took)
	}
	answers(t, h, "a")
	if took := time.Since(began); took > 2*time.Second {
		t.Errorf("the next answer came after %v", took)
	}
	eventually(t, "the frozen process is gone", 2*time.Second, func() bool { return !running(pid) })
	// The question is not blamed: whoever waits on a frozen process is unlucky.
	fails(t, h, ReasonTimeout, "freeze-1")
	fails(t, h, ReasonTimeout, "freeze-1")
}

func TestCloseWithAFrozenPlugin(t *testing.T) {
	h := started(t, Config{}, build(t, script{}))
	_ = syscall.Kill(health(h).PID, syscall.SIGSTOP)
	began := time.Now()
	if err := h.Close(within(t, 5*time.Second)); err != nil {
		t.Fatal(err)
	}
	if took := time.Since(began); took > time.Second {
		t.Errorf("closing took %v", took)
	}
}

// A question that hangs is to blame when the process is well beside it.
func TestHangingQuestionBecomesPoison(t *testing.T) {
	h := started(t, Config{CallTimeout: 200 * time.Millisecond, MaxStrikes: 3}, build(t, script{}))
	answers(t, h, "a")
	fails(t, h, ReasonTimeout, "hang-1")
	answers(t, h, "b")
	fails(t, h, ReasonTimeout, "hang-1")
	answers(t, h, "c")
	fails(t, h, ReasonPoison, "hang-1")
	if p := health(h); p.Restarts != 2 || p.State != Ready {
		t.Errorf("health is %+v", p)
	}
}

// An impatient caller is none of the plugin's fault, and what was asked is
// remembered for the next one.
func TestImpatientCaller(t *testing.T) {
	h := started(t, Config{}, build(t, script{}))
	_, err := h.Adjust(within(t, 30*time.Millisecond), about("hold-1"))
	if err == nil {
		t.Fatal("a late answer was waited for")
	}
	eventually(t, "the answer", time.Second, func() bool { return health(h).Calls == 1 })
	began := time.Now()
	answers(t, h, "hold-1")
	if took := time.Since(began); took > 100*time.Millisecond {
		t.Errorf("the answer took %v and should have been remembered", took)
	}
	if p := health(h); p.Restarts != 0 || p.LastReason != "" {
		t.Errorf("health is %+v", p)
	}
}

func TestMemoryEaterIsKilled(t *testing.T) {
	h := started(t, Config{MemoryLimitBytes: 160 << 20}, build(t, script{}))
	f := fails(t, h, ReasonPoison, "eat-1")
	if !strings.Contains(f.Text, "more than the limit of 160 MiB") {
		t.Errorf("the operator is told %q", f.Text)
	}
	if p := health(h); p.LastReason != ReasonMemory {
		t.Errorf("health is %+v", p)
	}
	answers(t, h, "a")
}

// What a plugin forked goes with it. What left the process group is not
// killed, as the package says, but cannot hold the host up by the pipes it
// inherited.
func TestForks(t *testing.T) {
	for start, leaves := range map[string]bool{"forks": false, "escapes": true} {
		t.Run(start, func(t *testing.T) {
			h := started(t, Config{}, build(t, script{Start: start}))
			a, err := h.Adjust(within(t, 5*time.Second), about("tell-1"))
			if err != nil || len(a.Adjustments) != 1 {
				t.Fatal(a, err)
			}
			var pid, child int
			if _, err := fmt.Sscanf(a.Adjustments[0].Evidence.Source, "pid %d child %d", &pid, &child); err != nil || !running(child) {
				t.Fatalf("no child in %q (%v)", a.Adjustments[0].Evidence.Source, err)
			}
			_ = syscall.Kill(pid, syscall.SIGKILL)
			eventually(t, "a restart", 2*time.Second, func() bool { return health(h).Restarts == 1 })
			if !leaves {
				eventually(t, "its child is gone", time.Second, func() bool { return !running(child) })
			}
			b, err := h.Adjust(within(t, 5*time.Second), about("tell-2"))
			if err != nil || len(b.Adjustments) != 1 {
				t.Fatal(b, err)
			}
			began := time.Now()
			if err := h.Close(within(t, 5*time.Second)); err != nil {
				t.Fatal(err)
			}
			if took := time.Since(began); took > 1500*time.Millisecond {
				t.Errorf("closing took %v", took)
			}
			for _, x := range []*engine.AdjustAnswer{a, b} {
				if _, err := fmt.Sscanf(x.Adjustments[0].Evidence.Source, "pid %d child %d", &pid, &child); err == nil && leaves {
					_ = syscall.Kill(child, syscall.SIGKILL) // ours to end
				}
			}
		})
	}
}

// What a plugin says on standard error and output harms neither the host nor
// its log, and keeps no call waiting.
func TestNoise(t *testing.T) {
	for start, want := range map[string]string{
		"json":   `"stderr":"{\"@message\":5}"`, // crashes a host that lets go-plugin read it
		"escape": `"stderr":"a?[2Jb"`,
		"stderr": `plugin says`,
		"stdout": `plugin ready`,
	} {
		t.Run(start, func(t *testing.T) {
			var log logged
			h := started(t, Config{Logger: log.logger()}, build(t, script{Start: start}))
			answers(t, h, "a")
			if err := h.Close(within(t, 5*time.Second)); err != nil {
				t.Fatal(err)
			}
			if !strings.Contains(log.String(), want) || !strings.Contains(log.String(), `"plugin":"clays"`) {
				t.Errorf("no %s in the log: %.2000s", want, log.String())
			}
			if n := log.count("plugin says"); n > 2*logLinesBurst {
				t.Errorf("%d lines were logged", n)
			}
		})
	}
}

func TestLogLinesAreBounded(t *testing.T) {
	var log logged
	s := newStderrLog(log.logger())
	_, _ = s.Write([]byte(strings.Repeat("y", 1<<20)))
	_, _ = s.Write([]byte("\nnext\n"))
	if len(s.pending) > maxLogLineBytes || len(log.String()) > 2*maxLogLineBytes || !strings.Contains(log.String(), `"next"`) {
		t.Errorf("a line of 1 MiB is logged in %d bytes", len(log.String()))
	}
}

// After Close nothing is answered and nothing is left.
func TestClosed(t *testing.T) {
	base := runBase(t)
	h := started(t, Config{RunFolder: base}, build(t, script{}))
	pid := health(h).PID
	go func() { _, _ = h.Adjust(within(t, 5*time.Second), about("hang-1")) }()
	time.Sleep(50 * time.Millisecond)
	if err := h.Close(within(t, 5*time.Second)); err != nil {
		t.Fatal(err)
	}
	if running(pid) {
		t.Error("the plugin still runs")
	}
	if left, _ := filepath.Glob(base + "/*"); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
	if _, err := h.Adjust(within(t, time.Second), about("a")); err == nil {
		t.Error("a closed host answers")
	}
	if err := h.Close(within(t, time.Second)); err != nil {
		t.Errorf("closing twice: %v", err)
	}
	if _, err := os.Stat(base); err != nil {
		t.Error(err)
	}
}

// What a question brings that was under way when its plugin was put out of
// service does not hide why it was.
func TestQuarantineKeepsItsReason(t *testing.T) {
	h := started(t, Config{MaxStrikes: 2}, build(t, script{}))
	for range 3 {
		h.plugins[0].breach(&trouble{ReasonBroken, "dose a is answered 2 times"})
	}
	if p := health(h); p.State != Quarantined || p.LastReason != ReasonQuarantined {
		t.Errorf("health is %+v", p)
	}
	fails(t, h, ReasonQuarantined, "a")
}
