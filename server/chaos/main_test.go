//go:build chaos

// Package chaos_test runs a real lixiviumd with its five plugins and a hostile
// sixth under a sustained load of calls, and does it all the harm that is listed
// in harms_test.go. Every answer must hold the bits of the same rules in this
// process or be a clean refusal, and nothing may be left over. It needs Linux;
// where it may mount, a small disk is a file system of its own.
//
// CHAOS_TIME is how long it goes on, 3m when absent; at least one whole round is
// made. CHAOS_SEED repeats the choices of a run, as far as timing lets it.
package chaos_test

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"runtime"
	"syscall"
	"testing"
	"time"

	"golang.org/x/sys/unix"

	"lixivium.example/plugins/sdk"
)

// The tests run in a child of their own. What it may do stands in roleKey: it
// can mount (in a mount space of its own, which goes with it), or cannot.
const (
	roleKey   = "LIXIVIUM_CHAOS_ROLE"
	mounts    = "mounts"
	noMounts  = "no-mounts"
	folderKey = "LIXIVIUM_CHAOS_FOLDER"
)

// overtime is how long a run may last beyond its time: the last round is finished.
const overtime = 15 * time.Minute

func chaosTime() (time.Duration, error) {
	return time.ParseDuration(cmp.Or(os.Getenv("CHAOS_TIME"), "3m"))
}

func TestMain(m *testing.M) {
	switch {
	case os.Getenv(sdk.CookieKey) == sdk.CookieValue:
		sdk.Serve(hostile(obey))
	case os.Getenv(roleKey) != "":
		// Orphans of whatever depth become children of this process, so that none
		// of them can be overlooked.
		if err := unix.Prctl(unix.PR_SET_CHILD_SUBREAPER, 1, 0, 0, 0); err != nil {
			fmt.Fprintln(os.Stderr, "this process cannot adopt orphans:", err)
			os.Exit(1)
		}
		os.Exit(m.Run())
	default:
		os.Exit(supervise())
	}
}

// supervise runs the tests in a child that ends with this process, whatever ends
// this process, and removes the folder they worked in.
func supervise() int {
	length, err := chaosTime()
	if err != nil {
		fmt.Fprintln(os.Stderr, "CHAOS_TIME:", err)
		return 1
	}
	folder, err := os.MkdirTemp("/tmp", "lxc")
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	defer os.RemoveAll(folder)
	// The child gets a signal when the thread that started it ends.
	runtime.LockOSThread()
	child, err := startTests(folder, mounts, syscall.CLONE_NEWNS)
	if errors.Is(err, syscall.EPERM) {
		child, err = startTests(folder, noMounts, 0)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	ended := make(chan int, 1)
	go func() { _ = child.Wait(); ended <- child.ProcessState.ExitCode() }()
	limit := time.After(length + overtime)
	signals := make(chan os.Signal, 1)
	signal.Notify(signals, os.Interrupt, syscall.SIGTERM)
	parent := os.Getppid()
	for {
		select {
		case code := <-ended:
			return code
		case <-limit:
			fmt.Fprintf(os.Stderr, "the run did not end %v after its time\n", overtime)
			_ = child.Process.Kill()
		case <-signals:
			_ = child.Process.Kill()
		case <-time.After(200 * time.Millisecond):
			if os.Getppid() != parent { // whoever wanted this is gone
				_ = child.Process.Kill()
			}
		}
	}
}

func startTests(folder, role string, spaces uintptr) (*exec.Cmd, error) {
	c := exec.Command("/proc/self/exe", os.Args[1:]...)
	c.Env = append(os.Environ(), roleKey+"="+role, folderKey+"="+folder)
	c.Stdout, c.Stderr = os.Stdout, os.Stderr
	c.SysProcAttr = &syscall.SysProcAttr{Unshareflags: spaces, Setpgid: true, Pdeathsig: syscall.SIGKILL}
	return c, c.Start()
}
