//go:build chaos

package chaos_test

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// process is what /proc tells of one.
type process struct {
	pid, parent int
	state       string
	name        string
}

func processOf(pid int) (process, bool) {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	if err != nil {
		return process{}, false
	}
	head, rest, _ := strings.Cut(string(text), " (")
	end := strings.LastIndex(rest, ") ")
	fields := strings.Fields(rest[end+2:])
	p := process{state: fields[0], name: rest[:end]}
	p.pid, _ = strconv.Atoi(head)
	p.parent, _ = strconv.Atoi(fields[1])
	return p, true
}

// running tells whether a process is there and no zombie.
func running(pid int) bool {
	p, ok := processOf(pid)
	return ok && p.state != "Z" && p.state != "X"
}

// descendants are the living processes below one. Zombies among its own children
// that nobody waits for, orphans it has adopted, are put to rest.
func descendants(of int) (out []process) {
	children := map[int][]process{}
	names, _ := filepath.Glob("/proc/[0-9]*")
	for _, name := range names {
		pid, _ := strconv.Atoi(filepath.Base(name))
		if p, ok := processOf(pid); ok {
			children[p.parent] = append(children[p.parent], p)
		}
	}
	queue := []int{of}
	for len(queue) > 0 {
		for _, p := range children[queue[0]] {
			queue = append(queue, p.pid)
			switch {
			case p.state != "Z":
				out = append(out, p)
			case of == os.Getpid() && p.parent == of:
				_, _ = syscall.Wait4(p.pid, nil, syscall.WNOHANG, nil)
			}
		}
		queue = queue[1:]
	}
	return out
}

// plugins gives the processes of plugins by the name that a process list shows.
func (s *server) plugins() map[string]int {
	out := map[string]int{}
	for _, p := range descendants(s.pid()) {
		exe, _ := os.Readlink(fmt.Sprintf("/proc/%d/exe", p.pid))
		for _, name := range pluginNames {
			if strings.HasPrefix(filepath.Base(exe), name+"-") {
				out[name] = p.pid
			}
		}
	}
	return out
}

// descriptors counts the open files of a process.
func descriptors(pid int) int {
	entries, err := os.ReadDir(fmt.Sprintf("/proc/%d/fd", pid))
	if err != nil {
		return -1
	}
	return len(entries)
}

// atRest waits until the number of open files of a server is at most so many, or
// with 0 until it has not changed for a while, and gives it.
func (s *server) atRest(most int) int {
	last, same := -1, 0
	for end := time.Now().Add(20 * time.Second); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		n := descriptors(s.pid())
		if same++; n != last {
			last, same = n, 0
		}
		if same >= 20 && (most == 0 || n <= most) {
			break
		}
	}
	return last
}

var createdBy = regexp.MustCompile(`(?m)^created by (\S+)`)

// goroutines ends a server with SIGQUIT, on which Go tells every goroutine, and
// gives how many were created by each function. Those of the runtime itself, such
// as the collector's, come when it needs them and are not counted.
func (s *server) goroutines() map[string]int {
	s.w.t.Helper()
	s.stop(syscall.SIGQUIT)
	out := map[string]int{}
	for _, m := range createdBy.FindAllStringSubmatch(s.log.all(), -1) {
		if !strings.HasPrefix(m[1], "runtime.") {
			out[m[1]]++
		}
	}
	if len(out) < 3 {
		s.w.t.Errorf("the server told few goroutines: %v\n%s", out, s.log)
	}
	return out
}

// more lists what there is more of than before.
func more(before, after map[string]int) (out []string) {
	for _, k := range slices.Sorted(maps.Keys(after)) {
		if after[k] > before[k] {
			out = append(out, fmt.Sprintf("%s: %d, before %d", k, after[k], before[k]))
		}
	}
	return out
}

// left lists what is left of a server that has ended: processes, and anything in
// its folders for temporary files, where run folders and sockets are.
func (w *world) left() (out []string) {
	for _, p := range descendants(os.Getpid()) {
		out = append(out, fmt.Sprintf("process %d %s", p.pid, p.name))
	}
	for _, name := range folderHolds(w.run, "filler") {
		out = append(out, "file "+filepath.Join(w.run, name))
	}
	for _, name := range folderHolds(filepath.Join(w.folder, "home")) {
		out = append(out, "file home/"+name)
	}
	for _, name := range folderHolds(w.orders, "lixivium-hostile") {
		out = append(out, "file "+filepath.Join(w.orders, name))
	}
	return out
}

// nothingLeft fails when something is.
func (w *world) nothingLeft(after string) {
	w.t.Helper()
	var left []string
	for end := time.Now().Add(5 * time.Second); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if left = w.left(); len(left) == 0 {
			return
		}
	}
	w.t.Errorf("left after %s: %q", after, left)
}
