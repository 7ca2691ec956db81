package host

import (
	"slices"
	"sync"
	"time"

	"lixivium.example/engine"
)

// PluginHealth tells how a plugin does.
type PluginHealth struct {
	Name, Version string
	Digest        string // over executable and rules; empty before its first start
	State         State
	Grants        []engine.Grant
	Additives     []string // it owns; before its first start those it is accepted for
	Restarts      int      // since the host was made
	// LastReason is one of the Reason constants, empty for no trouble yet;
	// LastError says it in words, for the operator.
	LastReason, LastError string
	Calls                 uint64 // answered by a process; remembered answers are not counted
	Remembered            uint64 // answers given from memory
	MedianTime            time.Duration
	PID                   int    // 0: not running
	ResidentBytes         uint64 // 0: not running, or not told by the system
}

// Health tells of every plugin, by name. Starts nothing.
func (h *Host) Health() []PluginHealth {
	out := make([]PluginHealth, len(h.plugins))
	for i, s := range h.plugins {
		out[i] = s.health()
	}
	return out
}

func (s *supervised) health() PluginHealth {
	p := PluginHealth{Name: s.line.Name, Grants: slices.Clone(s.line.Grants), Additives: slices.Clone(s.line.Additives), Remembered: s.hits.Load()}
	p.Calls, p.MedianTime = s.times.sum()
	if k := s.known.Load(); k != nil {
		p.Version, p.Digest, p.Additives = k.manifest.Version, k.digest.String(), nil
		for i := range k.manifest.Owns {
			p.Additives = append(p.Additives, k.manifest.Owns[i].ID)
		}
	}
	s.mu.Lock()
	p.State, p.Restarts = s.state, s.restarts
	if s.last != nil {
		p.LastReason, p.LastError = s.last.reason, s.last.text
	}
	if s.run != nil {
		p.PID = s.run.process.pid
	}
	s.mu.Unlock()
	if p.PID != 0 {
		p.ResidentBytes, _ = residentBytes(p.PID) // 0 when it has just ended
	}
	return p
}

// durations keep the times of the latest calls.
type durations struct {
	mu    sync.Mutex
	ring  [127]time.Duration
	count uint64
}

func (d *durations) add(t time.Duration) {
	d.mu.Lock()
	d.ring[d.count%uint64(len(d.ring))] = t
	d.count++
	d.mu.Unlock()
}

// sum gives the number of all calls and the median of the latest.
func (d *durations) sum() (uint64, time.Duration) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.count == 0 {
		return 0, 0
	}
	latest := slices.Clone(d.ring[:min(d.count, uint64(len(d.ring)))])
	slices.Sort(latest)
	return d.count, latest[len(latest)/2]
}
