package host

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"

	"lixivium.example/engine"
)

// Host runs plugins and answers for their additives. It may be used by any
// number of goroutines.
type Host struct {
	config  Config
	plugins []*supervised // by name
	owner   map[string]*supervised
	alive   context.Context // until the host is closed
	end     context.CancelFunc

	mu      sync.Mutex
	closed  bool
	work    sync.WaitGroup
	folder  *runFolder // nil until something is started
	starter *starter
}

var _ engine.Additives = (*Host)(nil)

// New makes a host and starts nothing: a plugin starts with StartAll or when
// it is first needed. Errors tell everything that is wrong with the
// configuration.
func New(c Config) (*Host, error) {
	c, err := c.withDefaults()
	if err != nil {
		return nil, err
	}
	owners, err := c.owners()
	if err != nil {
		return nil, err
	}
	h := &Host{config: c, owner: make(map[string]*supervised, len(owners))}
	h.alive, h.end = context.WithCancel(context.Background())
	for _, l := range c.Plugins {
		h.plugins = append(h.plugins, newSupervised(h, l))
	}
	for additive, i := range owners {
		h.owner[additive] = h.plugins[i]
	}
	return h, nil
}

// open makes what is needed to start anything.
func (h *Host) open() error {
	h.mu.Lock()
	defer h.mu.Unlock()
	switch {
	case h.alive.Err() != nil:
		return errClosed
	case h.folder != nil:
		return nil
	}
	folder, err := makeRunFolder(h.config.RunFolder)
	if err != nil {
		return err
	}
	h.folder, h.starter = folder, newStarter()
	return nil
}

var errClosed = errors.New("the plugin host is closed")

// track runs f, which Close waits for. Once the host is closed it does not, and
// says so.
func (h *Host) track(f func()) bool {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.closed {
		return false
	}
	h.work.Go(f)
	return true
}

// StartAll starts every plugin and waits until each is ready or has failed.
// What failed is told, all at once, and is tried again where that may help.
func (h *Host) StartAll(ctx context.Context) error {
	for _, s := range h.plugins {
		s.begin()
	}
	var wrong []error
	for _, s := range h.plugins {
		if _, t := s.instance(ctx); t != nil {
			wrong = append(wrong, fmt.Errorf("plugin %q: %w", s.line.Name, t))
		}
	}
	return errors.Join(wrong...)
}

// Owner describes an additive, and starts its plugin when nobody did. It stays
// known while the plugin is down. False means that no line accepts the
// additive, or that its plugin never got as far as saying what it owns:
// Missing tells which.
func (h *Host) Owner(additive string) (engine.AdditiveInfo, bool) {
	s := h.owner[additive]
	if s == nil {
		return engine.AdditiveInfo{}, false
	}
	k, t := s.knows(h.alive)
	if t != nil {
		return engine.AdditiveInfo{}, false
	}
	info, ok := k.infos[additive]
	return info, ok
}

// Missing tells the operator why Owner answers false. Nil: it does not.
func (h *Host) Missing(additive string) error {
	s := h.owner[additive]
	if s == nil {
		return fmt.Errorf("no plugin in lixivium.yaml is accepted as the owner of %q", additive)
	}
	k, t := s.knows(h.alive)
	switch {
	case t != nil:
		return fmt.Errorf("plugin %q: %w", s.line.Name, t)
	case k.infos[additive].ID == "":
		return fmt.Errorf("plugin %q is accepted as the owner of %q in lixivium.yaml and does not own it", s.line.Name, additive)
	}
	return nil
}

// Owned are the ids of the additives that lines accept, their plugins started
// or not.
func (h *Host) Owned() []string { return slices.Sorted(maps.Keys(h.owner)) }

// Additives describes everything that is owned, by id, as far as it is known:
// plugins that were never started are not asked.
func (h *Host) Additives() []engine.AdditiveInfo {
	var out []engine.AdditiveInfo
	for additive, s := range h.owner {
		if k := s.known.Load(); k != nil && k.infos[additive].ID != "" {
			out = append(out, k.infos[additive])
		}
	}
	slices.SortFunc(out, func(a, b engine.AdditiveInfo) int { return strings.Compare(a.ID, b.ID) })
	return out
}

// knows gives what the plugin said of itself, and starts it when it never did.
func (s *supervised) knows(ctx context.Context) (*known, *trouble) {
	if k := s.known.Load(); k != nil {
		return k, nil
	}
	ctx, cancel := context.WithTimeout(ctx, s.host.config.StartTimeout)
	defer cancel()
	if _, t := s.instance(ctx); t != nil {
		return nil, t
	}
	return s.known.Load(), nil
}

// Close stops every plugin and removes the run folder. A plugin that does not
// leave within its grace, or while the context lasts, is killed. Calls under
// way are answered with failures.
func (h *Host) Close(ctx context.Context) error {
	if h.alive.Err() != nil {
		return nil
	}
	h.end()
	// Whoever found the host alive holds a plugin's lock until its work is
	// tracked. After this loop nobody does.
	var stops sync.WaitGroup
	for _, s := range h.plugins {
		s.mu.Lock()
		i := s.run
		s.run = nil
		s.enter(NotStarted)
		s.mu.Unlock()
		if i != nil {
			stops.Go(func() {
				hurry := context.AfterFunc(ctx, func() { i.process.kill(stopped) })
				defer hurry()
				i.stop(h.config.KillGrace)
			})
		}
	}
	h.mu.Lock()
	h.closed = true
	h.mu.Unlock()
	stops.Wait()
	h.work.Wait()
	if h.folder == nil {
		return nil
	}
	h.starter.close()
	return h.folder.remove()
}

// Inspect runs a file that nobody accepted yet, for an operator who asks, and
// gives the line that would accept it as it is: its digest, and all that it
// wants and owns. The file is run with the rights of the caller.
func Inspect(ctx context.Context, c Config, file string) (Line, error) {
	c.Plugins, c.Owners = nil, nil
	h, err := New(c)
	if err != nil {
		return Line{}, err
	}
	defer h.Close(ctx)
	digest, err := hashFile(file)
	if err != nil {
		return Line{}, err
	}
	l := Line{Name: "inspected", File: file, SHA256: digest.Hex()}
	stop := context.AfterFunc(ctx, h.end)
	defer stop()
	i, err := h.connect(l)
	if err != nil {
		return Line{}, err
	}
	defer i.stop(h.config.KillGrace)
	return wanted(l, i.manifest), nil
}
