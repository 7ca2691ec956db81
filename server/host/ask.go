package host

import (
	"context"
	"time"

	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"

	additivev1 "lixivium.example/proto/lixivium/additive/v1"
	"lixivium.example/server/host/wire"
)

// probeTime is how long a plugin that was late may take to describe itself.
const probeTime = 100 * time.Millisecond

// call is one question on the wire.
type call[R any] func(context.Context, additivev1.AdditiveServiceClient) (R, error)

// ask puts one question to a plugin and tells which run answered. The deadline
// is the host's own and the caller's does not matter: a plugin is late when it
// takes too long, not when somebody is impatient. After a crash the question
// is asked once more.
func ask[R any](s *supervised, k wire.Key, c call[R]) (*instance, R, *trouble) {
	var none R
	if s.poison.holds(k, s.host.config.Now()) {
		return nil, none, &trouble{ReasonPoison, "this question took the plugin down before and is not asked for a while"}
	}
	first, r, t := beside(s, k, c)
	if first == nil || t == nil {
		return first, r, t
	}
	return alone(s, k, c)
}

// beside asks beside others. A trouble with a run means that the run crashed,
// of whatever cause, and is out of service.
func beside[R any](s *supervised, k wire.Key, c call[R]) (*instance, R, *trouble) {
	// Held until a crashed run is out of service: who asks alone must not meet
	// a run that another question has already taken down.
	s.lane.RLock()
	defer s.lane.RUnlock()
	i, r, t := once(s, c)
	if i == nil || t == nil {
		return i, r, t
	}
	defer i.inFlight.Add(-1)
	if t.reason == ReasonTimeout {
		s.late(i, k, t)
		return nil, r, t
	}
	s.down(i, s.fall(i), true)
	return i, r, t
}

// alone asks while nobody else does, after a crash: a second one is the
// question's own doing, unless somebody outside killed the process.
func alone[R any](s *supervised, k wire.Key, c call[R]) (*instance, R, *trouble) {
	s.lane.Lock()
	defer s.lane.Unlock()
	i, r, t := once(s, c)
	if i == nil || t == nil {
		return i, r, t
	}
	defer i.inFlight.Add(-1)
	if t.reason == ReasonTimeout {
		s.late(i, k, t)
		return nil, r, t
	}
	why := s.fall(i)
	if _, fromOutside := i.process.end(); fromOutside {
		s.down(i, why, true)
		return nil, r, why
	}
	s.poison.blame(k, blamesToPoison, s.host.config.Now())
	s.down(i, why, !s.pardon())
	return nil, r, &trouble{ReasonPoison, "the question took the plugin down twice: " + why.text}
}

// once asks the run in service. With a trouble, a run means that it was late
// or may be over, and it is then counted as in flight until the caller has
// dealt with that; without a run, the trouble is nothing to be dealt with.
func once[R any](s *supervised, c call[R]) (*instance, R, *trouble) {
	var none R
	wait, cancel := context.WithTimeout(s.host.alive, s.host.config.CallTimeout)
	i, t := s.instance(wait)
	cancel()
	if t != nil {
		return nil, none, t
	}
	ctx, cancel := context.WithTimeout(s.host.alive, s.host.config.CallTimeout)
	defer cancel()
	i.inFlight.Add(1)
	mine := true // to take back
	defer func() {
		if mine {
			i.inFlight.Add(-1)
		}
	}()
	began := time.Now()
	r, err := c(ctx, i.api)
	if err == nil {
		s.times.add(time.Since(began))
		s.mu.Lock()
		s.strikes.answered()
		s.mu.Unlock()
		return i, r, nil
	}
	if s.host.alive.Err() != nil {
		return nil, none, &trouble{ReasonDown, "the host is closed"}
	}
	text := harmless(status.Convert(err).Message())
	text = text[:min(len(text), 500)]
	switch code := status.Code(err); {
	case code == codes.Unavailable || closing(err):
		// A dead process, though go-plugin's Exited may not know it yet, or one
		// whose connection another call has just given up.
		mine = false
		return i, none, &trouble{ReasonCrashed, text}
	case code == codes.DeadlineExceeded:
		mine = false
		return i, none, &trouble{ReasonTimeout, "it did not answer within " + s.host.config.CallTimeout.String()}
	case code == codes.Internal || code == codes.Unknown:
		// A rule panicked; the process lives on and has no part in it.
		t = &trouble{ReasonCrashed, "a rule failed: " + text}
		s.mu.Lock()
		s.note(t)
		s.mu.Unlock()
		return nil, none, t
	}
	// No status of its own is in the contract.
	t = &trouble{ReasonBroken, "it answered with the status " + status.Code(err).String() + ": " + text}
	s.breach(t)
	return nil, none, t
}

// late replaces a plugin that did not answer in time. When it still describes
// itself the process is well and the question is to blame; when it does not,
// it is frozen, and whoever waited was only unlucky.
func (s *supervised) late(i *instance, k wire.Key, t *trouble) {
	ctx, cancel := context.WithTimeout(s.host.alive, probeTime)
	defer cancel()
	counts := true
	if _, err := i.api.Describe(ctx, &additivev1.DescribeRequest{}); err == nil {
		if s.poison.blame(k, 1, s.host.config.Now()) {
			counts = !s.pardon()
		}
	}
	s.down(i, t, counts)
}

// pardon takes back the strike for a first crash when the question was to
// blame.
func (s *supervised) pardon() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.strikes.pardon()
}
