//go:build chaos

package chaos_test

import (
	"context"
	"fmt"
	"io"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"google.golang.org/grpc"
	"google.golang.org/grpc/backoff"

	"lixivium.example/server/app"
)

// world is where a run takes place: programs, plugins, and the folders they use.
type world struct {
	t       testing.TB
	folder  string // of all that follows
	bin     string // lixiviumd, the plugins, lixivium.yaml
	orders  string // the folder of the hostile plugin
	run     string // TMPDIR of the server
	address string // the same for every server
	judge   *judge
	tally   *tally
	starts  chan func() // all servers are started by one thread, see newWorld
	outage  outage
	probes  int // asked so far
	ordered int // orders given so far
}

// pluginNames are the plugins in the order of lixivium.yaml.
var pluginNames = []string{"acids", "clays", "hostile", "lactate", "pigments", "sugars"}

func newWorld(t testing.TB) *world {
	t.Helper()
	folder := os.Getenv(folderKey)
	w := &world{t: t, folder: folder, bin: filepath.Join(folder, "bin"), run: filepath.Join(folder, "run"), tally: newTally(), starts: make(chan func())}
	w.orders = filepath.Join(w.bin, "hostile")
	for _, f := range []string{w.run, w.orders, filepath.Join(folder, "home")} {
		must(t, os.MkdirAll(f, 0o700))
	}
	build := exec.Command("go", "build", "-trimpath", "-o", w.bin+"/", "lixivium.example/server/cmd/lixiviumd", "lixivium.example/plugins/...")
	build.Env = append(os.Environ(), "CGO_ENABLED=0") // as users get them
	build.Stderr = os.Stderr
	must(t, build.Run())
	must(t, copyFile("/proc/self/exe", w.file("hostile")))
	var err error
	if w.judge, err = newJudge(); err != nil {
		t.Fatal(err)
	}
	if w.address, err = freeAddress(); err != nil {
		t.Fatal(err)
	}
	w.writeConfig()
	// A server dies with the thread that started it, and Go ends threads as it
	// likes: this one lives until the world ends.
	go func() {
		runtime.LockOSThread()
		for f := range w.starts {
			f()
		}
	}()
	t.Cleanup(func() { close(w.starts) })
	return w
}

func (w *world) file(plugin string) string {
	if plugin == "hostile" {
		return filepath.Join(w.orders, "lixivium-hostile")
	}
	return filepath.Join(w.bin, "lixivium-"+plugin)
}

// writeConfig accepts the plugins as an operator does, by plugin-line.
func (w *world) writeConfig() {
	w.t.Helper()
	args := []string{"plugin-line", "--relative-to", w.bin}
	for _, name := range pluginNames {
		args = append(args, w.file(name))
	}
	c := exec.Command(filepath.Join(w.bin, "lixiviumd"), args...)
	c.Env = w.environment()
	c.Stderr = os.Stderr
	out, err := c.Output()
	must(w.t, err)
	must(w.t, os.WriteFile(filepath.Join(w.bin, "lixivium.yaml"), append(out, "drain_timeout: 20s\n"...), 0o600))
}

func (w *world) environment() []string {
	return []string{"HOME=" + filepath.Join(w.folder, "home"), "TMPDIR=" + w.run, "PATH=/usr/bin:/bin"}
}

// server is one run of lixiviumd.
type server struct {
	w      *world
	cmd    *exec.Cmd
	log    *tail
	exited chan struct{}
	// stopping: it was told to.
	stopping atomic.Bool
}

// start runs lixiviumd under the limits of a shell, such as "ulimit -n 64", and
// waits until it takes calls.
func (w *world) start(limits string, env ...string) *server {
	w.t.Helper()
	if limits == "" {
		limits = ":"
	}
	s := &server{w: w, log: &tail{}, exited: make(chan struct{})}
	s.cmd = exec.Command("/bin/sh", "-c", limits+` && exec "$0" "$@"`, filepath.Join(w.bin, "lixiviumd"),
		"--config", filepath.Join(w.bin, "lixivium.yaml"), "--listen", w.address, "--print-address", "--log-level", "warn")
	s.cmd.Env = append(w.environment(), env...)
	s.cmd.Dir = w.folder
	s.cmd.Stderr = s.log
	s.cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true, Pdeathsig: syscall.SIGKILL}
	// A plugin's child that outlived it would hold the log open.
	s.cmd.WaitDelay = time.Second
	said := make(chan struct{})
	s.cmd.Stdout = &firstWrite{said: said}
	started := make(chan error)
	w.starts <- func() { started <- s.cmd.Start() }
	must(w.t, <-started)
	go func() {
		_ = s.cmd.Wait()
		if !s.stopping.Load() {
			w.t.Errorf("lixiviumd ended by itself with %v:\n%.3000s", s.cmd.ProcessState, s.log.all())
		}
		close(s.exited)
	}()
	select {
	case <-said:
	case <-s.exited:
		w.t.Fatalf("lixiviumd ended with %v:\n%s", s.cmd.ProcessState, s.log)
	case <-time.After(60 * time.Second):
		s.signal(syscall.SIGQUIT)
		<-s.exited
		w.t.Fatalf("lixiviumd does not listen:\n%s", s.log)
	}
	w.outage.end()
	return s
}

func (s *server) pid() int { return s.cmd.Process.Pid }

func (s *server) signal(sig syscall.Signal) { _ = s.cmd.Process.Signal(sig) }

// stop ends the server with a signal and gives its exit code, -1 after SIGKILL.
func (s *server) stop(sig syscall.Signal) int {
	s.w.t.Helper()
	s.w.outage.begin()
	s.stopping.Store(true)
	s.signal(sig)
	select {
	case <-s.exited:
	case <-time.After(60 * time.Second):
		s.signal(syscall.SIGQUIT)
		<-s.exited
		s.w.t.Errorf("the server did not leave within a minute of %v:\n%s", sig, s.log)
	}
	return s.cmd.ProcessState.ExitCode()
}

// dial connects to whichever server runs.
func (w *world) dial() (app.Service, io.Closer) {
	w.t.Helper()
	s, closer, err := app.Dial(w.address, grpc.WithConnectParams(grpc.ConnectParams{
		Backoff: backoff.Config{BaseDelay: 20 * time.Millisecond, Multiplier: 1.5, MaxDelay: 200 * time.Millisecond}, MinConnectTimeout: 20 * time.Second,
	}))
	must(w.t, err)
	return s, closer
}

// outage knows when the server was down.
type outage struct {
	mu    sync.Mutex
	since time.Time // zero: it is up
	until time.Time // of the last one
}

// settling is how long clients may take to notice that a server is back.
const settling = time.Second

func (o *outage) begin() {
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.since.IsZero() {
		o.since = time.Now()
	}
}

func (o *outage) end() {
	o.mu.Lock()
	defer o.mu.Unlock()
	o.since, o.until = time.Time{}, time.Now().Add(settling)
}

// touches tells whether the server was down for some part of a call that began
// then and ends now.
func (o *outage) touches(began time.Time) bool {
	o.mu.Lock()
	defer o.mu.Unlock()
	return !o.since.IsZero() || began.Before(o.until)
}

// tail keeps the end of a log, whatever its length.
type tail struct {
	mu   sync.Mutex
	text []byte
}

func (l *tail) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.text = append(l.text, p...)
	if more := len(l.text) - 4<<20; more > 0 {
		l.text = append(l.text[:0], l.text[more:]...)
	}
	return len(p), nil
}

func (l *tail) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return string(l.text[max(0, len(l.text)-6000):])
}

func (l *tail) all() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return string(l.text)
}

type firstWrite struct {
	once sync.Once
	said chan struct{}
}

func (f *firstWrite) Write(p []byte) (int, error) {
	f.once.Do(func() { close(f.said) })
	return len(p), nil
}

// freeAddress gives a loopback address of this process's own, with a port from
// which the system connects nobody.
func freeAddress() (string, error) {
	pid := os.Getpid()
	ip := fmt.Sprintf("127.%d.%d.%d", 64+pid>>16&63, pid>>8&255, 1+pid&127)
	for port := 20_000; port < 20_100; port++ {
		address := net.JoinHostPort(ip, strconv.Itoa(port))
		if l, err := net.Listen("tcp", address); err == nil {
			return address, l.Close()
		}
	}
	return "", fmt.Errorf("no port is free on %s", ip)
}

func copyFile(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.OpenFile(to, os.O_CREATE|os.O_WRONLY|os.O_TRUNC, 0o700)
	if err != nil {
		return err
	}
	if _, err := io.Copy(out, in); err != nil {
		return err
	}
	return out.Close()
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// eventually waits until something holds.
func (w *world) eventually(what string, within time.Duration, holds func() bool) bool {
	w.t.Helper()
	for end := time.Now().Add(within); time.Now().Before(end); time.Sleep(10 * time.Millisecond) {
		if holds() {
			return true
		}
	}
	w.t.Errorf("after %v it does not hold: %s", within, what)
	return false
}

func soon() (context.Context, context.CancelFunc) {
	return context.WithTimeout(context.Background(), 15*time.Second)
}

// folderHolds lists what is in a folder, by names without those expected.
func folderHolds(folder string, expected ...string) (more []string) {
	entries, _ := os.ReadDir(folder)
	for _, e := range entries {
		if !strings.Contains(" "+strings.Join(expected, " ")+" ", " "+e.Name()+" ") {
			more = append(more, e.Name())
		}
	}
	return more
}
