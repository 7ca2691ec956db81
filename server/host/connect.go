package host

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"sync/atomic"
	"time"

	"github.com/hashicorp/go-hclog"
	"github.com/hashicorp/go-plugin"
	"github.com/hashicorp/go-plugin/runner"
	"google.golang.org/grpc"
	"google.golang.org/grpc/backoff"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/health/grpc_health_v1"
	"google.golang.org/grpc/status"

	additivev1 "lixivium.example/proto/lixivium/additive/v1"
	"lixivium.example/server/host/wire"
)

// The handshake of the plugin protocol. The cookie is no secret: it keeps
// people from running a plugin by hand.
const (
	protocolVersion = 1
	cookieKey       = "LIXIVIUM_PLUGIN"
	cookieValue     = "additive"
	// folderKey names the folder of the configured file to the plugin, which
	// runs as a copy elsewhere and may have files of rules beside it.
	folderKey = "LIXIVIUM_PLUGIN_FOLDER"
)

// instance is one run of a plugin.
type instance struct {
	manifest *wire.Manifest
	digest   Digest
	api      additivev1.AdditiveServiceClient
	client   *plugin.Client
	process  *process
	sockets  string // folder
	says     *stderrLog

	tooMuchMemory atomic.Bool
	inFlight      atomic.Int64 // calls that will notice its end
}

// additivePlugin is the client half that go-plugin asks for.
type additivePlugin struct{ plugin.NetRPCUnsupportedPlugin }

func (additivePlugin) GRPCServer(*plugin.GRPCBroker, *grpc.Server) error {
	return errors.New("the host serves no plugin")
}

func (additivePlugin) GRPCClient(_ context.Context, _ *plugin.GRPCBroker, conn *grpc.ClientConn) (any, error) {
	return additivev1.NewAdditiveServiceClient(conn), nil
}

// connect starts a file that the line accepts and hears what it says of
// itself. Whether that is accepted too is for the caller. On error nothing is
// left of it.
func (h *Host) connect(l Line) (*instance, error) {
	if err := h.open(); err != nil {
		return nil, err
	}
	file, err := privateCopy(h.folder.path, l)
	if err != nil {
		return nil, err
	}
	executable, err := ParseDigest(l.SHA256)
	if err != nil {
		return nil, err
	}
	i := &instance{says: newStderrLog(h.config.Logger.With().Str("plugin", l.Name).Logger())}
	r := &pluginRunner{name: l.Name, released: make(chan struct{})}
	var late *time.Timer
	closing := func() bool { return true }
	r.start = func() (*process, error) {
		i.sockets = r.sockets
		p, err := startProcess(h.starter, file, h.folder.path, h.environment(l, r.sockets))
		if err != nil {
			return nil, err
		}
		i.process = p
		go func() { defer p.readers.Done(); i.says.read(p.stderr) }()
		// go-plugin's own timer ends with the handshake.
		late = time.AfterFunc(h.config.StartTimeout, func() {
			p.kill(fmt.Sprintf("it did not describe itself within %v", h.config.StartTimeout))
		})
		closing = context.AfterFunc(h.alive, func() { p.kill(stopped) })
		return p, nil
	}
	i.client = plugin.NewClient(h.clientConfig(r, i.says))
	err = i.introduce(h.alive)
	close(r.released)
	closing()
	if late != nil {
		late.Stop()
	}
	if err != nil {
		return nil, i.failed(err)
	}
	i.digest = pluginDigest(executable, i.manifest.RulesDigest)
	go i.watchMemory(h.config.MemoryLimitBytes)
	return i, nil
}

// environment is all that a plugin gets to see of its surroundings: nothing of
// the host's, which may hold secrets.
func (h *Host) environment(l Line, sockets string) []string {
	return []string{
		cookieKey + "=" + cookieValue,
		"PLUGIN_PROTOCOL_VERSIONS=" + strconv.Itoa(protocolVersion),
		plugin.EnvUnixSocketDir + "=" + sockets,
		folderKey + "=" + filepath.Dir(l.File),
		// A Go plugin collects harder before the memory watch has to kill it.
		"GOMEMLIMIT=" + strconv.FormatUint(h.config.MemoryLimitBytes/4*3, 10),
		// A rule takes microseconds. With one processor a Go plugin answers on
		// the thread that heard the question, instead of waking another.
		"GOMAXPROCS=1",
	}
}

func (h *Host) clientConfig(r *pluginRunner, says io.Writer) *plugin.ClientConfig {
	return &plugin.ClientConfig{
		HandshakeConfig:  plugin.HandshakeConfig{ProtocolVersion: protocolVersion, MagicCookieKey: cookieKey, MagicCookieValue: cookieValue},
		Plugins:          plugin.PluginSet{"additive": additivePlugin{}},
		AllowedProtocols: []plugin.Protocol{plugin.ProtocolGRPC},
		StartTimeout:     h.config.StartTimeout + time.Second, // ours comes first
		SkipHostEnv:      true,
		UnixSocketConfig: &plugin.UnixSocketConfig{TempDir: h.folder.path},
		// Off, not a null logger: only Off keeps it from parsing log lines.
		Logger: hclog.New(&hclog.LoggerOptions{Level: hclog.Off, Output: io.Discard}),
		// go-plugin's own servers carry standard error over the connection.
		SyncStderr: says,
		RunnerFunc: func(_ hclog.Logger, _ *exec.Cmd, sockets string) (runner.Runner, error) {
			r.sockets = sockets
			return r, nil
		},
		GRPCDialOptions: []grpc.DialOption{
			// Servers in other languages refuse the name of a unix socket.
			grpc.WithAuthority("localhost"),
			grpc.WithDefaultCallOptions(grpc.MaxCallRecvMsgSize(maxMessageBytes), grpc.MaxCallSendMsgSize(maxMessageBytes)),
			grpc.WithConnectParams(grpc.ConnectParams{Backoff: backoff.DefaultConfig, MinConnectTimeout: h.config.StartTimeout}),
			grpc.WithDisableServiceConfig(), grpc.WithDisableRetry(),
			// Windows of one size: between processes of one machine there is no
			// bandwidth to find out, and finding it out costs a ping a call.
			grpc.WithStaticStreamWindowSize(maxMessageBytes), grpc.WithStaticConnWindowSize(maxMessageBytes),
		},
	}
}

// introduce brings a plugin from its file to its checked description.
func (i *instance) introduce(ctx context.Context) error {
	protocol, err := i.client.Client()
	if err != nil {
		return err
	}
	raw, err := protocol.Dispense("additive")
	if err != nil {
		return err
	}
	i.api = raw.(additivev1.AdditiveServiceClient)
	// go-plugin's own Ping takes "not serving" for well.
	conn := protocol.(*plugin.GRPCClient).Conn
	health, err := grpc_health_v1.NewHealthClient(conn).Check(ctx, &grpc_health_v1.HealthCheckRequest{Service: plugin.GRPCServiceName})
	switch {
	case status.Code(err) == codes.Unimplemented: // other languages may leave it out
	case err != nil:
		return err
	case health.GetStatus() != grpc_health_v1.HealthCheckResponse_SERVING:
		return fmt.Errorf("it says of its health: %v", health.GetStatus())
	}
	m, err := i.api.Describe(ctx, &additivev1.DescribeRequest{})
	if err != nil {
		return err
	}
	i.manifest, err = wire.ReadManifest(m)
	if err != nil {
		return fmt.Errorf("its description breaks the contract: %w", err)
	}
	return nil
}

// failed cleans up after a start that went wrong and tells why.
func (i *instance) failed(err error) error {
	text := "it did not start: " + harmless(err.Error())
	if p := i.process; p != nil {
		select {
		case <-p.exited:
		case <-time.After(drainTime): // still there: the fault is in what it said
		}
		i.stop(0)
		switch end, fromOutside := p.end(); {
		case p.reason != stopped && p.reason == end:
			text = "it did not start: " + end // what else is told only follows from that
		case end != stopped || fromOutside:
			text += "; " + end
		}
		if words := i.says.words(); words != "" {
			text += "; its last words: " + words
		}
	}
	_ = os.RemoveAll(i.sockets)
	return &unstarted{text[:min(len(text), 1000)], err}
}

// stop asks the process to leave and kills it after the grace: go-plugin's
// Kill waits for ever when the process is frozen. Nothing of it is left then.
func (i *instance) stop(grace time.Duration) {
	if grace == 0 {
		i.process.kill(stopped)
	}
	late := time.AfterFunc(grace, func() { i.process.kill("it did not leave when asked") })
	i.client.Kill()
	late.Stop()
	i.process.kill(stopped) // Kill returns early when no connection was made
	<-i.process.drained
}

// watchMemory kills the process when it holds more than the limit. A limit on
// its address space would break runtimes that reserve much and use little.
func (i *instance) watchMemory(limit uint64) {
	tick := time.NewTicker(memoryWatchInterval)
	defer tick.Stop()
	for {
		select {
		case <-i.process.exited:
			return
		case <-tick.C:
			if n, err := residentBytes(i.process.pid); err == nil && n > limit {
				i.tooMuchMemory.Store(true)
				i.process.kill(fmt.Sprintf("it held %d MiB of memory, more than the limit of %d MiB", n>>20, limit>>20))
			}
		}
	}
}

// closing tells whether a call found its connection closed on our side: the run
// is being replaced. The library has no other mark for it than this text.
func closing(err error) bool {
	return status.Code(err) == codes.Canceled && status.Convert(err).Message() == "grpc: the client connection is closing"
}
