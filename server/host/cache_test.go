package host

import (
	"fmt"
	"strings"
	"syscall"
	"testing"
	"time"
)

func TestRemembersAnswers(t *testing.T) {
	h := started(t, Config{}, build(t, script{}))
	for range 20 {
		answers(t, h, "a", "b")
	}
	if p := health(h); p.Calls != 1 || p.Remembered != 19 {
		t.Errorf("%d calls and %d from memory", p.Calls, p.Remembered)
	}
	q := about("a", "b")
	q.Doses[1].Parameters["strength_pct"] = 50
	a, err := h.Adjust(within(t, 5*time.Second), q)
	if err != nil || a.Adjustments[1].WaterGPerG != 0.25 {
		t.Errorf("another question got %+v, %v", a, err)
	}
}

// One remembered answer in 64 is asked for again, and a plugin that honestly
// says the same stays.
func TestAsksAgainNowAndThen(t *testing.T) {
	h := started(t, Config{}, build(t, script{}))
	for range 1 + 3*recheckEvery {
		answers(t, h, "a")
	}
	if p := health(h); p.Calls != 1+3 || p.State != Ready {
		t.Errorf("health is %+v, want 4 calls", p)
	}
}

// A plugin whose answers change is put out of service, and nothing it said
// before is told any more.
func TestLiarIsQuarantined(t *testing.T) {
	h := started(t, Config{}, build(t, script{}))
	q := about("liar-1")
	for i := range recheckEvery {
		a, err := h.Adjust(within(t, 5*time.Second), q)
		if err != nil || len(a.Adjustments) != 1 {
			t.Fatalf("question %d: %+v, %v", i, a, err)
		}
	}
	f := fails(t, h, ReasonQuarantined, "liar-1")
	if !strings.Contains(f.Text, "in two ways") {
		t.Errorf("the operator is told %q", f.Text)
	}
	fails(t, h, ReasonQuarantined, "liar-1")
	if p := health(h); p.State != Quarantined || p.PID != 0 {
		t.Errorf("health is %+v", p)
	}
	s := h.plugins[0]
	if len(s.answers.at) != 0 {
		t.Error("its answers are still remembered")
	}
}

func TestReviewLiarIsQuarantined(t *testing.T) {
	h := started(t, Config{}, build(t, script{}))
	for range 1 + recheckEvery {
		if _, err := h.Review(within(t, 5*time.Second), batchOf("reviewliar-1")); err != nil {
			t.Fatal(err)
		}
	}
	if p := health(h); p.State != Quarantined {
		t.Errorf("health is %+v", p)
	}
}

// What was said stays good while the plugin is being restarted, also when it
// is time to ask again.
func TestRemembersDuringARestart(t *testing.T) {
	h := started(t, Config{StartTimeout: 3 * time.Second}, build(t, script{Start: "sluggish"}))
	answers(t, h, "a")
	_ = syscall.Kill(health(h).PID, syscall.SIGKILL)
	eventually(t, "the crash is seen", time.Second, func() bool { return health(h).State == Restarting })
	for range 2 * recheckEvery {
		began := time.Now()
		answers(t, h, "a")
		if took := time.Since(began); took > 200*time.Millisecond {
			t.Fatalf("a remembered answer took %v", took)
		}
	}
	if p := health(h); p.State != Restarting {
		t.Fatalf("health is %+v; the test was too slow to show anything", p)
	}
	if info, ok := h.Owner("kaolin"); !ok || info.Name != "kaolin" {
		t.Error("what is owned is not known during a restart")
	}
}

// Other rules: other answers. The digest of what a plugin reads is part of its
// own.
func TestForgetsWithOtherRules(t *testing.T) {
	h := started(t, Config{}, build(t, script{Start: "rules"}))
	answers(t, h, "a")
	before := health(h)
	_ = syscall.Kill(before.PID, syscall.SIGKILL)
	eventually(t, "a restart", 2*time.Second, func() bool { return health(h).Restarts == 1 })
	answers(t, h, "a")
	after := health(h)
	if after.Digest == before.Digest || after.Calls != 2 {
		t.Errorf("before %+v, after %+v", before, after)
	}
	if info, _ := h.Owner("kaolin"); info.Plugin.Digest != after.Digest {
		t.Error("answers would name the old digest")
	}
}

func TestCacheIsBounded(t *testing.T) {
	of := digestOf([]byte{1})
	c := newCache[int](10, 1<<20)
	c.hold(of)
	for i := range 100 {
		c.put(of, key(i), i, 0)
		c.get(ptr(key(0)))
	}
	if len(c.at) != 10 || c.order.Len() != 10 {
		t.Errorf("%d entries", len(c.at))
	}
	if _, ok := c.get(ptr(key(0))); !ok {
		t.Error("what is in use was forgotten")
	}
	small := newCache[int](1000, 10*entryBytes)
	small.hold(of)
	for i := range 100 {
		small.put(of, key(i), i, entryBytes)
	}
	if len(small.at) != 5 || small.bytes > small.maxBytes {
		t.Errorf("%d entries with %d bytes", len(small.at), small.bytes)
	}
	small.put(of, key(7), 7, 100*entryBytes)
	small.put(digestOf([]byte{2}), key(1000), 1, 0)
	if _, ok := small.get(ptr(key(1000))); ok || len(small.at) != 5 {
		t.Error("an answer from other rules, or one too large, was taken")
	}
}

func ptr[T any](v T) *T { return &v }

func TestDigest(t *testing.T) {
	digits := strings.Repeat("0a", 32)
	a, err := ParseDigest(digits)
	if err != nil || a.String() != "sha256:"+digits {
		t.Errorf("got %v, %v", a, err)
	}
	b, err := ParseDigest("sha256:" + digits)
	if err != nil || !a.Matches(b) {
		t.Errorf("with its scheme: %v, %v", b, err)
	}
	for _, bad := range []string{"", "sha512:" + digits, digits[1:], strings.Repeat("zz", 32)} {
		if d, err := ParseDigest(bad); err == nil || d.Matches(d) {
			t.Errorf("%q was taken", bad)
		}
	}
	if pluginDigest(a, "x").Matches(pluginDigest(a, "y")) {
		t.Error("the rules are not in the digest")
	}
}

func TestStrikes(t *testing.T) {
	s := strikes{window: time.Minute}
	now := time.Now()
	for i := range 3 {
		if n := s.add(now.Add(time.Duration(i) * 25 * time.Second)); n != i+1 {
			t.Errorf("strike %d counts %d", i, n)
		}
	}
	if n := s.add(now.Add(70 * time.Second)); n != 3 {
		t.Errorf("after the window %d count, want 3", n)
	}
	for range answersPerPardon {
		s.answered()
	}
	if len(s.at) != 2 || !s.pardon() || s.pardon() || len(s.at) != 1 {
		t.Errorf("%d strikes are left, want 1", len(s.at))
	}
	waits := make([]string, 0, 10)
	for n := range 10 {
		waits = append(waits, restartWait(n).String())
	}
	if got := fmt.Sprint(waits); got != "[0s 0s 100ms 200ms 400ms 800ms 1.6s 3.2s 6.4s 10s]" {
		t.Errorf("waits are %s", got)
	}
}
