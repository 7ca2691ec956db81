package listen

import (
	"context"
	"slices"
	"strings"
	"testing"
	"time"

	"go.uber.org/goleak"
	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/credentials/insecure"
	healthv1 "google.golang.org/grpc/health/grpc_health_v1"
	"google.golang.org/grpc/metadata"
	reflectionv1 "google.golang.org/grpc/reflection/grpc_reflection_v1"
	"google.golang.org/grpc/status"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
	"lixivium.example/server/app"
)

var limits = Limits{MaxRequestBytes: 64 << 10, MaxConcurrentStreams: 8, MaxConnections: 20, CallTimeout: 10 * time.Second}

// slow answers when it is let go; only Formulate is called.
type slow struct {
	app.Service
	entered, letGo chan struct{}
}

func newSlow() *slow {
	return &slow{entered: make(chan struct{}, 16), letGo: make(chan struct{})}
}

func (s *slow) Formulate(ctx context.Context, _ *lixiviumv1.FormulateRequest) (*lixiviumv1.FormulateResponse, error) {
	s.entered <- struct{}{}
	select {
	case <-s.letGo:
		return &lixiviumv1.FormulateResponse{}, nil
	case <-ctx.Done():
		return nil, status.FromContextError(ctx.Err()).Err()
	}
}

func realService(t *testing.T) app.Service {
	t.Helper()
	s, err := app.New(app.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// start serves until the test ends and checks that nothing is left running.
func start(t *testing.T, service app.Service) *Server {
	t.Helper()
	return startWith(t, service, limits)
}

func startWith(t *testing.T, service app.Service, limits Limits) *Server {
	t.Helper()
	leaks := goleak.IgnoreCurrent()
	s, err := Open(t.Context(), "127.0.0.1:0", service, limits)
	if err != nil {
		t.Fatal(err)
	}
	served := make(chan error, 1)
	go func() { served <- s.Serve() }()
	t.Cleanup(func() {
		s.Stop()
		if err := <-served; err != nil {
			t.Errorf("serve: %v", err)
		}
		goleak.VerifyNone(t, leaks)
	})
	return s
}

// connect closes before the server of start does.
func connect(t *testing.T, s *Server, options ...grpc.DialOption) *grpc.ClientConn {
	t.Helper()
	conn, err := grpc.NewClient(s.Address(), append(options, grpc.WithTransportCredentials(insecure.NewCredentials()))...)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { conn.Close() })
	return conn
}

func TestHealth(t *testing.T) {
	client := healthv1.NewHealthClient(connect(t, start(t, realService(t))))
	for _, name := range []string{"", "lixivium.v1.FormulationService", "lixivium.v1.CatalogService"} {
		got, err := client.Check(t.Context(), &healthv1.HealthCheckRequest{Service: name})
		if err != nil || got.GetStatus() != healthv1.HealthCheckResponse_SERVING {
			t.Errorf("%q: %v, %v", name, got, err)
		}
	}
	if _, err := client.Check(t.Context(), &healthv1.HealthCheckRequest{Service: "other"}); status.Code(err) != codes.NotFound {
		t.Errorf("an unknown service: %v", err)
	}
}

func TestReflection(t *testing.T) {
	stream, err := reflectionv1.NewServerReflectionClient(connect(t, start(t, realService(t)))).ServerReflectionInfo(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if err := stream.Send(&reflectionv1.ServerReflectionRequest{
		MessageRequest: &reflectionv1.ServerReflectionRequest_ListServices{},
	}); err != nil {
		t.Fatal(err)
	}
	answer, err := stream.Recv()
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, s := range answer.GetListServicesResponse().GetService() {
		got = append(got, s.GetName())
	}
	slices.Sort(got)
	want := []string{"grpc.health.v1.Health", "grpc.reflection.v1.ServerReflection", "lixivium.v1.CatalogService", "lixivium.v1.FormulationService"}
	if !slices.Equal(got, want) {
		t.Errorf("got %v", got)
	}
}

func TestTooLargeRequest(t *testing.T) {
	client := lixiviumv1.NewFormulationServiceClient(connect(t, start(t, realService(t))))
	_, err := client.Formulate(t.Context(), &lixiviumv1.FormulateRequest{
		Recipe: &lixiviumv1.Recipe{Name: strings.Repeat("x", limits.MaxRequestBytes)},
	})
	if status.Code(err) != codes.ResourceExhausted {
		t.Errorf("got %v", err)
	}
}

func TestTooLargeHeaders(t *testing.T) {
	client := lixiviumv1.NewCatalogServiceClient(connect(t, start(t, realService(t))))
	for size, ok := range map[int]bool{maxHeaderBytes / 2: true, maxHeaderBytes: false} {
		ctx := metadata.AppendToOutgoingContext(t.Context(), "x-note", strings.Repeat("x", size))
		if _, err := client.GetVersions(ctx, &lixiviumv1.GetVersionsRequest{}); (err == nil) != ok {
			t.Errorf("%d bytes of headers: %v", size, err)
		}
	}
}

// TestManyViolationsFit: a client with the trailer limit of other languages
// still sees violations.
func TestManyViolationsFit(t *testing.T) {
	s := start(t, realService(t))
	q := &lixiviumv1.FormulateRequest{Recipe: &lixiviumv1.Recipe{}}
	for range 400 {
		q.Recipe.Doses = append(q.Recipe.Doses, &lixiviumv1.Dose{Stage: 77})
	}
	conn := connect(t, s, grpc.WithMaxHeaderListSize(8192))
	_, err := lixiviumv1.NewFormulationServiceClient(conn).Formulate(t.Context(), q)
	read := app.ReadRefusal(err)
	if read.Code != codes.InvalidArgument || len(read.Violations) < 5 || read.Violations[0].Path != "recipe.doses[0].stage" {
		t.Errorf("got %+v", read)
	}
}

// TestStreamLimit: a connection has no more calls at a time than allowed.
func TestStreamLimit(t *testing.T) {
	service := newSlow()
	client := lixiviumv1.NewFormulationServiceClient(connect(t, start(t, service)))
	calls := int(limits.MaxConcurrentStreams) + 3
	ended := make(chan error, calls)
	for range calls {
		go func() {
			_, err := client.Formulate(t.Context(), &lixiviumv1.FormulateRequest{})
			ended <- err
		}()
	}
	for range limits.MaxConcurrentStreams {
		<-service.entered
	}
	select {
	case <-service.entered:
		t.Error("a call beyond the limit was begun")
	case <-time.After(100 * time.Millisecond):
	}
	close(service.letGo)
	for range calls {
		if err := <-ended; err != nil {
			t.Error(err)
		}
	}
}

func TestDrainFinishesCalls(t *testing.T) {
	service := newSlow()
	s := start(t, service)
	client := lixiviumv1.NewFormulationServiceClient(connect(t, s))
	ended := make(chan error, 1)
	go func() {
		_, err := client.Formulate(t.Context(), &lixiviumv1.FormulateRequest{})
		ended <- err
	}()
	<-service.entered

	drained := make(chan bool, 1)
	ctx, cancel := context.WithTimeout(t.Context(), 10*time.Second)
	defer cancel()
	go func() { drained <- s.Drain(ctx) }()
	// New calls are turned away while the old one goes on.
	refused := connect(t, s)
	for {
		if _, err := healthv1.NewHealthClient(refused).Check(t.Context(), &healthv1.HealthCheckRequest{}); status.Code(err) == codes.Unavailable {
			break
		}
	}
	select {
	case err := <-ended:
		t.Fatalf("the call in flight ended early: %v", err)
	default:
	}
	close(service.letGo)
	if err := <-ended; err != nil {
		t.Errorf("the call in flight: %v", err)
	}
	if !<-drained {
		t.Error("the drain was cut off")
	}
}

func TestDrainCutsOff(t *testing.T) {
	service := newSlow()
	s := start(t, service)
	client := lixiviumv1.NewFormulationServiceClient(connect(t, s))
	ended := make(chan error, 1)
	go func() {
		_, err := client.Formulate(t.Context(), &lixiviumv1.FormulateRequest{})
		ended <- err
	}()
	<-service.entered
	ctx, cancel := context.WithTimeout(t.Context(), 50*time.Millisecond)
	defer cancel()
	if s.Drain(ctx) {
		t.Error("a drain with a hanging call says that all was finished")
	}
	if err := <-ended; status.Code(err) != codes.Unavailable && status.Code(err) != codes.Canceled {
		t.Errorf("the hanging call: %v", err)
	}
}

// TestWatchersDoNotHoldUpADrain: they hear NOT_SERVING, then their stream ends.
func TestWatchersDoNotHoldUpADrain(t *testing.T) {
	s := start(t, realService(t))
	conn := connect(t, s)
	watch, err := healthv1.NewHealthClient(conn).Watch(t.Context(), &healthv1.HealthCheckRequest{})
	if err != nil {
		t.Fatal(err)
	}
	if got, err := watch.Recv(); err != nil || got.GetStatus() != healthv1.HealthCheckResponse_SERVING {
		t.Fatalf("%v, %v", got, err)
	}
	// A reflection stream that is open and says nothing is in the way too.
	if _, err := reflectionv1.NewServerReflectionClient(conn).ServerReflectionInfo(t.Context()); err != nil {
		t.Fatal(err)
	}
	began := time.Now()
	ctx, cancel := context.WithTimeout(t.Context(), 10*time.Second)
	defer cancel()
	if !s.Drain(ctx) || time.Since(began) > 5*time.Second {
		t.Errorf("the drain took %s", time.Since(began))
	}
	if got, err := watch.Recv(); err != nil || got.GetStatus() != healthv1.HealthCheckResponse_NOT_SERVING {
		t.Errorf("%v, %v", got, err)
	}
	if _, err := watch.Recv(); status.Code(err) != codes.Unavailable {
		t.Errorf("the watch ended with %v", err)
	}
}

func TestOpenRefuses(t *testing.T) {
	s := start(t, realService(t))
	for address, want := range map[string]string{
		"0.0.0.0:0": "is refused",
		s.Address(): "Is another server running there?",
	} {
		other, err := Open(t.Context(), address, realService(t), limits)
		if err == nil {
			other.Stop()
			t.Errorf("%s is listened on", address)
		} else if !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", address, err)
		}
	}
}

// A limit left out would be no limit, or a server that takes no connection.
func TestEveryLimitIsNeeded(t *testing.T) {
	for name, without := range map[string]func(*Limits){
		"MaxRequestBytes":      func(l *Limits) { l.MaxRequestBytes = 0 },
		"MaxConcurrentStreams": func(l *Limits) { l.MaxConcurrentStreams = 0 },
		"MaxConnections":       func(l *Limits) { l.MaxConnections = 0 },
		"CallTimeout":          func(l *Limits) { l.CallTimeout = -time.Second },
	} {
		l := limits
		without(&l)
		s, err := Open(t.Context(), "127.0.0.1:0", newSlow(), l)
		if err == nil {
			s.Stop()
			t.Errorf("a listener without %s opens", name)
		} else if !strings.Contains(err.Error(), "above zero") {
			t.Errorf("without %s: %v", name, err)
		}
	}
}
