package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"
)

// binary is the program as users run it, built before the tests.
var binary string

func TestMain(m *testing.M) {
	os.Exit(buildAndRun(m))
}

func buildAndRun(m *testing.M) int {
	dir, err := os.MkdirTemp("", "lixiviumd")
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	defer os.RemoveAll(dir)
	binary = filepath.Join(dir, "lixiviumd")
	if out, err := exec.Command("go", "build", "-o", binary, ".").CombinedOutput(); err != nil {
		fmt.Fprintf(os.Stderr, "%v\n%s", err, out)
		return 1
	}
	return m.Run()
}

// process is one run of the program.
type process struct {
	cmd     *exec.Cmd
	address string
	stderr  lockedBuffer
}

type lockedBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (l *lockedBuffer) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.Write(p)
}

func (l *lockedBuffer) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.String()
}

// command runs the program in an empty folder, with a home of its own.
func command(t *testing.T, args ...string) *process {
	t.Helper()
	p := &process{cmd: exec.CommandContext(t.Context(), binary, args...)}
	p.cmd.Dir = t.TempDir()
	p.cmd.Env = []string{"HOME=" + t.TempDir()}
	p.cmd.Stderr = &p.stderr
	return p
}

// serving waits until the program takes calls.
func (p *process) serving(t *testing.T) *process {
	t.Helper()
	p.cmd.Args = append(p.cmd.Args, "--print-address")
	out, err := p.cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := p.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if p.cmd.ProcessState == nil {
			p.cmd.Process.Kill()
			p.cmd.Wait()
		}
	})
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatalf("no address: %v\n%s", err, p.stderr.String())
	}
	p.address = strings.TrimSpace(line)
	return p
}

func (p *process) signal(t *testing.T, s syscall.Signal) {
	t.Helper()
	if err := p.cmd.Process.Signal(s); err != nil {
		t.Fatal(err)
	}
}

// exit waits for the end and gives the exit code.
func (p *process) exit(t *testing.T) int {
	t.Helper()
	timer := time.AfterFunc(30*time.Second, func() { p.cmd.Process.Kill() })
	defer timer.Stop()
	err := p.cmd.Wait()
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		t.Fatal(err)
	}
	return p.cmd.ProcessState.ExitCode()
}

// runs gives exit code, standard output and standard error of a short run.
func (p *process) runs(t *testing.T) (int, string, string) {
	t.Helper()
	var out bytes.Buffer
	p.cmd.Stdout = &out
	if err := p.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	code := p.exit(t)
	return code, out.String(), p.stderr.String()
}

// logged waits for a word in the log.
func (p *process) logged(t *testing.T, word string) {
	t.Helper()
	for end := time.Now().Add(10 * time.Second); time.Now().Before(end); time.Sleep(5 * time.Millisecond) {
		if strings.Contains(p.stderr.String(), word) {
			return
		}
	}
	t.Fatalf("%q is not in the log:\n%s", word, p.stderr.String())
}
