package host

import (
	"fmt"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"
)

// Killing and freezing under load yields right answers or clean refusals, and
// the plugin recovers. Nobody's question is taken for poison.
func TestChaos(t *testing.T) {
	h := started(t, Config{CallTimeout: 300 * time.Millisecond, MaxStrikes: 10}, build(t, script{}))
	var stop atomic.Bool
	var wait sync.WaitGroup
	var well, refused atomic.Int64
	for w := range 4 {
		wait.Go(func() {
			for n := 0; !stop.Load(); n++ {
				id := fmt.Sprintf("d-%d-%d", w, n)
				if n%2 == 0 {
					id = fmt.Sprintf("r-%d", n%20) // also asked by others, and remembered
				}
				a, err := h.Adjust(within(t, 5*time.Second), about(id))
				switch {
				case err != nil:
					t.Error(err)
				case len(a.Failures) == 0:
					well.Add(1)
					if problem := right(a, id); problem != "" {
						t.Error(problem)
					}
				case a.Failures[0].Reason == ReasonPoison || a.Failures[0].Reason == ReasonBroken || len(a.Adjustments) > 0:
					t.Errorf("got %+v", a)
				default:
					refused.Add(1)
				}
			}
		})
	}
	for n := range 12 {
		time.Sleep(120 * time.Millisecond)
		if pid := health(h).PID; pid != 0 {
			_ = syscall.Kill(pid, [...]syscall.Signal{syscall.SIGKILL, syscall.SIGKILL, syscall.SIGSTOP}[n%3])
		}
	}
	stop.Store(true)
	wait.Wait()
	// The last signal froze it, which may cost one more deadline.
	eventually(t, "a right answer", 2*time.Second, func() bool {
		a, err := h.Adjust(within(t, 2*time.Second), about("last"))
		return err == nil && right(a, "last") == ""
	})
	t.Logf("%d right answers, %d refusals, %d restarts", well.Load(), refused.Load(), health(h).Restarts)
	if well.Load() == 0 || health(h).Restarts == 0 {
		t.Error("nothing was tried")
	}
}
