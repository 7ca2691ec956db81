package host

import "runtime"

// starter forks all plugins from one thread that lives until it is closed: on
// Linux a child is killed with the thread that forked it, and Go ends threads
// as it likes.
type starter struct {
	work chan func()
}

func newStarter() *starter {
	s := &starter{work: make(chan func())}
	go func() {
		// Never unlocked: the thread ends with the goroutine.
		runtime.LockOSThread()
		for f := range s.work {
			f()
		}
	}()
	return s
}

// do runs f on the thread and waits for it.
func (s *starter) do(f func()) {
	done := make(chan struct{})
	s.work <- func() { defer close(done); f() }
	<-done
}

// close ends the thread. No child may be wanted any more, and do must not be
// called again.
func (s *starter) close() { close(s.work) }
