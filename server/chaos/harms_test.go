//go:build chaos

package chaos_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"time"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
	"lixivium.example/server/app"
	"lixivium.example/server/host"
)

// harm is a kind of harm. It is counted once there is evidence that it was done.
type harm string

const (
	killed      harm = "plugin killed"
	frozen      harm = "plugin frozen"
	slowed      harm = "plugin slowed, stopped nine tenths of the time"
	lingering   harm = "plugin answers late but in time"
	late        harm = "plugin answers after its deadline"
	lied        harm = "plugin lies: "
	quarantined harm = "plugin lies until it is out of service"
	panicked    harm = "plugin panics at one question, twice"
	forked      harm = "plugin forks children and is killed"
	loudErrors  harm = "plugin floods standard error"
	loudOutput  harm = "plugin floods standard output"
	greedy      harm = "plugin eats memory"
	changed     harm = "plugin's file changed on disk"
	drained     harm = "server drained under load and restarted"
	serverDead  harm = "server killed under load and restarted"
	fewFiles    harm = "server short of descriptors"
	tightMemory harm = "server short of memory"
	fullDisk    harm = "disk full"
)

var allHarms = func() []harm {
	all := []harm{killed, frozen, slowed, lingering, late, quarantined, panicked, forked, loudErrors, loudOutput, greedy,
		changed, drained, serverDead, fewFiles, tightMemory, fullDisk}
	for _, l := range lies {
		all = append(all, lied+harm(l))
	}
	return all
}()

// order gives the hostile plugin an order and waits until it is carried out. It
// gives what the plugin wrote of it.
func (w *world) order(kind string) string {
	w.t.Helper()
	w.ordered++
	name := kind + "-" + strconv.Itoa(w.ordered)
	must(w.t, os.WriteFile(filepath.Join(w.orders, orderPrefix+name), nil, 0o600))
	taken := filepath.Join(w.orders, takenPrefix+name)
	var text []byte
	w.eventually("the order "+name+" is taken", 20*time.Second, func() bool {
		var err error
		text, err = os.ReadFile(taken)
		return err == nil && (kind != orderFork || len(text) > 0)
	})
	_ = os.Remove(filepath.Join(w.orders, orderPrefix+name))
	_ = os.Remove(taken)
	return string(text)
}

// troubled waits until the health of a plugin shows a reason.
func (w *world) troubled(plugin string, reasons ...string) bool {
	w.t.Helper()
	last := ""
	ok := w.eventually(plugin+" has the trouble "+strings.Join(reasons, " or "), 20*time.Second, func() bool {
		p := w.status(plugin)
		last = p.GetState() + " " + p.GetLastTrouble()
		return slices.Contains(reasons, p.GetLastTrouble())
	})
	if !ok {
		w.t.Errorf("%s: %s", plugin, last)
	}
	return ok
}

func (w *world) status(plugin string) *lixiviumv1.PluginStatus {
	s, closer := w.dial()
	defer closer.Close()
	ctx, cancel := soon()
	defer cancel()
	list, _ := s.ListPlugins(ctx, &lixiviumv1.ListPluginsRequest{})
	for _, p := range list.GetPlugins() {
		if p.GetName() == plugin {
			return p
		}
	}
	return nil
}

// ownAdditive is one additive of each plugin.
var ownAdditive = map[string]string{
	"acids": "citric-acid", "clays": "kaolin", "hostile": "hostile-powder", "lactate": "sodium-lactate", "pigments": "titanium-dioxide", "sugars": "sugar",
}

// probe asks something that only the process of this plugin can answer, since
// nobody asked it before.
func (w *world) probe(s app.Service, plugin string) verdict {
	w.probes++
	q := &lixiviumv1.FormulateRequest{Recipe: &lixiviumv1.Recipe{
		Fats:   []*lixiviumv1.FatLine{{Id: "oil", Kind: &lixiviumv1.FatLine_Fat{Fat: "olive-oil"}, Amount: &lixiviumv1.FatLine_Mass{Mass: grams(1000)}}},
		Alkali: &lixiviumv1.Alkali{Amount: &lixiviumv1.Alkali_SuperfatPct{SuperfatPct: 5}},
		Water:  &lixiviumv1.Water{Ask: &lixiviumv1.Water_Measure{Measure: &lixiviumv1.WaterMeasure{Measure: &lixiviumv1.WaterMeasure_LyeConcentrationPct{LyeConcentrationPct: 33}}}},
		Doses: []*lixiviumv1.Dose{{Id: "dose", Kind: &lixiviumv1.Dose_Additive{Additive: ownAdditive[plugin]},
			Amount: &lixiviumv1.Dose_OfFatsPct{OfFatsPct: 1 + float64(w.probes)*1e-6}}},
	}}
	return w.call(s, asking("Formulate", q, false, app.Service.Formulate))
}

// recovered waits until every plugin but those named answers rightly again.
func (w *world) recovered(after string, but ...string) {
	w.t.Helper()
	s, closer := w.dial()
	defer closer.Close()
	for _, name := range pluginNames {
		if strings.Contains(strings.Join(but, " "), name) {
			continue
		}
		var last verdict
		ok := w.eventually(name+" answers again after: "+after, 30*time.Second, func() bool {
			last = w.probe(s, name)
			return last.kind == answered && last.wrong == ""
		})
		if !ok {
			w.t.Errorf("the last answer: %+v; health: %v", last, w.status(name))
		}
	}
}

// redeemed has the hostile plugin answer rightly until two faults are pardoned, so
// that a quick machine does not bring together what it bears only apart.
func (w *world) redeemed() {
	w.t.Helper()
	s, closer := w.dial()
	defer closer.Close()
	right := 0
	w.eventually("hostile answers rightly for a while", 30*time.Second, func() bool {
		for range 40 {
			if v := w.probe(s, "hostile"); v.kind == answered && v.wrong == "" {
				right++
			}
		}
		return right >= 40
	})
}

// harmPlugins does to the plugins all that can be done to them, in an order of
// chance, while callers go on. The hostile one is out of service in the end. It
// gives the server, which may be another than before.
func (r *round) harmPlugins(s *server) *server {
	w := r.w
	honestOnes := []string{"acids", "clays", "lactate", "pigments", "sugars"}
	some := func() string { return honestOnes[r.rand.IntN(len(honestOnes))] }
	harms := []func(){
		func() { r.kill(s, some()) },
		func() { r.kill(s, some()) },
		func() { r.freeze(s, some()) },
		func() { r.slow(s, some()) },
		func() { w.order(orderLinger); w.tally.harm(lingering) },
		func() { w.order(orderLate); r.seen(late, "hostile", host.ReasonTimeout) },
		func() { r.fork(s) },
		func() { w.order(orderStderr); w.tally.harm(loudErrors) },
		func() { w.order(orderStdout); w.tally.harm(loudOutput) },
		func() { r.eat(greedy, host.ReasonMemory) },
		r.panics,
	}
	for _, l := range lies {
		harms = append(harms, func() { w.order(l); r.seen(lied+harm(l), "hostile", host.ReasonBroken, host.ReasonQuarantined) })
	}
	r.rand.Shuffle(len(harms), func(i, j int) { harms[i], harms[j] = harms[j], harms[i] })
	for _, h := range harms {
		h()
		if w.status("hostile").GetState() == string(host.Quarantined) {
			// The lie met a question that was asked again to compare, which puts
			// a plugin out of service at once.
			r.end(s)
			s = w.start("")
		}
		w.recovered("a harm to a plugin")
		w.redeemed()
	}
	// Lies beyond what is borne, at once.
	for n := range 12 {
		must(w.t, os.WriteFile(filepath.Join(w.orders, fmt.Sprintf("%s%s-q%d", orderPrefix, orderBounds, n)), nil, 0o600))
	}
	r.seen(quarantined, "hostile", host.ReasonQuarantined)
	time.Sleep(2 * time.Second) // for some answers without it
	w.clearOrders()
	return s
}

// seen counts a harm once the health of the plugin shows one of its reasons.
func (r *round) seen(h harm, plugin string, reasons ...string) {
	if r.w.troubled(plugin, reasons...) {
		r.w.tally.harm(h)
	}
}

// pid gives the process of a plugin, and waits while it is being restarted.
func (r *round) pid(s *server, plugin string) (pid int) {
	r.w.eventually(plugin+" runs", 15*time.Second, func() bool { pid = s.plugins()[plugin]; return pid != 0 })
	return pid
}

func (r *round) kill(s *server, plugin string) {
	pid := r.pid(s, plugin)
	_ = syscall.Kill(pid, syscall.SIGKILL)
	if r.w.eventually(plugin+" is gone", 5*time.Second, func() bool { return !running(pid) }) {
		r.w.tally.harm(killed)
	}
}

// freeze stops a plugin for good: the host has to find out and replace it.
func (r *round) freeze(s *server, plugin string) {
	pid := r.pid(s, plugin)
	_ = syscall.Kill(pid, syscall.SIGSTOP)
	if r.w.eventually("the frozen "+plugin+" is replaced", 20*time.Second, func() bool { return !running(pid) }) {
		r.w.tally.harm(frozen)
	}
}

func (r *round) slow(s *server, plugin string) {
	pid := r.pid(s, plugin)
	for range 40 {
		_ = syscall.Kill(pid, syscall.SIGSTOP)
		time.Sleep(45 * time.Millisecond)
		_ = syscall.Kill(pid, syscall.SIGCONT)
		time.Sleep(5 * time.Millisecond)
	}
	if !running(pid) {
		r.w.t.Errorf("%s was slow and was not borne", plugin)
	}
	r.w.tally.harm(slowed)
}

// fork has the hostile plugin leave children behind, which must go with it.
func (r *round) fork(s *server) {
	pid := r.pid(s, "hostile")
	child, _ := strconv.Atoi(strings.TrimSpace(r.w.order(orderFork)))
	var below []process
	if !r.w.eventually("the hostile plugin's child has a child", 5*time.Second, func() bool { below = descendants(child); return len(below) > 0 }) {
		return
	}
	_ = syscall.Kill(pid, syscall.SIGKILL)
	if r.w.eventually("the children of a killed plugin are gone", 5*time.Second, func() bool { return !running(child) && !running(below[0].pid) }) {
		r.w.tally.harm(forked)
	}
}

// eat has the hostile plugin take memory until that ends it, for one of the
// reasons.
func (r *round) eat(h harm, reasons ...string) {
	for range 3 {
		r.w.order(orderEat)
		for end := time.Now().Add(15 * time.Second); time.Now().Before(end); time.Sleep(100 * time.Millisecond) {
			if slices.Contains(reasons, r.w.status("hostile").GetLastTrouble()) {
				r.w.tally.harm(h)
				return
			}
		}
	}
	r.w.t.Errorf("the greedy plugin was not ended with %q: %v", reasons, r.w.status("hostile"))
}

// panics gives two orders at once: the question that meets the first is asked
// again, alone, and meets the second. Now and then two questions meet one each,
// or an answer is given in part, so it may take some attempts.
func (r *round) panics() {
	w := r.w
	poisoned := func() int { return w.tally.count("Internal " + host.ReasonPoison) }
	before := poisoned()
	for attempt := range 8 {
		for n := range 2 {
			must(w.t, os.WriteFile(filepath.Join(w.orders, fmt.Sprintf("%s%s-p%d", orderPrefix, orderPanic, 2*attempt+n)), nil, 0o600))
		}
		for end := time.Now().Add(4 * time.Second); time.Now().Before(end) && poisoned() == before; {
			time.Sleep(20 * time.Millisecond)
		}
		w.clearOrders()
		if poisoned() > before {
			w.tally.harm(panicked)
			return
		}
		w.recovered("panics")
	}
	w.t.Error("no question that takes the plugin down twice was refused")
}

// clearOrders removes orders that nobody took, and the traces of those taken.
func (w *world) clearOrders() {
	for _, name := range folderHolds(w.orders, "lixivium-hostile") {
		_ = os.Remove(filepath.Join(w.orders, name))
	}
}
