package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"

	"google.golang.org/protobuf/proto"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
	"lixivium.example/server/app"
)

// child is a process of the bench and what it said in its first line.
type child struct {
	cmd   *exec.Cmd
	input io.Closer
	said  string
}

// start runs a program until its first line of output. Its log goes to
// /dev/null, which is a write as any other.
func start(env []string, program string, args ...string) (*child, error) {
	cmd := exec.Command(program, args...)
	cmd.Env = env
	// Whatever becomes of the bench, nothing of it stays.
	cmd.SysProcAttr = &syscall.SysProcAttr{Pdeathsig: syscall.SIGTERM}
	input, err := cmd.StdinPipe()
	if err != nil {
		return nil, err
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := cmd.Start(); err != nil {
		return nil, fmt.Errorf("%w. make build makes it", err)
	}
	c := &child{cmd: cmd, input: input}
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		c.stop()
		return nil, fmt.Errorf("%s said nothing and ended with %v", filepath.Base(program), cmd.ProcessState)
	}
	c.said = strings.TrimSpace(line)
	return c, nil
}

// stop ends it in the ordinary way and waits for it.
func (c *child) stop() {
	_ = c.input.Close()
	_ = c.cmd.Process.Signal(syscall.SIGTERM)
	late := time.AfterFunc(20*time.Second, func() { _ = c.cmd.Process.Kill() })
	_ = c.cmd.Wait()
	late.Stop()
}

// door is a running server with a connection to it.
type door struct {
	app.Service
	*child
	conn io.Closer
}

func (d *door) stop() {
	_ = d.conn.Close()
	d.child.stop()
}

func open(c *child, err error) (*door, error) {
	if err != nil {
		return nil, err
	}
	s, conn, err := app.Dial(c.said)
	if err != nil {
		c.stop()
		return nil, err
	}
	return &door{s, c, conn}, nil
}

// lixiviumd starts the real server with the configuration that make build
// wrote, or without plugins.
func (s *settings) lixiviumd(plugins bool) (*door, error) {
	config := filepath.Join(s.bin, "lixivium.yaml")
	if !plugins {
		config = os.DevNull
	}
	return open(start(os.Environ(), filepath.Join(s.bin, "lixiviumd"), "--config", config, "--listen", "127.0.0.1:0", "--print-address"))
}

// answering starts a server of this prepared answer.
func answering(answer *lixiviumv1.FormulateResponse, rounds int, sockets ...string) (*door, error) {
	raw, err := proto.Marshal(answer)
	if err != nil {
		return nil, err
	}
	file, err := os.CreateTemp("", "answer")
	if err != nil {
		return nil, err
	}
	defer os.Remove(file.Name()) //nolint:errcheck // read by then
	_, err = file.Write(raw)
	if err = errors.Join(err, file.Close()); err != nil {
		return nil, err
	}
	self, err := os.Executable()
	if err != nil {
		return nil, err
	}
	return open(start(os.Environ(), self, append([]string{"answers", file.Name(), strconv.Itoa(rounds)}, sockets...)...))
}

// bare starts the plugin of one name without a host, with what a host would set
// for it, and gives its socket.
func (s *settings) bare(name, sockets string) (*child, string, error) {
	c, err := start([]string{"LIXIVIUM_PLUGIN=additive", "GOMAXPROCS=1", "PLUGIN_UNIX_SOCKET_DIR=" + sockets}, filepath.Join(s.bin, "lixivium-"+name))
	if err != nil {
		return nil, "", err
	}
	parts := strings.Split(c.said, "|")
	if len(parts) < 5 {
		c.stop()
		return nil, "", fmt.Errorf("the plugin %s said %q", name, c.said)
	}
	return c, parts[3], nil
}

// callers makes a round of calls to a service, so many at once.
func callers(name string, s app.Service, calls, atOnce int, request func() *lixiviumv1.FormulateRequest) contender {
	return contender{name: name, calls: calls, round: func(ctx context.Context) error {
		failed := make(chan error, atOnce)
		for range atOnce {
			go func() {
				var err error
				for range calls / atOnce {
					if _, err = s.Formulate(ctx, request()); err != nil {
						break
					}
				}
				failed <- err
			}()
		}
		var all error
		for range atOnce {
			all = errors.Join(all, <-failed)
		}
		return all
	}}
}
