//go:build chaos

package chaos_test

import (
	"context"
	"io"
	"sync"
	"sync/atomic"
	"time"

	"lixivium.example/server/app"
)

// load is a number of callers that ask one question after another, each over a
// connection of its own.
type load struct {
	w       *world
	stopped atomic.Bool
	wait    sync.WaitGroup
	closers []io.Closer
	next    *atomic.Int64
}

const callers = 6

// callTime is above the ceiling that the server keeps for itself: a call that
// takes longer hangs, and that is wrong.
const callTime = 15 * time.Second

func (w *world) load(next *atomic.Int64, a *asker) *load {
	l := &load{w: w, next: next}
	for range callers {
		s, closer := w.dial()
		l.closers = append(l.closers, closer)
		l.wait.Go(func() {
			for !l.stopped.Load() {
				v := w.call(s, a.ask(int(l.next.Add(1))))
				if v.kind == unreachable {
					time.Sleep(20 * time.Millisecond)
				}
			}
		})
	}
	return l
}

// call puts one question, judges the answer and counts it.
func (w *world) call(s app.Service, q question) verdict {
	ctx, cancel := context.WithTimeout(context.Background(), callTime)
	defer cancel()
	down := w.outage.touches(time.Now())
	began := time.Now()
	got, err := q.put(ctx, s)
	down = down || w.outage.touches(began)
	v := w.judge.judge(context.Background(), q, got, err, down)
	w.tally.call(q, v)
	return v
}

// stop waits for the calls under way and closes the connections.
func (l *load) stop() {
	l.stopped.Store(true)
	l.wait.Wait()
	for _, c := range l.closers {
		_ = c.Close()
	}
}
