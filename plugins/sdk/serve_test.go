package sdk_test

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/hashicorp/go-hclog"
	goplugin "github.com/hashicorp/go-plugin"
	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"

	"lixivium.example/plugins/sdk"
	additivev1 "lixivium.example/proto/lixivium/additive/v1"
)

// A second start of this test binary, with the cookie in its environment, is
// the plugin under test.
func TestMain(m *testing.M) {
	if os.Getenv(sdk.CookieKey) == sdk.CookieValue {
		fmt.Println("printed by the author before Serve")
		sdk.Serve(servedPlugin())
	}
	os.Exit(m.Run())
}

func servedPlugin() *sdk.Plugin {
	return &sdk.Plugin{
		Name: "tried", Version: "1", Wants: []sdk.Grant{sdk.GrantWater, sdk.GrantFindings},
		Owns: []sdk.Additive{{ID: "tried-one", Name: "One", UsualStage: sdk.StageTrace, HighOfFatsPct: 3}},
		Adjust: func(_ context.Context, q sdk.Question) sdk.Answer {
			fmt.Println("printed by the author during a call")
			return q.Each(func(d sdk.Dose) (sdk.Adjustment, *sdk.Rejection) {
				if d.OfFatsPct > 50 {
					panic("a rule that cannot hold")
				}
				return sdk.Adjustment{WaterGPerG: 0.5, DensityGPerML: 1, Basis: sdk.Estimate, Source: "test"}, nil
			})
		},
		Review: func(_ context.Context, b sdk.Batch) []sdk.Finding {
			return []sdk.Finding{{Code: "tried/seen", Severity: sdk.Note, Text: fmt.Sprint(b.FatsG), Basis: sdk.Estimate, Source: "test"}}
		},
	}
}

// stub lets a go-plugin host reach the service.
type stub struct {
	goplugin.NetRPCUnsupportedPlugin
}

func (stub) GRPCServer(*goplugin.GRPCBroker, *grpc.Server) error { return nil }

func (stub) GRPCClient(_ context.Context, _ *goplugin.GRPCBroker, c *grpc.ClientConn) (any, error) {
	return additivev1.NewAdditiveServiceClient(c), nil
}

// output is a buffer that the copying goroutine and the test share.
type output struct {
	mu  sync.Mutex
	buf bytes.Buffer
}

func (o *output) Write(p []byte) (int, error) {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.buf.Write(p)
}

func (o *output) String() string {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.buf.String()
}

// start runs the plugin under a real go-plugin host, with a standard input that
// stays open.
func start(t *testing.T) (additivev1.AdditiveServiceClient, *goplugin.Client, *output) {
	t.Helper()
	stderr := &output{}
	client := goplugin.NewClient(&goplugin.ClientConfig{
		HandshakeConfig: goplugin.HandshakeConfig{
			ProtocolVersion: sdk.ProtocolVersion, MagicCookieKey: sdk.CookieKey, MagicCookieValue: sdk.CookieValue,
		},
		Plugins:          goplugin.PluginSet{"additive": stub{}},
		AllowedProtocols: []goplugin.Protocol{goplugin.ProtocolGRPC},
		Logger:           hclog.NewNullLogger(),
		Cmd:              exec.Command(os.Args[0]),
		Stderr:           stderr,
		StartTimeout:     20 * time.Second,
	})
	t.Cleanup(client.Kill)
	conn, err := client.Client()
	if err != nil {
		t.Fatal(err)
	}
	raw, err := conn.Dispense("additive")
	if err != nil {
		t.Fatal(err)
	}
	return raw.(additivev1.AdditiveServiceClient), client, stderr
}

// openStdin gives the process a standard input that never ends, for children
// that inherit it.
func openStdin(t *testing.T) {
	t.Helper()
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	before := os.Stdin
	os.Stdin = r
	t.Cleanup(func() {
		os.Stdin = before
		_ = r.Close()
		_ = w.Close()
	})
}

func TestServeUnderAGoPluginHost(t *testing.T) {
	openStdin(t)
	svc, client, stderr := start(t)
	ctx := t.Context()
	m, err := svc.Describe(ctx, &additivev1.DescribeRequest{})
	if err != nil || m.GetName() != "tried" || len(m.GetOwns()) != 1 {
		t.Fatalf("Describe: %v, %v", m, err)
	}
	a, err := svc.Adjust(ctx, &additivev1.AdjustRequest{Doses: []*additivev1.DoseView{{Id: "d", Additive: "tried-one", OfFatsPct: 1}}})
	if err != nil || len(a.GetAdjustments()) != 1 || a.GetAdjustments()[0].GetWaterGPerG() != 0.5 {
		t.Fatalf("Adjust: %v, %v", a, err)
	}
	_, err = svc.Adjust(ctx, &additivev1.AdjustRequest{Doses: []*additivev1.DoseView{{Id: "d", Additive: "tried-one", OfFatsPct: 60}}})
	if status.Code(err) != codes.Internal || strings.Contains(err.Error(), "cannot hold") {
		t.Fatalf("a panicking rule answered %v; want INTERNAL without its text", err)
	}
	r, err := svc.Review(ctx, &additivev1.ReviewRequest{Batch: &additivev1.Batch{FatsG: 700}})
	if err != nil || r.GetFindings()[0].GetText() != "700" {
		t.Fatalf("Review after a panic: %v, %v", r, err)
	}
	begin := time.Now()
	client.Kill()
	if took := time.Since(begin); took > 1500*time.Millisecond {
		t.Errorf("leaving took %v: the Shutdown call is not answered", took)
	}
	for _, want := range []string{"before Serve", "during a call", "a rule that cannot hold"} {
		if !strings.Contains(stderr.String(), want) {
			t.Errorf("standard error lacks %q:\n%s", want, stderr)
		}
	}
}

func TestStandardInputIsALifeline(t *testing.T) {
	folder := t.TempDir()
	cmd := exec.Command(os.Args[0])
	cmd.Env = []string{sdk.CookieKey + "=" + sdk.CookieValue, "PLUGIN_UNIX_SOCKET_DIR=" + folder}
	in, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	defer func() { _ = cmd.Process.Kill() }()
	line := make([]byte, 200)
	n, err := out.Read(line)
	if err != nil || !strings.HasPrefix(string(line[:n]), "1|1|unix|"+folder+"/") || !strings.HasSuffix(string(line[:n]), "|grpc|\n") {
		t.Fatalf("the handshake is %q, %v", line[:n], err)
	}
	if err := in.Close(); err != nil {
		t.Fatal(err)
	}
	rest, _ := io.ReadAll(out)
	if err := cmd.Wait(); err != nil {
		t.Errorf("it left with %v, want 0", err)
	}
	if len(rest) > 0 {
		t.Errorf("after the handshake standard output carried %q", rest)
	}
	left, err := filepath.Glob(filepath.Join(folder, "*"))
	if err != nil || len(left) > 0 {
		t.Errorf("left behind: %v, %v", left, err)
	}
}

func TestLongSocketFolderIsRefusedInWords(t *testing.T) {
	cmd := exec.Command(os.Args[0])
	cmd.Env = []string{sdk.CookieKey + "=" + sdk.CookieValue, "PLUGIN_UNIX_SOCKET_DIR=" + t.TempDir() + strings.Repeat("/deep", 30)}
	out, err := cmd.CombinedOutput()
	if err == nil || !strings.Contains(string(out), "shorter folder") {
		t.Errorf("got %v and %q", err, out)
	}
}
