package host

import (
	"context"
	"fmt"
	"slices"

	"lixivium.example/engine"
	"lixivium.example/server/host/wire"
)

// recheckEvery is how many remembered answers are given before one of them is
// asked for again.
const recheckEvery = 64

// part is one plugin's part of a question and what came of it.
type part[A any] struct {
	s      *supervised
	known  *known
	doses  []int // places in the question
	answer A
	failed *trouble
	later  chan outcome[A] // nil: nothing to wait for
}

type outcome[A any] struct {
	answer A
	failed *trouble
}

// concerned finds the plugins that a question concerns, by name: they own a
// dose of it, or may watch a fat of it. Those that never ran are started; one
// that cannot be is a part that failed.
func concerned[A any](ctx context.Context, h *Host, doses []engine.DoseView, holds func(fat string) bool) ([]part[A], error) {
	if h.alive.Err() != nil {
		return nil, errClosed
	}
	var few [64]*supervised
	owners := few[:0]
	for i := range doses {
		s := h.owner[doses[i].Additive]
		if s == nil && doses[i].Additive != "" {
			return nil, fmt.Errorf("dose %q: no plugin is accepted as the owner of %q", doses[i].ID, doses[i].Additive)
		}
		owners = append(owners, s)
	}
	var parts []part[A]
	var places []int
	for _, s := range h.plugins {
		from := len(places)
		for i := range owners {
			if owners[i] == s {
				places = append(places, i)
			}
		}
		if len(places) == from && !slices.ContainsFunc(s.line.WatchesFats, holds) {
			continue
		}
		if parts == nil {
			parts = make([]part[A], 0, len(h.plugins))
		}
		parts = append(parts, part[A]{s: s, known: s.known.Load(), doses: places[from:len(places):len(places)]})
	}
	for i := range parts {
		if parts[i].known == nil {
			parts[i].s.begin()
		}
	}
	for i := range parts {
		if p := &parts[i]; p.known == nil {
			p.known, p.failed = p.s.knows(ctx)
		}
	}
	return slices.DeleteFunc(parts, func(p part[A]) bool {
		// It was only thought to watch a fat.
		return p.failed == nil && len(p.doses) == 0 && !slices.ContainsFunc(p.known.manifest.WatchesFats, holds)
	}), nil
}

// recall looks for a remembered answer and tells whether it is time to ask
// again. A plugin out of service has no say, whatever it said before.
func recall[A any](s *supervised, c *cache[A], k *wire.Key) (answer A, hit, again bool) {
	if !s.serves.Load() {
		return answer, false, false
	}
	if answer, hit = c.get(k); hit {
		again = s.hits.Add(1)%recheckEvery == 0 && s.up.Load()
	}
	return answer, hit, again
}

// confirm compares a remembered answer with a fresh one. While the plugin is
// down for the moment, what it said before holds.
func confirm[A any](s *supervised, remembered, fresh A, t *trouble, same func(a, b A) bool) (A, *trouble) {
	var none A
	switch {
	case t == nil && same(remembered, fresh):
		return remembered, nil
	case t == nil:
		return none, s.lied("another answer than the one remembered")
	case t.reason == ReasonBroken:
		return none, s.lied("now outside the contract: " + t.text)
	case t.reason == ReasonQuarantined || t.reason == ReasonRefused:
		return none, t
	}
	return remembered, nil
}

// later asks without making the caller's patience the plugin's: the question
// goes on when the caller leaves, and its answer is remembered.
func later[A any](h *Host, f func() (A, *trouble)) chan outcome[A] {
	c := make(chan outcome[A], 1)
	if !h.track(func() {
		a, t := f()
		c <- outcome[A]{a, t}
	}) {
		c <- outcome[A]{failed: &trouble{ReasonDown, errClosed.Error()}}
	}
	return c
}

// collect waits for what was asked.
func collect[A any](ctx context.Context, parts []part[A]) error {
	for i := range parts {
		p := &parts[i]
		if p.later == nil {
			continue
		}
		select {
		case o := <-p.later:
			p.answer, p.failed = o.answer, o.failed
		case <-ctx.Done():
			return ctx.Err()
		}
	}
	return nil
}

// failure tells the engine what failed for which doses.
func (p *part[A]) failure(doses []engine.DoseView) engine.Failure {
	var ids []string
	for _, at := range p.doses {
		ids = append(ids, doses[at].ID)
	}
	return p.s.failure(p.failed, ids)
}
