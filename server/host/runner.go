package host

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/hashicorp/go-plugin/runner"
)

// pluginRunner shows a process to go-plugin. It hands on the handshake and
// nothing else: standard input is our lifeline (go-plugin would give the
// plugin the caller's), and standard error is read by stderrLog.
type pluginRunner struct {
	name    string
	sockets string // the only folder whose sockets are dialed
	start   func() (*process, error)
	process *process
	// released is closed when the attempt to connect is over. Until then the
	// end of the process is kept from go-plugin, which would abandon a half
	// made connection with its goroutines.
	released chan struct{}
}

var _ runner.Runner = (*pluginRunner)(nil)

func (r *pluginRunner) Start(context.Context) error {
	p, err := r.start()
	r.process = p
	return err
}

func (r *pluginRunner) Wait(context.Context) error {
	<-r.process.exited
	<-r.released
	return nil
}

func (r *pluginRunner) Kill(context.Context) error {
	r.process.kill(stopped)
	return nil
}

func (r *pluginRunner) Stdout() io.ReadCloser {
	return &handshake{from: r.process.stdout, ended: r.process.readers.Done}
}
func (r *pluginRunner) Stderr() io.ReadCloser           { return io.NopCloser(strings.NewReader("")) }
func (r *pluginRunner) Diagnose(context.Context) string { return "" }
func (r *pluginRunner) Name() string                    { return r.name }

func (r *pluginRunner) ID() string {
	if r.process == nil {
		return ""
	}
	return strconv.Itoa(r.process.pid)
}

// PluginToHost refuses every address but a socket in the plugin's own folder:
// what listens elsewhere need not be the plugin.
func (r *pluginRunner) PluginToHost(network, address string) (string, string, error) {
	if network != "unix" {
		return "", "", fmt.Errorf("it listens on %s; only a unix socket in the folder PLUGIN_UNIX_SOCKET_DIR is dialed", network)
	}
	if filepath.Dir(address) != r.sockets {
		return "", "", errors.New("its socket is not in the folder PLUGIN_UNIX_SOCKET_DIR")
	}
	if len(address) > systemSocketPath {
		return "", "", fmt.Errorf("its socket path has %d bytes, more than a system allows", len(address))
	}
	return network, address, nil
}

func (r *pluginRunner) HostToPlugin(network, address string) (string, string, error) {
	return network, address, nil
}
