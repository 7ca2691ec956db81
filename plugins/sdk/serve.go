package sdk

import (
	"fmt"
	"io"
	"net"
	"os"
	"os/signal"
	"path/filepath"
	"strconv"
	"time"

	"google.golang.org/grpc"
	"google.golang.org/grpc/health"
	"google.golang.org/grpc/health/grpc_health_v1"

	additivev1 "lixivium.example/proto/lixivium/additive/v1"
)

// Limits of the plugin's server. A question about the largest recipe takes
// well under 1 MiB; the host keeps few calls in flight.
const (
	maxMessageBytes = 4 << 20
	maxStreams      = 256
	connectTimeout  = 5 * time.Second
	drainTime       = time.Second
	maxSocketPath   = 103 // the shortest limit among the systems, less the ending zero
)

// Serve runs the plugin until its host lets go of it: the only call in main.
// It never returns.
//
// Standard output belongs to the host. It is taken away when this package is
// initialized, so whatever the plugin prints there goes to standard error,
// which the host logs. Standard input is a lifeline: at its end the process
// leaves, so that no plugin outlives its host.
func Serve(p *Plugin) {
	if handshakeOut == nil {
		fail("this is a Lixivium plugin. lixi and lixiviumd start it; write it into lixivium.yaml, and ask for it with \"lixi plugins\"")
	}
	if err := p.Check(); err != nil {
		fail(err.Error())
	}
	if os.Getenv("PLUGIN_CLIENT_CERT") != "" {
		fail("the host asks for TLS between itself and its own child; plugins speak over a private socket. Start it without automatic TLS")
	}
	// An interrupt typed at a terminal reaches the whole group. The host
	// decides when its plugins stop.
	signal.Ignore(os.Interrupt)
	socket, err := listen(os.Getenv("PLUGIN_UNIX_SOCKET_DIR"))
	if err != nil {
		fail(err.Error())
	}
	go func() {
		_, _ = io.Copy(io.Discard, os.Stdin)
		_ = os.Remove(socket.Addr().String())
		os.Exit(0)
	}()
	if err := serve(p, socket, handshakeOut); err != nil {
		fail(err.Error())
	}
	os.Exit(0)
}

// fail tells the operator why the plugin cannot run.
func fail(text string) {
	fmt.Fprintln(os.Stderr, text)
	os.Exit(1)
}

// listen opens a socket that only this user can reach. Closing it removes its
// file.
func listen(folder string) (*net.UnixListener, error) {
	if folder == "" {
		folder = os.TempDir()
	}
	path := filepath.Join(folder, "lixivium-"+strconv.Itoa(os.Getpid()))
	if len(path) > maxSocketPath {
		return nil, fmt.Errorf("the socket path %s has %d characters; a system may allow %d. Give the host a shorter folder for its sockets", path, len(path), maxSocketPath)
	}
	socket, err := net.ListenUnix("unix", &net.UnixAddr{Name: path, Net: "unix"})
	if err != nil {
		return nil, fmt.Errorf("no socket for the host: %w", err)
	}
	if err := os.Chmod(path, 0o600); err != nil {
		_ = socket.Close()
		return nil, fmt.Errorf("no private socket for the host: %w", err)
	}
	return socket, nil
}

// serve announces the socket in one line and answers until the host asks to
// shut down.
//
// This is the plugin's half of the protocol of hashicorp/go-plugin, core
// version 1, over gRPC: the line, a health answer for "plugin", and the
// Shutdown call of its controller. That library's own server half would take
// over stdout and stderr a second time and carry them over the connection.
func serve(p *Plugin, socket *net.UnixListener, announce io.WriteCloser) error {
	server := grpc.NewServer(
		grpc.MaxRecvMsgSize(maxMessageBytes), grpc.MaxSendMsgSize(maxMessageBytes),
		grpc.MaxConcurrentStreams(maxStreams), grpc.ConnectionTimeout(connectTimeout),
		grpc.UnaryInterceptor(recovering),
		// Windows of one size spare a ping a call, by which gRPC would find out
		// the bandwidth between two processes of one machine.
		grpc.StaticStreamWindowSize(maxMessageBytes), grpc.StaticConnWindowSize(maxMessageBytes),
	)
	alive := health.NewServer()
	alive.SetServingStatus("plugin", grpc_health_v1.HealthCheckResponse_SERVING)
	grpc_health_v1.RegisterHealthServer(server, alive)
	server.RegisterService(&controller, stopper(func() { go drain(server) }))
	additivev1.RegisterAdditiveServiceServer(server, newService(p))
	if _, err := fmt.Fprintf(announce, "1|%d|unix|%s|grpc|\n", ProtocolVersion, socket.Addr()); err != nil {
		return fmt.Errorf("the host does not listen: %w", err)
	}
	return server.Serve(socket)
}

// drain lets running calls end, for a while.
func drain(server *grpc.Server) {
	late := time.AfterFunc(drainTime, server.Stop)
	defer late.Stop()
	server.GracefulStop()
}
