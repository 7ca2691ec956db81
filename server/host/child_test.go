package host

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

const hostChildKey = "LIXIVIUM_TEST_HOST"

// hostChild is what a host in a process of its own is told.
type hostChild struct {
	Base  string
	Line  Line
	Doses []string // asked about, one after another
}

// runHostChild runs a host, tells the ids of its plugins, and then says back
// what comes in on standard input.
func runHostChild() {
	var c hostChild
	if err := json.Unmarshal([]byte(os.Getenv(hostChildKey)), &c); err != nil {
		panic(err)
	}
	h, err := New(Config{Plugins: []Line{c.Line}, RunFolder: c.Base, CallTimeout: 300 * time.Millisecond})
	if err != nil {
		panic(err)
	}
	if err := h.StartAll(context.Background()); err != nil {
		panic(err)
	}
	fmt.Println(health(h).PID)
	for _, d := range c.Doses {
		go func() { _, _ = h.Adjust(context.Background(), about(d)) }()
	}
	text, _ := io.ReadAll(os.Stdin)
	fmt.Printf("read %q\n", text)
	if err := h.Close(context.Background()); err != nil {
		panic(err)
	}
}

// startHost starts a host child and gives it, the id of its plugin, and its
// standard input and output.
func startHost(t *testing.T, c hostChild) (cmd *exec.Cmd, plugin int, in io.WriteCloser, out *bufio.Reader) {
	t.Helper()
	text, err := json.Marshal(c)
	if err != nil {
		t.Fatal(err)
	}
	cmd = exec.Command("/proc/self/exe")
	cmd.Env = append(os.Environ(), hostChildKey+"="+string(text))
	cmd.Stderr = t.Output()
	if in, err = cmd.StdinPipe(); err != nil {
		t.Fatal(err)
	}
	stdout, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = cmd.Process.Kill(); _ = cmd.Wait() })
	out = bufio.NewReader(stdout)
	if _, err := fmt.Fscanln(out, &plugin); err != nil {
		t.Fatalf("the host told no plugin: %v", err)
	}
	return cmd, plugin, in, out
}

// running tells whether a process is there and no zombie.
func running(pid int) bool {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	if err != nil {
		return false
	}
	_, rest, _ := bytes.Cut(text, []byte(") "))
	return len(rest) > 0 && rest[0] != 'Z' && rest[0] != 'X'
}

// A host that is killed outright takes its plugins with it: by the lifeline,
// and where a plugin keeps none or is frozen, by the system. What it leaves in
// the run folder is swept by the next host.
func TestNoPluginOutlivesAKilledHost(t *testing.T) {
	for _, c := range []struct {
		name string
		s    script
		dose []string
	}{
		{"lifeline", script{}, nil},
		{"no lifeline", script{Start: "deaf"}, nil},
		{"frozen", script{}, []string{"freeze-1"}},
		{"busy", script{}, []string{"hang-1"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			base := runBase(t)
			cmd, plugin, _, _ := startHost(t, hostChild{base, build(t, c.s), c.dose})
			time.Sleep(50 * time.Millisecond)
			if !running(plugin) {
				t.Fatal("the plugin does not run")
			}
			_ = cmd.Process.Kill()
			_ = cmd.Wait()
			eventually(t, "the plugin is gone", 2*time.Second, func() bool { return !running(plugin) })
			if left, _ := os.ReadDir(base); len(left) != 1 {
				t.Fatalf("left behind: %v, want one run folder, to see it swept", left)
			}
			h := newHost(t, Config{RunFolder: base}, build(t, script{}))
			if err := h.StartAll(within(t, 5*time.Second)); err != nil {
				t.Fatal(err)
			}
			if left, _ := os.ReadDir(base); len(left) != 1 || !strings.Contains(left[0].Name(), fmt.Sprint("-", os.Getpid(), "-")) {
				t.Errorf("after the sweep: %v, want this host's own folder", left)
			}
		})
	}
}

// The end of its standard input alone makes a plugin leave.
func TestLifeline(t *testing.T) {
	h := started(t, Config{}, build(t, script{}))
	s := h.plugins[0]
	s.mu.Lock() // its end is written while this test still waits
	p := s.run.process
	s.mu.Unlock()
	_ = p.lifeline.Close()
	select {
	case <-p.exited:
	case <-time.After(2 * time.Second):
		t.Fatal("it stayed")
	}
	if end, _ := p.end(); end != "it ended with exit status 0" {
		t.Error(end)
	}
}

// A plugin's standard input is its lifeline and not the caller's: go-plugin
// would hand ours on, and the plugin would eat it.
func TestStandardInputStaysTheCallers(t *testing.T) {
	cmd, plugin, in, out := startHost(t, hostChild{runBase(t), build(t, script{}), []string{"d-1"}})
	time.Sleep(50 * time.Millisecond)
	if _, err := io.WriteString(in, "two recipes\n"); err != nil {
		t.Fatal(err)
	}
	if err := in.Close(); err != nil {
		t.Fatal(err)
	}
	line, err := out.ReadString('\n')
	if err != nil || line != "read \"two recipes\\n\"\n" {
		t.Errorf("the caller got %q (%v) of its own input", line, err)
	}
	if err := cmd.Wait(); err != nil {
		t.Errorf("the host ended with %v", err)
	}
	if running(plugin) {
		t.Error("the plugin still runs after its host closed")
	}
}

// A run folder whose owner lives is left alone, whatever the process id says.
func TestSweepLeavesTheLiving(t *testing.T) {
	base := runBase(t)
	_, _, _, _ = startHost(t, hostChild{base, build(t, script{}), nil})
	other, _ := os.ReadDir(base)
	// As seen from where the owner's process id means nothing.
	gone := exec.Command("/bin/true")
	if err := gone.Run(); err != nil {
		t.Fatal(err)
	}
	locked := filepath.Join(base, fmt.Sprintf("lx-%d-abcdef", gone.Process.Pid))
	if err := os.Rename(filepath.Join(base, other[0].Name()), locked); err != nil {
		t.Fatal(err)
	}
	foreign := filepath.Join(base, "lx-notes")
	if err := os.Mkdir(foreign, 0o700); err != nil {
		t.Fatal(err)
	}
	dead := filepath.Join(base, fmt.Sprintf("lx-%d-012345", gone.Process.Pid))
	if err := os.Mkdir(dead, 0o700); err != nil {
		t.Fatal(err)
	}
	sweep(base)
	for _, c := range []struct {
		path  string
		stays bool
	}{{locked, true}, {foreign, true}, {dead, false}} {
		if _, err := os.Stat(c.path); (err == nil) != c.stays {
			t.Errorf("%s: stays %v, want %v", c.path, err == nil, c.stays)
		}
		_ = os.RemoveAll(c.path)
	}
}

// A list of processes shows which plugin a process is.
func TestProcessesAreNamedAfterTheirPlugin(t *testing.T) {
	h := started(t, Config{}, build(t, script{}))
	name, err := os.ReadFile(fmt.Sprintf("/proc/%d/comm", health(h).PID))
	if err != nil || !strings.HasPrefix(string(name), "clays-") {
		t.Errorf("the plugin clays runs as %q (%v)", name, err)
	}
}

// An interrupt typed at a terminal goes to the whole foreground group. Plugins
// are not in it: the host decides when they stop.
func TestPluginsHaveAGroupOfTheirOwn(t *testing.T) {
	h := started(t, Config{}, build(t, script{}))
	group, err := syscall.Getpgid(health(h).PID)
	if err != nil || group != health(h).PID {
		t.Errorf("the plugin is in group %d (%v), want one of its own", group, err)
	}
}
