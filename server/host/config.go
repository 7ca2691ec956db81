package host

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"time"

	"github.com/rs/zerolog"

	"lixivium.example/engine"
	"lixivium.example/server/host/wire"
)

// Config is what a host is made with. Zero values take the defaults named.
type Config struct {
	Plugins []Line
	// Owners settles who answers for an additive that several lines accept:
	// additive id to plugin name.
	Owners map[string]string
	// CallTimeout is the longest a plugin may take for one question, restarts
	// included. 2 s.
	CallTimeout time.Duration
	// StartTimeout is the longest from starting a file to its description. 5 s.
	StartTimeout time.Duration
	// KillGrace is how long a plugin may take to leave when asked. 500 ms.
	KillGrace time.Duration
	// MemoryLimitBytes is the resident memory at which a plugin is killed.
	// 256 MiB. Watched on Linux only.
	MemoryLimitBytes uint64
	// RunFolder is where the host makes a folder of its own for private copies
	// and sockets. It must be short, as socket paths are. The system's folder
	// for temporary files.
	RunFolder string
	// CacheAnswers bounds the remembered answers of one plugin. 4096, and
	// never more than 16 MiB.
	CacheAnswers int
	// MaxStrikes is the number of faults within a minute that puts a plugin
	// out of service. 6.
	MaxStrikes int
	Logger     zerolog.Logger
	// Now tells the time. time.Now.
	Now func() time.Time
}

// Line is one plugin as the operator accepts it.
type Line struct {
	Name   string
	File   string // absolute
	SHA256 string // of the file, hexadecimal
	Grants []engine.Grant
	// Additives are the ids it may own.
	Additives []string
	// WatchesFats are the catalog ids of fats it may watch.
	WatchesFats []string
}

const (
	memoryWatchInterval = 250 * time.Millisecond
	maxCacheBytes       = 16 << 20
	maxMessageBytes     = 4 << 20
	strikeWindow        = time.Minute
)

// withDefaults fills in what was left out and tells everything that is wrong.
func (c Config) withDefaults() (Config, error) {
	c.CallTimeout = cmp.Or(c.CallTimeout, 2*time.Second)
	c.StartTimeout = cmp.Or(c.StartTimeout, 5*time.Second)
	c.KillGrace = cmp.Or(c.KillGrace, 500*time.Millisecond)
	c.MemoryLimitBytes = cmp.Or(c.MemoryLimitBytes, 256<<20)
	c.RunFolder = cmp.Or(c.RunFolder, os.TempDir())
	c.CacheAnswers = cmp.Or(c.CacheAnswers, 4096)
	c.MaxStrikes = cmp.Or(c.MaxStrikes, 6)
	if c.Now == nil {
		c.Now = time.Now
	}
	c.Plugins = slices.Clone(c.Plugins)
	slices.SortStableFunc(c.Plugins, func(a, b Line) int { return cmp.Compare(a.Name, b.Name) })
	var wrong []error
	if err := checkRunFolder(c.RunFolder); err != nil {
		wrong = append(wrong, err)
	}
	for i := range c.Plugins {
		if err := c.Plugins[i].check(); err != nil {
			wrong = append(wrong, err)
		}
		if i > 0 && c.Plugins[i-1].Name == c.Plugins[i].Name {
			wrong = append(wrong, fmt.Errorf("two plugins are named %q in lixivium.yaml; keep one of them, or rename its plugin", c.Plugins[i].Name))
		}
	}
	return c, errors.Join(wrong...)
}

func (l *Line) check() error {
	var wrong []error
	fail := func(format string, args ...any) {
		wrong = append(wrong, fmt.Errorf("plugin %q in lixivium.yaml: "+format, append([]any{l.Name}, args...)...))
	}
	if !wire.IsID(l.Name) {
		fail("the name is not lower case with hyphens")
	}
	if !filepath.IsAbs(l.File) {
		fail("the file %q is not an absolute path", l.File)
	}
	if l.SHA256 != "" {
		if _, err := ParseDigest(l.SHA256); err != nil {
			fail("sha256: %w", err)
		}
	}
	for _, g := range l.Grants {
		if !wire.IsGrant(string(g)) {
			fail("there is no grant %q; the grants are alkali, fats, water, trace, heat, firmness, findings", g)
		}
	}
	for _, id := range slices.Concat(l.Additives, l.WatchesFats) {
		if !wire.IsID(id) {
			fail("%q is no id: ids are lower case with hyphens", id)
		}
	}
	return errors.Join(wrong...)
}

// owners tells which line answers for each additive that some line accepts.
func (c *Config) owners() (map[string]int, error) {
	accepted := map[string][]int{}
	var ids []string
	for i := range c.Plugins {
		for _, id := range c.Plugins[i].Additives {
			if accepted[id] == nil {
				ids = append(ids, id)
			}
			if !slices.Contains(accepted[id], i) {
				accepted[id] = append(accepted[id], i)
			}
		}
	}
	slices.Sort(ids)
	out := make(map[string]int, len(ids))
	var wrong []error
	for _, id := range ids {
		lines := accepted[id]
		named := slices.IndexFunc(lines, func(i int) bool { return c.Plugins[i].Name == c.Owners[id] })
		switch {
		case c.Owners[id] != "" && named < 0:
			wrong = append(wrong, fmt.Errorf("lixivium.yaml names %q as the owner of %q, and the line of no such plugin accepts it", c.Owners[id], id))
		case named >= 0:
			out[id] = lines[named]
		case len(lines) > 1:
			wrong = append(wrong, fmt.Errorf("the additive %q is accepted for %q and for %q; an additive has one owner. Take it out of one line, or name the owner in lixivium.yaml", id, c.Plugins[lines[0]].Name, c.Plugins[lines[1]].Name))
		default:
			out[id] = lines[0]
		}
	}
	for _, id := range slices.Sorted(maps.Keys(c.Owners)) {
		if accepted[id] == nil {
			wrong = append(wrong, fmt.Errorf("lixivium.yaml names an owner of %q, and no line accepts that additive", id))
		}
	}
	return out, errors.Join(wrong...)
}
