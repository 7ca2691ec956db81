package host

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"go.yaml.in/yaml/v3"

	"lixivium.example/engine"
)

func TestAnswers(t *testing.T) {
	h := started(t, Config{}, build(t, script{}))
	answers(t, h, "a", "b")
	p := health(h)
	if p.State != Ready || p.Calls != 1 || p.MedianTime <= 0 || p.PID == 0 || p.ResidentBytes == 0 || p.Restarts != 0 || p.LastReason != "" || !strings.HasPrefix(p.Digest, "sha256:") {
		t.Errorf("health is %+v", p)
	}
	info, ok := h.Owner("kaolin")
	if !ok || info.Plugin.Digest != p.Digest || info.Plugin.Version != "1" || len(info.Parameters) != 1 {
		t.Errorf("the owner of kaolin is %+v, %v", info, ok)
	}
	if _, ok := h.Owner("bentonite"); ok {
		t.Error("bentonite has an owner")
	}
}

func TestStartsOnFirstNeed(t *testing.T) {
	h := newHost(t, Config{}, build(t, script{}), build(t, script{Name: "salts", Owns: []string{"salt"}}))
	for _, p := range h.Health() {
		if p.State != NotStarted || p.PID != 0 {
			t.Errorf("before it is needed: %+v", p)
		}
	}
	if _, ok := h.Owner("kaolin"); !ok {
		t.Error("kaolin has no owner")
	}
	answers(t, h, "a")
	for _, p := range h.Health() {
		if (p.State == Ready) != (p.Name == "clays") {
			t.Errorf("%s is %s", p.Name, p.State)
		}
	}
}

// adviceIn reads the plugin's entry that a refusal prints, as an operator would
// copy it into lixivium.yaml.
func adviceIn(t *testing.T, err error) Line {
	t.Helper()
	_, entry, ok := strings.Cut(err.Error(), "\n  - name:")
	if !ok {
		t.Fatalf("no line to add in: %v", err)
	}
	entry, _, _ = strings.Cut("plugins:\n  - name:"+entry, "\nIt stays out")
	var file struct {
		Plugins []struct {
			Name, File, SHA256     string
			Grants                 []engine.Grant
			Additives, WatchesFats []string
		}
	}
	if err := yaml.Unmarshal([]byte(strings.ReplaceAll(entry, "watches_fats", "watchesfats")), &file); err != nil || len(file.Plugins) != 1 {
		t.Fatalf("the advice is no YAML: %v\n%s", err, entry)
	}
	p := file.Plugins[0]
	return Line{p.Name, p.File, p.SHA256, p.Grants, p.Additives, p.WatchesFats}
}

// What the operator's file does not allow is not served, and the message gives
// the line that would allow it.
func TestRefusalsPrintTheLineToAdd(t *testing.T) {
	for name, spoil := range map[string]func(*Line){
		"another digest": func(l *Line) { l.SHA256 = strings.Repeat("0", 64) },
		"no digest":      func(l *Line) { l.SHA256 = "" },
		"another name":   func(l *Line) { l.Name = "salts" },
		"fewer grants":   func(l *Line) { l.Grants = l.Grants[1:] },
		"fewer ids":      func(l *Line) { l.Additives = l.Additives[:1] },
		"fewer fats":     func(l *Line) { l.WatchesFats = nil },
	} {
		t.Run(name, func(t *testing.T) {
			l := build(t, script{Owns: []string{"kaolin", "bentonite"}, Watches: []string{"olive-oil"}})
			spoil(&l)
			h := newHost(t, Config{}, l)
			err := h.StartAll(within(t, 5*time.Second))
			if err == nil {
				t.Fatal("it was started")
			}
			p := health(h)
			if p.State != Quarantined || p.LastReason != ReasonRefused || p.PID != 0 {
				t.Errorf("health is %+v", p)
			}
			if _, ok := h.Owner("kaolin"); ok || h.Missing("kaolin") == nil {
				t.Error("kaolin has an owner all the same")
			}
			if name == "another digest" || name == "no digest" {
				if left, _ := filepath.Glob(h.folder.path + "/[xc]*"); len(left) > 0 {
					t.Errorf("a file that nobody accepted is in the run folder: %v", left)
				}
			}
			advice := adviceIn(t, err)
			for range 2 { // the name, then what else it says of itself
				if err = newHost(t, Config{}, advice).StartAll(within(t, 5*time.Second)); err == nil {
					return
				}
				advice = adviceIn(t, err)
			}
			t.Errorf("the advice does not work: %v", err)
		})
	}
}

func TestInspectGivesTheLine(t *testing.T) {
	want := build(t, script{Watches: []string{"olive-oil"}})
	got, err := Inspect(within(t, 5*time.Second), Config{RunFolder: runBase(t)}, want.File)
	if err != nil || got.YAML() != want.YAML() {
		t.Errorf("got %v\n%s\nwant\n%s", err, got.YAML(), want.YAML())
	}
}

// A start that goes wrong ends in time, says why, and leaves nothing behind.
func TestStartsThatGoWrong(t *testing.T) {
	for start, want := range map[string]string{
		"garbage":   "hello, I am a plugin",
		"slow":      "within 400ms",
		"mute":      "within 400ms",
		"frozen":    "within 400ms",
		"exit":      "exit status 3; its last words: I do not want to",
		"tcp":       "only a unix socket",
		"elsewhere": "not in the folder",
		"unwell":    "NOT_SERVING",
		"misshapen": "breaks the contract",
	} {
		t.Run(start, func(t *testing.T) {
			h := newHost(t, Config{StartTimeout: 400 * time.Millisecond}, build(t, script{Start: start}))
			began := time.Now()
			err := h.StartAll(within(t, 10*time.Second))
			if err == nil || !strings.Contains(err.Error(), want) {
				t.Errorf("the start is told as %v, want %q", err, want)
			}
			if took := time.Since(began); took > 1500*time.Millisecond {
				t.Errorf("it took %v", took)
			}
			if _, ok := h.Owner("kaolin"); ok {
				t.Error("kaolin has an owner")
			}
		})
	}
}

func TestWhatNeverStartsIsQuarantined(t *testing.T) {
	h := newHost(t, Config{MaxStrikes: 3}, build(t, script{Start: "exit"}))
	_ = h.StartAll(within(t, 5*time.Second))
	eventually(t, "quarantine", 5*time.Second, func() bool { return health(h).State == Quarantined })
	if p := health(h); p.LastReason != ReasonQuarantined || !strings.Contains(p.LastError, "I do not want to") {
		t.Errorf("health is %+v", p)
	}
}

// The host's environment may hold secrets.
func TestEnvironmentIsClean(t *testing.T) {
	t.Setenv("LIXIVIUM_SECRET", "hush")
	h := started(t, Config{}, build(t, script{}))
	a, err := h.Adjust(within(t, 5*time.Second), about("tell-1"))
	if err != nil || len(a.Adjustments) != 1 {
		t.Fatal(a, err)
	}
	_, env, _ := strings.Cut(a.Adjustments[0].Evidence.Source, " env ")
	for _, v := range strings.Fields(env) {
		switch name, _, _ := strings.Cut(v, "="); name {
		case cookieKey, "PLUGIN_PROTOCOL_VERSIONS", "PLUGIN_UNIX_SOCKET_DIR", folderKey, "GOMEMLIMIT", "GOMAXPROCS":
		default:
			t.Errorf("the plugin sees %s", v)
		}
	}
}

// The bytes that are hashed are the bytes that run: the file may change right
// after, and be gone at the next start.
func TestRunsItsPrivateCopy(t *testing.T) {
	l := build(t, script{Version: "private"})
	text, err := os.ReadFile(l.File)
	if err != nil {
		t.Fatal(err)
	}
	l.File = filepath.Join(t.TempDir(), "plugin")
	if err := os.WriteFile(l.File, text, 0o700); err != nil {
		t.Fatal(err)
	}
	h := started(t, Config{}, l)
	if exe, err := os.Readlink(fmt.Sprintf("/proc/%d/exe", health(h).PID)); err != nil || filepath.Dir(exe) != h.folder.path {
		t.Errorf("%s runs (%v), want a copy in the run folder", exe, err)
	}
	if err := os.WriteFile(l.File, []byte("#!/bin/sh\n"), 0o700); err != nil {
		t.Fatal(err)
	}
	first := health(h).PID
	_ = syscall.Kill(first, syscall.SIGKILL)
	eventually(t, "a restart", 3*time.Second, func() bool { return health(h).Restarts == 1 })
	answers(t, h, "a")
}

func TestTamperedCopyIsNotRun(t *testing.T) {
	l := build(t, script{})
	folder := t.TempDir()
	path, err := privateCopy(folder, l)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(path, 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte("#!/bin/sh\n"), 0o700); err != nil {
		t.Fatal(err)
	}
	again, err := privateCopy(folder, l)
	if err != nil {
		t.Fatal(err)
	}
	want, _ := ParseDigest(l.SHA256)
	if got, err := hashFile(again); err != nil || !got.Matches(want) {
		t.Errorf("the copy that would run has the digest %v (%v)", got, err)
	}
}

func TestRunFolderTooLongForASocket(t *testing.T) {
	_, err := New(Config{RunFolder: "/tmp/" + strings.Repeat("x", 60)})
	if err == nil || !strings.Contains(err.Error(), "Name a shorter one") {
		t.Errorf("got %v", err)
	}
	if err := checkRunFolder("/run/lixivium"); err != nil {
		t.Errorf("a short folder: %v", err)
	}
}

// Servers in other languages refuse the path of a socket as an authority.
func TestAuthorityIsLocalhost(t *testing.T) {
	answers(t, started(t, Config{}, build(t, script{Start: "strict"})), "a")
}

// A file that is open for writing in any process cannot be run, and a child
// forked meanwhile holds everything open for a moment.
func TestCopyCanBeRunWhileOthersFork(t *testing.T) {
	var stop atomic.Bool
	var wait sync.WaitGroup
	for range 3 {
		wait.Go(func() {
			for !stop.Load() {
				_ = exec.Command("/bin/true").Run()
			}
		})
	}
	defer wait.Wait()
	defer stop.Store(true)
	for n := range 60 {
		path, _, err := copyExecutable(t.TempDir(), "/bin/true")
		if err != nil {
			t.Fatal(err)
		}
		if err := exec.Command(path).Run(); err != nil {
			t.Fatalf("copy %d: %v", n, err)
		}
	}
}
