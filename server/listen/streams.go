package listen

import (
	"sync"
	"time"

	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
)

// streams ends the streams of health and reflection when the server leaves.
// The contract has no stream of its own; without this, one client that watches
// the health of the server would hold up every drain to its last second.
type streams struct {
	leaving chan struct{}
	once    sync.Once
}

func newStreams() *streams { return &streams{leaving: make(chan struct{})} }

func (s *streams) intercept(service any, stream grpc.ServerStream, _ *grpc.StreamServerInfo, handler grpc.StreamHandler) error {
	ended := make(chan error, 1)
	go func() { ended <- handler(service, stream) }()
	select {
	case err := <-ended:
		return err
	case <-s.leaving:
		// The return ends the stream, and with it the handler's wait on it.
		return status.Error(codes.Unavailable, "The server is leaving; connect to another or try again later.")
	}
}

// endAfter ends the streams after a while, or at once when done is closed.
func (s *streams) endAfter(wait time.Duration, done <-chan struct{}) {
	timer := time.NewTimer(wait)
	defer timer.Stop()
	select {
	case <-timer.C:
	case <-done:
	}
	s.once.Do(func() { close(s.leaving) })
}
