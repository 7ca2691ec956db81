package host

import (
	"container/list"
	"sync"

	"lixivium.example/server/host/wire"
)

// cache remembers answers, the ones least in use forgotten first. It holds the
// answers of one plugin with one digest, and none while the digest is not known.
type cache[A any] struct {
	maxEntries, maxBytes int

	mu    sync.Mutex
	of    Digest
	at    map[wire.Key]*list.Element
	order list.List // most in use first
	bytes int
}

type entry[A any] struct {
	key   wire.Key
	value A
	bytes int
}

// entryBytes is what an entry takes beside its answer, about.
const entryBytes = 250

func newCache[A any](maxEntries, maxBytes int) *cache[A] {
	return &cache[A]{maxEntries: maxEntries, maxBytes: maxBytes, at: map[wire.Key]*list.Element{}}
}

func (c *cache[A]) get(k *wire.Key) (A, bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	e, ok := c.at[*k]
	if !ok {
		var none A
		return none, false
	}
	c.order.MoveToFront(e)
	return e.Value.(*entry[A]).value, true
}

// put remembers an answer of about so many bytes that came from a run with
// this digest; a late one, from other rules than those in use, is let go.
func (c *cache[A]) put(from Digest, k wire.Key, value A, bytes int) {
	bytes += entryBytes
	c.mu.Lock()
	defer c.mu.Unlock()
	if _, ok := c.at[k]; ok || bytes > c.maxBytes || !from.Matches(c.of) {
		return
	}
	c.at[k] = c.order.PushFront(&entry[A]{k, value, bytes})
	c.bytes += bytes
	for len(c.at) > c.maxEntries || c.bytes > c.maxBytes {
		last := c.order.Back()
		gone := c.order.Remove(last).(*entry[A])
		delete(c.at, gone.key)
		c.bytes -= gone.bytes
	}
}

// hold forgets everything and takes answers of this digest from now on.
func (c *cache[A]) hold(of Digest) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.of = of
	clear(c.at)
	c.order.Init()
	c.bytes = 0
}
