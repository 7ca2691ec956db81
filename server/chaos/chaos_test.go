//go:build chaos

package chaos_test

import (
	"cmp"
	"math/rand/v2"
	"os"
	"strconv"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"go.uber.org/goleak"
)

// round is one time through all harms.
type round struct {
	w    *world
	rand *rand.Rand
	ask  *asker
	next *atomic.Int64 // question
	rest atRest
}

// atRest is what a server holds that was started and asked once.
type atRest struct {
	descriptors int
	goroutines  map[string]int
}

func TestChaos(t *testing.T) {
	length, err := chaosTime()
	must(t, err)
	seed, err := strconv.ParseUint(cmp.Or(os.Getenv("CHAOS_SEED"), strconv.Itoa(os.Getpid())), 10, 64)
	must(t, err)
	leaks := goleak.IgnoreCurrent()
	files := descriptors(os.Getpid())
	t.Run("world", func(t *testing.T) { // ends its helpers before the leaks are counted
		w := newWorld(t)
		r := &round{w: w, rand: rand.New(rand.NewPCG(seed, 0)), ask: &asker{seed: seed, additives: w.judge.set.Additives()}, next: new(atomic.Int64)}
		t.Logf("CHAOS_TIME=%v CHAOS_SEED=%d, disk: %s", length, seed, os.Getenv(roleKey))
		defer func() {
			t.Logf("\n%s", w.tally)
		}()
		r.measureRest()
		for began, n := time.Now(), 1; n == 1 || time.Since(began) < length && !t.Failed(); n++ {
			for _, phase := range []struct {
				name string
				run  func()
			}{{"plugins", r.plugins}, {"server", r.server}, {"changed file", r.changedFile},
				{"few descriptors", r.fewDescriptors}, {"little memory", r.littleMemory}, {"full disk", r.fullDisk}} {
				start := time.Now()
				phase.run()
				w.nothingLeft(phase.name)
				t.Logf("round %d, %s: %.0f s", n, phase.name, time.Since(start).Seconds())
				for _, wrong := range w.tally.takeWrong() {
					t.Errorf("wrong: %s", wrong)
				}
			}
		}
		if left := w.tally.notDone(); len(left) > 0 {
			t.Errorf("never done: %q", left)
		}
		if w.tally.count(answered) < 1000 || w.tally.count(inPart) == 0 || w.tally.count(refusedBoth) == 0 {
			t.Error("too little was answered for the run to say anything")
		}
	})
	goleak.VerifyNone(t, leaks)
	if now := descriptors(os.Getpid()); now > files {
		t.Errorf("this process holds %d open files, before %d", now, files)
	}
}

// measureRest tells what an untroubled server holds.
func (r *round) measureRest() {
	s := r.w.start("")
	r.w.recovered("the start")
	r.rest.descriptors = s.atRest(0)
	r.rest.goroutines = s.goroutines()
	r.end(r.w.start("")) // sweeps what the other left
	r.w.nothingLeft("measuring")
	r.w.t.Logf("a server at rest holds %d descriptors and %v", r.rest.descriptors, r.rest.goroutines)
}

// compareRest ends a server that nobody asks any more, and fails when it holds
// more than an untroubled one.
func (r *round) compareRest(s *server) {
	r.w.t.Helper()
	if n := s.atRest(r.rest.descriptors); n > r.rest.descriptors {
		r.w.t.Errorf("the server holds %d descriptors, untroubled %d", n, r.rest.descriptors)
	}
	if grown := more(r.rest.goroutines, s.goroutines()); len(grown) > 0 {
		r.w.t.Errorf("goroutines are left: %q", grown)
	}
	r.end(r.w.start(""))
}

// end drains a server that must leave by itself, in order.
func (r *round) end(s *server) {
	r.w.t.Helper()
	if code := s.stop(syscall.SIGTERM); code != 0 {
		r.w.t.Errorf("the server was to drain and ended with %d:\n%s", code, s.log)
	}
}

// plugins harms the plugins of one server.
func (r *round) plugins() {
	s := r.w.start("")
	l := r.w.load(r.next, r.ask)
	s = r.harmPlugins(s)
	l.stop()
	r.w.recovered("all harms to plugins", "hostile")
	r.compareRest(s)
}

// server drains and kills servers under load.
func (r *round) server() {
	w := r.w
	s := w.start("")
	w.recovered("the start")
	l := w.load(r.next, r.ask)
	time.Sleep(time.Second)
	r.end(s)
	w.nothingLeft("a drain under load")
	s = w.start("")
	w.recovered("a drain")
	w.tally.harm(drained)

	plugins := s.plugins()
	if len(plugins) != len(pluginNames) {
		w.t.Errorf("of the plugins a process list shows %v", plugins)
	}
	s.stop(syscall.SIGKILL)
	w.eventually("no plugin outlives a killed server", 5*time.Second, func() bool {
		for _, pid := range plugins {
			if running(pid) {
				return false
			}
		}
		return true
	})
	s = w.start("")
	if folders := folderHolds(w.run); len(folders) != 1 {
		w.t.Errorf("after a killed server the next one runs beside %q", folders)
	}
	w.recovered("a killed server")
	w.tally.harm(serverDead)
	l.stop()
	r.compareRest(s)
}

// changedFile changes the file of a plugin that runs.
func (r *round) changedFile() {
	w := r.w
	plugin := []string{"acids", "clays", "lactate", "pigments", "sugars"}[r.rand.IntN(5)]
	s := w.start("")
	l := w.load(r.next, r.ask)
	w.recovered("the start")
	size, err := os.Stat(w.file(plugin))
	must(w.t, err)
	f, err := os.OpenFile(w.file(plugin), os.O_WRONLY|os.O_APPEND, 0)
	must(w.t, err)
	_, err = f.WriteString("changed")
	must(w.t, err)
	must(w.t, f.Close())
	r.kill(s, plugin)
	w.recovered(plugin + "'s file was changed and its process killed")
	r.end(s)
	s = w.start("")
	w.recovered("a restart with a changed file", plugin)
	if p := w.status(plugin); p.GetLastTrouble() != "PLUGIN_REFUSED" || s.plugins()[plugin] != 0 {
		w.t.Errorf("the changed file of %s is not refused: %v", plugin, p)
	}
	c, closer := w.dial()
	if v := w.probe(c, plugin); v.kind != "Unavailable ADDITIVE_OWNER_MISSING" {
		w.t.Errorf("the additives of a refused plugin: %+v", v)
	}
	_ = closer.Close()
	must(w.t, os.Truncate(w.file(plugin), size.Size()))
	r.end(s)
	s = w.start("")
	w.recovered(plugin + "'s file was put right")
	w.tally.harm(changed)
	l.stop()
	r.end(s)
}
