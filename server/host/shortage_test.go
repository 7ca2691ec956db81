package host

import (
	"errors"
	"fmt"
	"os/signal"
	"strings"
	"syscall"
	"testing"
	"time"

	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
)

// A plugin that could not be started because the machine was short of something
// has no strike for it, and starts once the shortage is over. Here no file may
// grow to the size of a plugin.
func TestShortageIsNoFaultOfThePlugin(t *testing.T) {
	l := build(t, script{})
	h := newHost(t, Config{MaxStrikes: 1}, l)
	signal.Ignore(syscall.SIGXFSZ)
	defer signal.Reset(syscall.SIGXFSZ)
	var was syscall.Rlimit
	if err := syscall.Getrlimit(syscall.RLIMIT_FSIZE, &was); err != nil {
		t.Fatal(err)
	}
	limit := func(bytes uint64) {
		if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: bytes, Max: was.Max}); err != nil {
			t.Fatal(err)
		}
	}
	defer limit(was.Cur)
	limit(1 << 20)
	if err := h.StartAll(within(t, 5*time.Second)); err == nil || !strings.Contains(err.Error(), "file too large") {
		t.Errorf("the start says %v", err)
	}
	if p := health(h); p.State != Restarting || p.LastReason != ReasonDown {
		t.Errorf("health is %+v", p)
	}
	limit(was.Cur)
	eventually(t, "it runs", 5*time.Second, func() bool { return health(h).State == Ready })
	answers(t, h, "a")
}

func TestWhatIsAShortage(t *testing.T) {
	for _, c := range []struct {
		err  error
		want bool
	}{
		{fmt.Errorf("the private copy: %w", syscall.ENOSPC), true},
		{&unstarted{"it did not start", syscall.EMFILE}, true},
		{status.Error(codes.Unavailable, "connection error: dial unix /s: socket: too many open files"), true},
		{status.Error(codes.Unavailable, "connection refused"), false},
		{&unstarted{"it did not start: it ended with exit status 1", errors.New("plugin exited before we could connect")}, false},
		{syscall.ENOENT, false},
	} {
		if short(c.err) != c.want {
			t.Errorf("%v: a shortage: %v", c.err, !c.want)
		}
	}
}
