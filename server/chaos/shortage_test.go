//go:build chaos

package chaos_test

import (
	"errors"
	"fmt"
	"net"
	"os"
	"path/filepath"
	"sync"
	"syscall"
	"time"

	"golang.org/x/sys/unix"

	"lixivium.example/server/host"
)

// fewDescriptors starts a server with little more than it needs at rest, takes
// the rest away by connections that say nothing, and kills a plugin meanwhile.
func (r *round) fewDescriptors() {
	w := r.w
	limit := r.rest.descriptors + callers + 14
	s := w.start(fmt.Sprintf("ulimit -n %d", limit))
	l := w.load(r.next, r.ask)
	w.recovered("a start with few descriptors")
	var held []net.Conn
	for range limit + 20 {
		if c, err := net.DialTimeout("tcp", w.address, 2*time.Second); err == nil {
			held = append(held, c)
		}
	}
	if w.eventually("the server has no descriptor left", 10*time.Second, func() bool { return descriptors(s.pid()) >= limit }) {
		w.tally.harm(fewFiles)
	}
	r.kill(s, "clays")
	time.Sleep(3 * time.Second)
	for _, c := range held {
		_ = c.Close()
	}
	w.recovered("descriptors were short")
	l.stop()
	r.compareRest(s)
}

// The memory that a server and each of its plugins may have as data, and the
// size at which the server's collector is told to work harder. Four questions of
// the largest size at a time bring the server to two thirds of it.
const (
	dataLimitKB = 320 << 10
	softLimit   = "64MiB"
)

// littleMemory limits the memory of the server and, as limits are inherited, of
// its plugins; the hostile one runs into it.
func (r *round) littleMemory() {
	w := r.w
	s := w.start(fmt.Sprintf("ulimit -d %d", dataLimitKB), "GOMEMLIMIT="+softLimit)
	l := w.load(r.next, r.ask)
	w.recovered("a start with little memory")
	var large sync.WaitGroup
	for range 4 {
		large.Go(func() {
			c, closer := w.dial()
			defer closer.Close()
			for range 2 {
				w.call(c, r.ask.large())
			}
		})
	}
	large.Wait()
	r.eat(tightMemory, host.ReasonCrashed, host.ReasonMemory)
	w.recovered("memory was short")
	l.stop()
	r.compareRest(s)
}

// fullDisk runs a server on a disk that does not hold the copies of all plugins,
// and on one that holds nothing more.
func (r *round) fullDisk() {
	if os.Getenv(roleKey) == noMounts {
		r.smallFiles()
		return
	}
	w := r.w
	mount := func(flags uintptr, megabytes int) {
		w.t.Helper()
		must(w.t, unix.Mount("tmpfs", w.run, "tmpfs", flags, fmt.Sprintf("size=%dm,mode=0700", megabytes)))
	}
	mount(0, 40)
	defer func() { must(w.t, unix.Unmount(w.run, 0)) }()
	s := w.start("")
	l := w.load(r.next, r.ask)
	time.Sleep(2 * time.Second)
	if n := len(s.plugins()); n == 0 || n == len(pluginNames) {
		w.t.Errorf("%d plugins run from a disk that has room for some", n)
	}
	mount(syscall.MS_REMOUNT, 400)
	w.recovered("the disk grew")
	fill(w)
	for _, name := range pluginNames {
		r.kill(s, name)
	}
	w.recovered("all plugins were killed while the disk was full")
	w.tally.harm(fullDisk)
	l.stop()
	r.end(s)
	w.nothingLeft("a full disk")
	_ = os.Remove(filepath.Join(w.run, "filler"))
}

// fill leaves no byte on the disk of the run folder.
func fill(w *world) {
	w.t.Helper()
	f, err := os.Create(filepath.Join(w.run, "filler"))
	must(w.t, err)
	defer f.Close()
	for _, size := range []int{1 << 20, 1 << 12, 1} {
		for err = nil; err == nil; {
			_, err = f.Write(make([]byte, size))
		}
	}
	if !errors.Is(err, syscall.ENOSPC) {
		w.t.Errorf("the disk is not full: %v", err)
	}
}

// smallFiles stands for a full disk where nothing can be mounted: no file may
// grow to the size of a plugin.
func (r *round) smallFiles() {
	w := r.w
	s := w.start("trap '' XFSZ; ulimit -f 4096")
	l := w.load(r.next, r.ask)
	time.Sleep(3 * time.Second)
	c, closer := w.dial()
	defer closer.Close()
	for _, name := range pluginNames {
		if v := w.probe(c, name); v.kind == answered {
			w.t.Errorf("%s runs without a copy", name)
		}
	}
	w.tally.harm(fullDisk)
	l.stop()
	r.end(s)
}
