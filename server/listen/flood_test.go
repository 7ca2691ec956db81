package listen

import (
	"context"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"golang.org/x/net/http2"
	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	healthv1 "google.golang.org/grpc/health/grpc_health_v1"
	reflectionv1 "google.golang.org/grpc/reflection/grpc_reflection_v1"
	"google.golang.org/grpc/status"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
	"lixivium.example/server/app"
)

func number(c codes.Code) string { return strconv.Itoa(int(c)) }

// stubborn never looks at its context: its calls end when it is let go.
type stubborn struct {
	app.Service
	running, most atomic.Int32
	letGo         chan struct{}
}

func (s *stubborn) Formulate(context.Context, *lixiviumv1.FormulateRequest) (*lixiviumv1.FormulateResponse, error) {
	n := s.running.Add(1)
	for most := s.most.Load(); n > most && !s.most.CompareAndSwap(most, n); most = s.most.Load() {
	}
	defer s.running.Add(-1)
	<-s.letGo
	return &lixiviumv1.FormulateResponse{}, nil
}

// wellServed asks what an operator's tools ask, over a connection of its own.
func wellServed(t *testing.T, s *Server) {
	t.Helper()
	conn := connect(t, s)
	got, err := healthv1.NewHealthClient(conn).Check(t.Context(), &healthv1.HealthCheckRequest{})
	if err != nil || got.GetStatus() != healthv1.HealthCheckResponse_SERVING {
		t.Errorf("health: %v, %v", got, err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	stream, err := reflectionv1.NewServerReflectionClient(conn).ServerReflectionInfo(ctx)
	if err == nil {
		err = stream.Send(&reflectionv1.ServerReflectionRequest{MessageRequest: &reflectionv1.ServerReflectionRequest_ListServices{}})
	}
	if err != nil {
		t.Fatal(err)
	}
	if a, err := stream.Recv(); err != nil || len(a.GetListServicesResponse().GetService()) < 4 {
		t.Errorf("reflection: %v, %v", a, err)
	}
}

// A client that sends half a message and then nothing is told that its time is
// over, and so is one that sends no byte of it.
func TestHalfAMessage(t *testing.T) {
	short := limits
	short.CallTimeout = 200 * time.Millisecond
	for what, begun := range map[string][]byte{"nothing": nil, "half the prefix": {0, 0}, "half the message": {0, 0, 0, 1, 0, 10, 2}} {
		r := rawClient(t, startWith(t, realService(t), short))
		if err := r.open(1); err != nil {
			t.Fatal(err)
		}
		if err := r.WriteData(1, false, begun); err != nil {
			t.Fatal(err)
		}
		if code, message := r.status(1); code != number(codes.DeadlineExceeded) {
			t.Errorf("%s: status %s %s", what, code, message)
		}
	}
}

// Stalled calls give their places back: whoever waits behind them is answered.
func TestStalledCallsGiveTheirPlacesBack(t *testing.T) {
	short := limits
	short.CallTimeout = 300 * time.Millisecond
	conn := connect(t, startWith(t, realService(t), short))
	ctx, cancel := context.WithTimeout(t.Context(), 10*time.Second)
	defer cancel()
	var stalled []grpc.ClientStream
	for range limits.MaxConcurrentStreams {
		s, err := conn.NewStream(ctx, &grpc.StreamDesc{ClientStreams: true}, lixiviumv1.FormulationService_Formulate_FullMethodName)
		if err != nil {
			t.Fatal(err)
		}
		stalled = append(stalled, s)
	}
	sooner, cancel := context.WithTimeout(ctx, 5*time.Second)
	defer cancel()
	if _, err := lixiviumv1.NewCatalogServiceClient(conn).GetVersions(sooner, &lixiviumv1.GetVersionsRequest{}); err != nil {
		t.Errorf("the call behind: %v", err)
	}
	for _, s := range stalled {
		if err := s.RecvMsg(&lixiviumv1.FormulateResponse{}); status.Code(err) != codes.DeadlineExceeded {
			t.Errorf("a stalled call: %v", err)
		}
	}
}

// A message is refused for the size it announces, before it comes, and a
// compressed one is not unpacked.
func TestMessagesRefusedUnread(t *testing.T) {
	r := rawClient(t, start(t, realService(t)))
	for i, c := range []struct {
		headers []string
		sent    []byte
		code    codes.Code
		text    string
	}{
		{nil, []byte{0, 0xff, 0xff, 0xff, 0xff}, codes.ResourceExhausted, "received message larger than max (4294967295 vs. 65536)"},
		{nil, []byte{0, 0, 1, 0, 1}, codes.ResourceExhausted, "received message larger than max (65537 vs. 65536)"},
		{[]string{"grpc-encoding", "gzip"}, []byte{1, 0, 0, 0, 2, 0x1f, 0x8b}, codes.Unimplemented, "gzip"},
	} {
		stream := uint32(2*i + 1)
		if err := r.open(stream, c.headers...); err != nil {
			t.Fatal(err)
		}
		if err := r.WriteData(stream, false, c.sent); err != nil {
			t.Fatal(err)
		}
		if code, message := r.status(stream); code != number(c.code) || !strings.Contains(message, c.text) {
			t.Errorf("% x: status %s %s", c.sent, code, message)
		}
	}
}

// Health and reflection answer while every call of many connections is taken,
// and more are waiting.
func TestHealthUnderAFlood(t *testing.T) {
	service := &stubborn{letGo: make(chan struct{})}
	s := start(t, service)
	const flooders = 6
	calls := flooders * (int(limits.MaxConcurrentStreams) + 20)
	ended := make(chan error, calls)
	for range flooders {
		client := lixiviumv1.NewFormulationServiceClient(connect(t, s))
		for range calls / flooders {
			go func() {
				_, err := client.Formulate(t.Context(), &lixiviumv1.FormulateRequest{})
				ended <- err
			}()
		}
	}
	full := int32(flooders * limits.MaxConcurrentStreams)
	for service.running.Load() < full {
		time.Sleep(time.Millisecond)
	}
	wellServed(t, s)
	close(service.letGo)
	for range calls {
		if err := <-ended; err != nil {
			t.Errorf("a call of the flood: %v", err)
		}
	}
	if most := service.most.Load(); most > full {
		t.Errorf("%d calls ran at a time, allowed are %d", most, full)
	}
}

// Opening calls and resetting them at once does not get more of them running
// than are allowed, and hurts nobody else.
func TestRapidReset(t *testing.T) {
	service := &stubborn{letGo: make(chan struct{})}
	s := start(t, service)
	r := rawClient(t, s)
	sent := make(chan struct{})
	go func() {
		defer close(sent)
		for i := range uint32(20_000) {
			stream := 2*i + 1
			if r.open(stream) != nil || r.WriteData(stream, true, make([]byte, 5)) != nil || r.WriteRSTStream(stream, http2.ErrCodeCancel) != nil {
				return // it does not read any more
			}
		}
	}()
	for service.running.Load() < int32(limits.MaxConcurrentStreams) {
		time.Sleep(time.Millisecond)
	}
	wellServed(t, s)
	time.Sleep(100 * time.Millisecond) // for more to come, if more can
	if most := service.most.Load(); most > int32(limits.MaxConcurrentStreams) {
		t.Errorf("%d calls ran at a time, allowed are %d", most, limits.MaxConcurrentStreams)
	}
	r.Close()
	<-sent
	close(service.letGo)
	wellServed(t, s)
}

// Connections beyond the limit wait, and are taken up when others end.
func TestConnectionLimit(t *testing.T) {
	few := limits
	few.MaxConnections = 3
	s := startWith(t, realService(t), few)
	var held []*raw
	for range few.MaxConnections {
		r := rawClient(t, s)
		if _, err := r.ReadFrame(); err != nil { // the server's settings: it is taken up
			t.Fatal(err)
		}
		held = append(held, r)
	}
	client := healthv1.NewHealthClient(connect(t, s))
	ended := make(chan error, 1)
	go func() {
		_, err := client.Check(t.Context(), &healthv1.HealthCheckRequest{}, grpc.WaitForReady(true))
		ended <- err
	}()
	select {
	case err := <-ended:
		t.Fatalf("a connection beyond the limit was served: %v", err)
	case <-time.After(100 * time.Millisecond):
	}
	held[1].Close()
	if err := <-ended; err != nil {
		t.Errorf("after a place became free: %v", err)
	}
}

// Settings without end, never reading what comes back, and headers without end
// hurt nobody else; the second end the connection.
func TestFramesWithoutEnd(t *testing.T) {
	s := start(t, realService(t))
	r := rawClient(t, s)
	if err := r.SetWriteDeadline(time.Now().Add(time.Second)); err != nil {
		t.Fatal(err)
	}
	for range 100_000 {
		if r.WriteSettings(http2.Setting{ID: http2.SettingInitialWindowSize, Val: 1 << 16}) != nil {
			break // it does not read any more
		}
	}
	wellServed(t, s)

	h := rawClient(t, s)
	if err := h.WriteHeaders(http2.HeadersFrameParam{StreamID: 1, BlockFragment: h.headers()}); err != nil {
		t.Fatal(err)
	}
	junk := h.headers("x-note", strings.Repeat("x", 8<<10))
	sent := 0
	for range 10_000 {
		if h.WriteContinuation(1, false, junk) != nil {
			break
		}
		sent++
	}
	for {
		if _, err := h.ReadFrame(); err != nil {
			break // at the latest by the deadline of the client
		}
	}
	if sent == 10_000 {
		t.Error("80 MB of headers were taken")
	}
	wellServed(t, s)
}
