// Package listen is the native gRPC door: it takes connections on loopback,
// offers a service with health and reflection, keeps the limits of the
// transport and drains when told to stop.
//
// What a client can ask of it is bounded before anything is worked out:
//
//	connections at a time    512, max_connections                 further ones wait to be taken up
//	silent new connection    10 s                                 closed
//	connection without call  15 min                               told to go away
//	calls at a time          128, max_concurrent_streams          further ones wait; one connection
//	request message          1 MiB, max_request_bytes             RESOURCE_EXHAUSTED, before it is read
//	compressed message                                            UNIMPLEMENTED, never unpacked
//	call, request arriving   10 s, deadline_ceiling               DEADLINE_EXCEEDED; from the first frame to the answer
//	metadata                 16 KiB                               the stream is reset
//	answer message           64 MiB                               RESOURCE_EXHAUSTED
//	pings                    one in 30 s, two strikes             GOAWAY ENHANCE_YOUR_CALM
//	client that vanished     pinged after 2 min, 20 s to answer   closed
//
// The names are keys of lixivium.yaml; the rest is fixed. Streams that are reset
// as soon as they are opened count until their handler has returned, so that
// resetting them gains nothing.
//
// It leaves what every call gets, whichever door it came through, to package
// policy: there is no interceptor for it here.
package listen

import (
	"context"
	"errors"
	"fmt"
	"net"
	"time"

	"golang.org/x/net/netutil"
	"google.golang.org/grpc"
	"google.golang.org/grpc/health"
	healthv1 "google.golang.org/grpc/health/grpc_health_v1"
	"google.golang.org/grpc/keepalive"
	"google.golang.org/grpc/reflection"

	"lixivium.example/server/app"
	"lixivium.example/server/config"
)

// The limits that no configuration changes.
const (
	// maxAnswerBytes is above the worksheet of the largest recipe.
	maxAnswerBytes = 64 << 20
	// maxHeaderBytes is plenty: the contract uses no metadata. The default of
	// grpc-go is 16 MiB.
	maxHeaderBytes = 16 << 10
	// connectionTimeout bounds the handshake; grpc-go alone waits 120 s.
	connectionTimeout = 10 * time.Second
	// minPingInterval is how often a client may ping. A client that pings
	// oftener is told to go away. Pings without a call are allowed: long-lived
	// clients keep their connection alive with them.
	minPingInterval = 30 * time.Second
	// pingAfter and pingTimeout find clients that vanished without a word.
	pingAfter   = 2 * time.Minute
	pingTimeout = 20 * time.Second
	// maxIdle is how long a connection may be kept without a call.
	maxIdle = 15 * time.Minute
	// noticeTime is how long watchers have to hear that the server leaves
	// before their streams are ended.
	noticeTime = 50 * time.Millisecond
)

// Limits are the limits an operator may change. None may be left out: a server
// that takes no connections waits in silence.
type Limits struct {
	// MaxRequestBytes bounds one request message; beyond: RESOURCE_EXHAUSTED.
	MaxRequestBytes int
	// MaxConcurrentStreams bounds the calls at a time on one connection;
	// further calls wait.
	MaxConcurrentStreams uint32
	// MaxConnections bounds the connections at a time; further ones wait until
	// one of them ends.
	MaxConnections int
	// CallTimeout is the longest from the first frame of a call to its answer,
	// the time included in which its request arrives.
	CallTimeout time.Duration
}

// LimitsOf are the limits that a configuration sets.
func LimitsOf(c config.Config) Limits {
	return Limits{
		MaxRequestBytes: c.MaxRequestBytes, MaxConcurrentStreams: c.MaxConcurrentStreams, MaxConnections: c.MaxConnections,
		CallTimeout: c.DeadlineCeiling,
	}
}

// Server serves one service on one address.
type Server struct {
	grpc    *grpc.Server
	health  *health.Server
	socket  net.Listener
	streams *streams
}

// Open listens on a loopback address, see Loopback. Connections are taken up
// from then on, but answered by Serve only. A limit that is not above zero is
// an error.
func Open(ctx context.Context, address string, service app.Service, limits Limits) (*Server, error) {
	if limits.MaxRequestBytes <= 0 || limits.MaxConcurrentStreams == 0 || limits.MaxConnections <= 0 || limits.CallTimeout <= 0 {
		return nil, fmt.Errorf("every limit of a listener must be above zero, which these are not: %+v", limits)
	}
	where, err := Loopback(ctx, address, net.DefaultResolver)
	if err != nil {
		return nil, err
	}
	var config net.ListenConfig
	socket, err := config.Listen(ctx, "tcp", where.String())
	if err != nil {
		return nil, fmt.Errorf("cannot listen on %s: %w. Is another server running there? Port 0 takes a free port", where, err)
	}
	socket = netutil.LimitListener(socket, limits.MaxConnections)
	s := &Server{health: health.NewServer(), socket: socket, streams: newStreams()}
	s.grpc = grpc.NewServer(
		grpc.MaxRecvMsgSize(limits.MaxRequestBytes),
		grpc.MaxSendMsgSize(maxAnswerBytes),
		grpc.MaxHeaderListSize(maxHeaderBytes),
		grpc.MaxConcurrentStreams(limits.MaxConcurrentStreams),
		grpc.ConnectionTimeout(connectionTimeout),
		grpc.KeepaliveEnforcementPolicy(keepalive.EnforcementPolicy{MinTime: minPingInterval, PermitWithoutStream: true}),
		grpc.KeepaliveParams(keepalive.ServerParameters{MaxConnectionIdle: maxIdle, Time: pingAfter, Timeout: pingTimeout}),
		grpc.InTapHandle(arrival(limits.CallTimeout)),
		grpc.StreamInterceptor(s.streams.intercept),
	)
	app.Register(s.grpc, service)
	for name := range s.grpc.GetServiceInfo() { // ours alone, so far
		s.health.SetServingStatus(name, healthv1.HealthCheckResponse_SERVING)
	}
	healthv1.RegisterHealthServer(s.grpc, s.health)
	reflection.RegisterV1(s.grpc)
	return s, nil
}

// Address is where the server listens, with the port it was given.
func (s *Server) Address() string { return s.socket.Addr().String() }

// Serve answers until Drain or Stop; then its error is nil.
func (s *Server) Serve() error {
	if err := s.grpc.Serve(s.socket); !errors.Is(err, grpc.ErrServerStopped) {
		return err
	}
	return nil
}

// Drain stops gently: health says NOT_SERVING, no new connection is taken and
// no new call accepted, and calls in flight may finish until the context ends;
// then they are cut off. It tells whether all could finish.
func (s *Server) Drain(ctx context.Context) bool {
	s.health.Shutdown()
	done := make(chan struct{})
	go func() {
		s.grpc.GracefulStop()
		close(done)
	}()
	go s.streams.endAfter(noticeTime, done)
	select {
	case <-done:
		return true
	case <-ctx.Done():
		s.grpc.Stop()
		<-done
		return false
	}
}

// Stop cuts everything off.
func (s *Server) Stop() { s.grpc.Stop() }
