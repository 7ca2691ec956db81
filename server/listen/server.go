// Package listen is the native gRPC door: it takes connections on loopback,
// offers a service with health and reflection, keeps the limits of the
// transport and drains when told to stop.
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

	"google.golang.org/grpc"
	"google.golang.org/grpc/health"
	healthv1 "google.golang.org/grpc/health/grpc_health_v1"
	"google.golang.org/grpc/keepalive"
	"google.golang.org/grpc/reflection"

	"lixivium.example/server/app"
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
	// noticeTime is how long watchers have to hear that the server leaves
	// before their streams are ended.
	noticeTime = 50 * time.Millisecond
)

// Limits are the limits an operator may change.
type Limits struct {
	// MaxRequestBytes bounds one request message; beyond: RESOURCE_EXHAUSTED.
	MaxRequestBytes int
	// MaxConcurrentStreams bounds the calls at a time on one connection;
	// further calls wait.
	MaxConcurrentStreams uint32
}

// Server serves one service on one address.
type Server struct {
	grpc    *grpc.Server
	health  *health.Server
	socket  net.Listener
	streams *streams
}

// Open listens on a loopback address, see Loopback. Connections are taken up
// from then on, but answered by Serve only.
func Open(ctx context.Context, address string, service app.Service, limits Limits) (*Server, error) {
	where, err := Loopback(ctx, address, net.DefaultResolver)
	if err != nil {
		return nil, err
	}
	var config net.ListenConfig
	socket, err := config.Listen(ctx, "tcp", where.String())
	if err != nil {
		return nil, fmt.Errorf("cannot listen on %s: %w. Is another server running there? Port 0 takes a free port", where, err)
	}
	s := &Server{health: health.NewServer(), socket: socket, streams: newStreams()}
	s.grpc = grpc.NewServer(
		grpc.MaxRecvMsgSize(limits.MaxRequestBytes),
		grpc.MaxSendMsgSize(maxAnswerBytes),
		grpc.MaxHeaderListSize(maxHeaderBytes),
		grpc.MaxConcurrentStreams(limits.MaxConcurrentStreams),
		grpc.ConnectionTimeout(connectionTimeout),
		grpc.KeepaliveEnforcementPolicy(keepalive.EnforcementPolicy{MinTime: minPingInterval, PermitWithoutStream: true}),
		grpc.KeepaliveParams(keepalive.ServerParameters{Time: pingAfter, Timeout: pingTimeout}),
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
