package host

import (
	"context"
	"errors"
	"sync"
	"sync/atomic"
	"time"

	additivev1 "lixivium.example/proto/lixivium/additive/v1"
	"lixivium.example/server/host/wire"
)

// State is how a plugin does.
type State string

// The states of a plugin.
const (
	NotStarted  State = "not-started"
	Ready       State = "ready"
	Restarting  State = "restarting" // being started, for the first time or again
	Quarantined State = "quarantined"
)

// supervised is one line of the configuration with the process that runs for
// it, one run after another.
type supervised struct {
	line    Line
	host    *Host
	answers *cache[*wire.Answer] // of Adjust
	reviews *cache[*additivev1.ReviewResponse]
	poison  poison
	known   atomic.Pointer[known]
	hits    atomic.Uint64
	serves  atomic.Bool // remembered answers may be given
	up      atomic.Bool // a run is in service
	times   durations

	// lane lets a question that may have crashed the plugin be asked again
	// alone, so that a second crash is its own doing and no other's.
	lane sync.RWMutex

	mu       sync.Mutex
	state    State
	run      *instance     // while Ready
	changed  chan struct{} // closed at every change of state
	retryAt  time.Time     // while Restarting
	last     *trouble      // nil: none yet
	strikes  strikes
	starts   int
	restarts int
}

func newSupervised(h *Host, l Line) *supervised {
	return &supervised{
		line: l, host: h, state: NotStarted, changed: make(chan struct{}),
		strikes: strikes{window: strikeWindow},
		answers: newCache[*wire.Answer](h.config.CacheAnswers, maxCacheBytes/2),
		reviews: newCache[*additivev1.ReviewResponse](h.config.CacheAnswers, maxCacheBytes/2),
	}
}

// enter changes the state; mu is held.
func (s *supervised) enter(state State) {
	s.state = state
	s.serves.Store(state == Ready || state == Restarting)
	s.up.Store(state == Ready)
	close(s.changed)
	s.changed = make(chan struct{})
}

// begin starts the plugin when nobody did yet.
func (s *supervised) begin() {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.state == NotStarted {
		s.launch(0)
	}
}

// launch starts a run after a wait; mu is held.
func (s *supervised) launch(wait time.Duration) {
	s.retryAt = s.host.config.Now().Add(wait)
	s.enter(Restarting)
	s.host.track(func() {
		if wait > 0 {
			timer := time.NewTimer(wait)
			defer timer.Stop()
			select {
			case <-timer.C:
			case <-s.host.alive.Done():
				return
			}
		}
		s.start()
	})
}

// start makes one attempt.
func (s *supervised) start() {
	i, err := s.host.connect(s.line)
	if err == nil {
		if err = accept(s.line, i.manifest); err != nil {
			i.stop(s.host.config.KillGrace)
		}
	}
	if !s.settle(i, err) {
		i.stop(s.host.config.KillGrace)
	}
}

// settle takes over what came of an attempt; false: nobody wants the run.
func (s *supervised) settle(i *instance, err error) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	var no *refusal
	switch {
	case s.host.alive.Err() != nil:
		return err != nil
	case errors.As(err, &no):
		s.quarantine(&trouble{ReasonRefused, err.Error()})
	case err != nil && short(err):
		s.note(&trouble{ReasonDown, err.Error()})
		s.launch(shortageWait)
	case err != nil:
		s.strike(&trouble{ReasonDown, err.Error()}, true)
	default:
		s.ready(i)
	}
	return true
}

// ready takes a run into service; mu is held.
func (s *supervised) ready(i *instance) {
	if k := s.known.Load(); k == nil || !k.digest.Matches(i.digest) {
		// Other rules than before: what was remembered is not theirs.
		s.answers.hold(i.digest)
		s.reviews.hold(i.digest)
		s.known.Store(newKnown(i.manifest, i.digest))
	}
	if s.starts++; s.starts > 1 {
		s.restarts++
	}
	s.run = i
	s.enter(Ready)
	s.host.config.Logger.Info().Str("plugin", s.line.Name).Str("version", i.manifest.Version).
		Str("digest", i.digest.String()).Int("pid", i.process.pid).Msg("plugin ready")
	s.host.track(func() {
		select {
		case <-i.process.exited:
		case <-s.host.alive.Done():
			return
		}
		// Whoever asks just now knows better whose fault it is.
		for i.inFlight.Load() > 0 && s.host.alive.Err() == nil {
			time.Sleep(time.Millisecond)
		}
		s.down(i, s.fall(i), true)
	})
}

// fall tells why a run is over, and waits a moment for the system to know.
func (s *supervised) fall(i *instance) *trouble {
	select {
	case <-i.process.exited:
	case <-time.After(2 * drainTime):
	}
	text, _ := i.process.end()
	if words := i.says.words(); words != "" {
		text += "; its last words: " + words
	}
	reason := ReasonCrashed
	if i.tooMuchMemory.Load() {
		reason = ReasonMemory
	}
	return &trouble{reason, text}
}

// down takes a run out of service and has the plugin restarted. Of all who
// notice, the first does it.
func (s *supervised) down(i *instance, t *trouble, counts bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.run != i || s.host.alive.Err() != nil {
		return
	}
	s.run = nil
	s.host.track(func() { i.stop(0) })
	s.strike(t, counts)
}

// strike notes a fault of a plugin that does not run and restarts it, or puts
// it out of service; mu is held.
func (s *supervised) strike(t *trouble, counts bool) {
	n := 1
	if counts {
		n = s.strikes.add(s.host.config.Now())
	}
	if n >= s.host.config.MaxStrikes {
		s.quarantine(&trouble{ReasonQuarantined, "it failed too often, the last time so: " + t.Error()})
		return
	}
	s.note(t)
	s.launch(restartWait(n))
}

// breach counts an answer outside the contract. Starting the same rules anew
// would not help, so the run stays until there are too many.
func (s *supervised) breach(t *trouble) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.note(t)
	if n := s.strikes.add(s.host.config.Now()); n >= s.host.config.MaxStrikes && s.state != Quarantined {
		s.quarantine(&trouble{ReasonQuarantined, "it failed too often, the last time so: " + t.Error()})
	}
}

// lied puts a plugin out of service that answered one question in two ways.
func (s *supervised) lied(what string) *trouble {
	t := &trouble{ReasonQuarantined, "it answered the same question in two ways (" + what + "), so none of its answers can be trusted"}
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.state != Quarantined {
		s.quarantine(t)
	}
	return t
}

// quarantine ends the service of a plugin until the host is made anew; mu is
// held.
func (s *supervised) quarantine(t *trouble) {
	if s.host.alive.Err() != nil {
		return // Close stops the run
	}
	if i := s.run; i != nil {
		s.run = nil
		s.host.track(func() { i.stop(s.host.config.KillGrace) })
	}
	s.note(t)
	s.enter(Quarantined)
	s.answers.hold(Digest{})
	s.reviews.hold(Digest{})
}

// note remembers and logs a fault; mu is held. Why a plugin was put out of
// service stays what is told of it, whatever questions still under way bring.
func (s *supervised) note(t *trouble) {
	if s.state != Quarantined {
		s.last = t
	}
	s.host.config.Logger.Error().Str("plugin", s.line.Name).Str("reason", t.reason).Str("error", t.text).Msg("plugin trouble")
}

// instance gives the run in service, and waits for one while the context
// lasts.
func (s *supervised) instance(ctx context.Context) (*instance, *trouble) {
	for {
		s.mu.Lock()
		if s.state == NotStarted {
			s.launch(0)
		}
		run, state, changed, last := s.run, s.state, s.changed, s.last
		wait := s.retryAt.Sub(s.host.config.Now())
		s.mu.Unlock()
		switch state {
		case Ready:
			return run, nil
		case Quarantined:
			return nil, &trouble{last.reason, last.text + "\nIt stays out of service until the program is started anew. Look at its log, replace or remove it"}
		}
		down := &trouble{ReasonDown, "it is being restarted"}
		if last != nil {
			down.text += ". The last time: " + last.Error()
		}
		if last != nil && s.known.Load() == nil {
			// It never ran and may never run. It is tried again, but nobody
			// should have to wait for that.
			return nil, down
		}
		if deadline, ok := ctx.Deadline(); ok && wait > time.Until(deadline) {
			return nil, down
		}
		select {
		case <-changed:
		case <-ctx.Done():
			return nil, down
		}
	}
}
