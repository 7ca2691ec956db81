package host

import (
	"sync"
	"time"

	"lixivium.example/server/host/wire"
)

const (
	maxPoison  = 256
	poisonTime = 10 * time.Minute
	// blamesToPoison is how often a question must have taken its plugin down.
	blamesToPoison = 2
)

// poison remembers the questions that took a plugin down.
type poison struct {
	mu    sync.Mutex
	seen  map[wire.Key]blame
	order []wire.Key // oldest first
}

type blame struct {
	times int
	since time.Time
}

// holds tells whether a question is refused.
func (p *poison) holds(k wire.Key, now time.Time) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	b, ok := p.seen[k]
	return ok && b.times >= blamesToPoison && now.Sub(b.since) < poisonTime
}

// blame counts a question that took its plugin down, so many times over.
func (p *poison) blame(k wire.Key, times int, now time.Time) (poisoned bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	b, ok := p.seen[k]
	if !ok {
		if p.seen == nil {
			p.seen = map[wire.Key]blame{}
		}
		if len(p.order) >= maxPoison {
			delete(p.seen, p.order[0])
			p.order = append(p.order[:0], p.order[1:]...)
		}
		p.order = append(p.order, k)
	}
	if now.Sub(b.since) >= poisonTime {
		b.times = 0
	}
	b.times += times
	b.since = now
	p.seen[k] = b
	return b.times >= blamesToPoison
}
