package twin_test

import (
	"context"
	"os"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"lixivium.example/engine"
	"lixivium.example/server/host"
)

// Killing, freezing, corrupting and removing any of the five under load yields
// only answers of their twins, or clean refusals, and service comes back.
func TestChaosOfFive(t *testing.T) {
	lines, set := five(t)
	h := start(t, lines, 500*time.Millisecond)
	doses := grid(set)
	ask := func(n int) (right, refused bool) {
		var q engine.AdjustQuestion
		for i := range 6 {
			d := doses[(37*n+83*i)%len(doses)]
			d.ID = "dose-" + string(rune('a'+i))
			q.Doses = append(q.Doses, d)
		}
		got, err := h.Adjust(within(t, 5*time.Second), &q)
		if err != nil {
			t.Error(err)
			return false, false
		}
		failed := map[string]bool{}
		for _, f := range got.Failures {
			if f.Reason == host.ReasonBroken || f.Reason == host.ReasonPoison || f.Reason == host.ReasonQuarantined {
				t.Errorf("got %+v", f)
			}
			for _, id := range f.DoseIDs {
				failed[id] = true
			}
		}
		var answered engine.AdjustQuestion
		for _, d := range q.Doses {
			if !failed[d.ID] {
				answered.Doses = append(answered.Doses, d)
			}
		}
		want, _ := set.Adjust(context.Background(), &answered)
		got.Failures = nil
		if !sameAnswer(got, want) {
			t.Errorf("question %d:\ngot  %+v\nwant %+v", n, got, want)
		}
		return len(failed) == 0, len(failed) > 0
	}
	var stop atomic.Bool
	var wait sync.WaitGroup
	var well, refused atomic.Int64
	for w := range 3 {
		wait.Go(func() {
			for n := w * 1000; !stop.Load(); n++ {
				right, no := ask(n)
				if right {
					well.Add(1)
				}
				if no {
					refused.Add(1)
				}
			}
		})
	}
	for n := range 10 {
		time.Sleep(150 * time.Millisecond)
		p := h.Health()[n%5]
		switch n {
		case 2: // its file is exchanged
			if err := os.Remove(lines[2].File); err == nil {
				_ = os.WriteFile(lines[2].File, []byte("#!/bin/sh\nexit 1\n"), 0o700)
			}
		case 3:
			_ = os.Remove(lines[3].File)
		}
		if p.PID != 0 {
			_ = syscall.Kill(p.PID, [...]syscall.Signal{syscall.SIGKILL, syscall.SIGKILL, syscall.SIGKILL, syscall.SIGSTOP}[n%4])
		}
	}
	time.Sleep(100 * time.Millisecond)
	stop.Store(true)
	wait.Wait()
	for end := time.Now().Add(5 * time.Second); ; {
		all := true
		for n := range 10 {
			right, _ := ask(100_000 + n)
			all = all && right
		}
		if all {
			break
		}
		if time.Now().After(end) {
			t.Fatalf("service does not come back: %+v", h.Health())
		}
	}
	t.Logf("%d right answers, %d in part refused", well.Load(), refused.Load())
	if well.Load() == 0 {
		t.Error("nothing was answered")
	}
}
