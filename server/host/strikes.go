package host

import "time"

// Backoff between restarts.
const (
	firstBackoff = 100 * time.Millisecond
	maxBackoff   = 10 * time.Second
	// answersPerPardon answers in a row take one strike away: what mostly works
	// is better kept.
	answersPerPardon = 16
)

// strikes count the faults of a plugin.
type strikes struct {
	window  time.Duration
	at      []time.Time
	answers int
	// trusted: it answered something since it was last pardoned.
	trusted bool
}

// add counts a fault and gives how many there are within the window.
func (s *strikes) add(now time.Time) int {
	for len(s.at) > 0 && now.Sub(s.at[0]) > s.window {
		s.at = s.at[1:]
	}
	s.at = append(s.at, now)
	s.answers = 0
	return len(s.at)
}

// answered counts a right answer.
func (s *strikes) answered() {
	s.trusted = true
	s.answers++
	if s.answers >= answersPerPardon {
		s.answers = 0
		s.drop()
	}
}

// pardon takes the last fault away when the question was at fault: what else
// the plugin was asked, it answered. One that crashes on everything is never
// pardoned.
func (s *strikes) pardon() bool {
	if !s.trusted {
		return false
	}
	s.trusted = false
	s.drop()
	return true
}

func (s *strikes) drop() {
	if len(s.at) > 0 {
		s.at = s.at[:len(s.at)-1]
	}
}

// restartWait is the wait before a restart after n faults: none after the first.
func restartWait(n int) time.Duration {
	if n <= 1 {
		return 0
	}
	d := firstBackoff
	for i := 2; i < n && d < maxBackoff; i++ {
		d *= 2
	}
	return min(d, maxBackoff)
}
