package host

import (
	"fmt"
	"os"
	"os/exec"
	"sync"
	"time"
)

// stopped is the reason of an ordinary end.
const stopped = "the host stopped it"

// drainTime is how long the output of a process may still be read after its
// end. A grandchild outside the process group could hold it open for ever.
const drainTime = 100 * time.Millisecond

// process is a child with three pipes of our own. Its standard input is a
// lifeline: nothing is ever written, and its end means that the host is gone.
type process struct {
	pid            int
	stdout, stderr *os.File
	lifeline       *os.File
	exited         chan struct{} // closed once state is set
	drained        chan struct{} // closed once nothing of it is left here

	readers sync.WaitGroup // of stdout and stderr

	mu     sync.Mutex
	handle *os.Process
	state  *os.ProcessState
	reason string // why we killed it, empty: we did not
}

// startProcess runs a file with exactly this environment.
func startProcess(on *starter, file, dir string, env []string) (*process, error) {
	// Child's end, our end.
	childIn, lifeline, err := os.Pipe()
	if err != nil {
		return nil, err
	}
	stdout, childOut, err := os.Pipe()
	if err != nil {
		closeAll(childIn, lifeline)
		return nil, err
	}
	stderr, childErr, err := os.Pipe()
	if err != nil {
		closeAll(childIn, lifeline, stdout, childOut)
		return nil, err
	}
	cmd := exec.Command(file)
	cmd.Dir, cmd.Env = dir, env
	cmd.Stdin, cmd.Stdout, cmd.Stderr = childIn, childOut, childErr
	ownGroup(cmd)
	on.do(func() { err = cmd.Start() })
	closeAll(childIn, childOut, childErr)
	if err != nil {
		closeAll(lifeline, stdout, stderr)
		return nil, fmt.Errorf("the plugin cannot be run: %w. A folder mounted noexec forbids it; name another run folder then", err)
	}
	p := &process{
		pid: cmd.Process.Pid, stdout: stdout, stderr: stderr, lifeline: lifeline,
		exited: make(chan struct{}), drained: make(chan struct{}), handle: cmd.Process,
	}
	p.readers.Add(2)
	go p.reap()
	return p, nil
}

func closeAll(files ...*os.File) {
	for _, f := range files {
		_ = f.Close()
	}
}

// reap waits for the end and cleans up after it.
func (p *process) reap() {
	state, _ := p.handle.Wait() // its only error is "already waited for"
	p.mu.Lock()
	p.state = state
	// Whatever it forked goes with it. While a member of the group lives the
	// system gives its number to nobody else.
	killGroup(p.pid)
	p.mu.Unlock()
	close(p.exited)
	_ = p.lifeline.Close()
	read := make(chan struct{})
	go func() { p.readers.Wait(); close(read) }()
	select {
	case <-read:
	case <-time.After(drainTime):
	}
	closeAll(p.stdout, p.stderr)
	<-read
	close(p.drained)
}

// kill ends the process group at once; the first reason counts.
func (p *process) kill(reason string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.state != nil {
		return
	}
	if p.reason == "" {
		p.reason = reason
	}
	killGroup(p.pid)
}

// end tells how it ended, once exited is closed: in words, and whether it was
// killed by something else than the host.
func (p *process) end() (text string, fromOutside bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	switch {
	case p.state == nil:
		return "it is still there", false
	case p.reason != "" && endedBySIGKILL(p.state):
		return p.reason, false
	}
	return "it ended with " + p.state.String(), endedBySIGKILL(p.state)
}
