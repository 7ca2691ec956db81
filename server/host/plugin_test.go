package host

import (
	"context"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"net"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"sync/atomic"
	"syscall"
	"time"

	"github.com/hashicorp/go-hclog"
	"github.com/hashicorp/go-plugin"
	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/health/grpc_health_v1"
	"google.golang.org/grpc/metadata"
	"google.golang.org/grpc/status"

	additivev1 "lixivium.example/proto/lixivium/additive/v1"
)

// script is what a test plugin does. It is written behind the last byte of a
// copy of the test's executable: a plugin gets no arguments and no environment
// of ours, and every script needs a digest of its own.
type script struct {
	Name    string
	Version string
	Owns    []string
	Wants   []string
	Watches []string
	Start   string // what it does at its start
	Calls   string // what it does in every call; else the id of a dose says so
}

const scriptEnd = "lixivium test script"

// readScript reads the script of this very executable.
func readScript() (script, error) {
	var s script
	f, err := os.Open("/proc/self/exe")
	if err != nil {
		return s, err
	}
	defer f.Close()
	tail := make([]byte, 4+len(scriptEnd))
	if _, err := f.Seek(int64(-len(tail)), io.SeekEnd); err != nil {
		return s, err
	}
	if _, err := io.ReadFull(f, tail); err != nil {
		return s, err
	}
	if string(tail[4:]) != scriptEnd {
		return s, fmt.Errorf("no script in this executable")
	}
	text := make([]byte, binary.LittleEndian.Uint32(tail))
	if _, err := f.Seek(-int64(len(tail)+len(text)), io.SeekEnd); err != nil {
		return s, err
	}
	if _, err := io.ReadFull(f, text); err != nil {
		return s, err
	}
	return s, json.Unmarshal(text, &s)
}

func (s script) tail() []byte {
	text, _ := json.Marshal(s)
	n := len(text)
	return append(binary.LittleEndian.AppendUint32(text, uint32(n)), scriptEnd...)
}

// runPlugin is main of a test plugin. It uses go-plugin's own server, unlike
// our SDK, so that the host is tried with both.
func runPlugin() {
	s, err := readScript()
	if err != nil {
		panic(err)
	}
	p := &testPlugin{script: s}
	if s.Start != "deaf" {
		go func() { _, _ = io.Copy(io.Discard, os.Stdin); os.Exit(0) }()
	}
	raw := os.Stderr // go-plugin's server puts pipes in their places
	p.stdout = os.Stdout
	switch s.Start {
	case "garbage":
		fmt.Println("hello, I am a plugin")
	case "slow":
		time.Sleep(time.Hour)
	case "sluggish":
		time.Sleep(700 * time.Millisecond)
	case "exit":
		fmt.Fprintln(os.Stderr, "I do not want to")
		os.Exit(3)
	case "json":
		fmt.Fprintln(raw, `{"@message":5}`)
		fmt.Fprintln(raw, `{"@message":"m","@level":7,"@timestamp":[]}`)
	case "escape":
		fmt.Fprintln(raw, "a\x1b[2Jb")
	case "tcp":
		l, _ := net.Listen("tcp", "127.0.0.1:0")
		fmt.Printf("1|1|tcp|%s|grpc|\n", l.Addr())
		time.Sleep(time.Hour)
	case "elsewhere":
		fmt.Printf("1|1|unix|/tmp/lixivium-elsewhere|grpc|\n")
		time.Sleep(time.Hour)
	case "frozen":
		l, _ := net.Listen("unix", os.Getenv("PLUGIN_UNIX_SOCKET_DIR")+"/s")
		fmt.Printf("1|1|unix|%s|grpc|\n", l.Addr())
		_ = syscall.Kill(os.Getpid(), syscall.SIGSTOP)
	case "forks", "escapes":
		child := exec.Command("/bin/sleep", "60")
		child.Stderr = raw
		child.SysProcAttr = &syscall.SysProcAttr{Setsid: s.Start == "escapes"}
		if err := child.Start(); err != nil {
			panic(err)
		}
		p.child = child.Process.Pid
	}
	plugin.Serve(&plugin.ServeConfig{
		HandshakeConfig: plugin.HandshakeConfig{ProtocolVersion: protocolVersion, MagicCookieKey: cookieKey, MagicCookieValue: cookieValue},
		Plugins:         plugin.PluginSet{"additive": p},
		Logger:          hclog.NewNullLogger(),
		GRPCServer: func(o []grpc.ServerOption) *grpc.Server {
			return grpc.NewServer(append(o, grpc.UnaryInterceptor(p.intercept))...)
		},
	})
}

type testPlugin struct {
	plugin.NetRPCUnsupportedPlugin
	additivev1.UnimplementedAdditiveServiceServer
	script script
	child  int
	stdout *os.File
	calls  atomic.Int64
	memory [][]byte
}

func (p *testPlugin) GRPCClient(context.Context, *plugin.GRPCBroker, *grpc.ClientConn) (any, error) {
	return nil, nil
}

func (p *testPlugin) GRPCServer(_ *plugin.GRPCBroker, s *grpc.Server) error {
	additivev1.RegisterAdditiveServiceServer(s, p)
	return nil
}

// intercept lets a plugin say that it is not well.
func (p *testPlugin) intercept(ctx context.Context, q any, info *grpc.UnaryServerInfo, next grpc.UnaryHandler) (any, error) {
	if p.script.Start == "unwell" && strings.HasSuffix(info.FullMethod, "Health/Check") {
		return &grpc_health_v1.HealthCheckResponse{Status: grpc_health_v1.HealthCheckResponse_NOT_SERVING}, nil
	}
	if m, _ := metadata.FromIncomingContext(ctx); p.script.Start == "strict" && m.Get(":authority")[0] != "localhost" {
		return nil, status.Error(codes.InvalidArgument, "the authority is "+m.Get(":authority")[0])
	}
	return next(ctx, q)
}

func (p *testPlugin) Describe(context.Context, *additivev1.DescribeRequest) (*additivev1.DescribeResponse, error) {
	m := &additivev1.DescribeResponse{Name: p.script.Name, Version: p.script.Version, GrantsWanted: p.script.Wants, WatchesFats: p.script.Watches}
	for _, id := range p.script.Owns {
		m.Owns = append(m.Owns, &additivev1.AdditiveInfo{Id: id, Name: id, UsualStage: "trace", HighOfFatsPct: 5, Parameters: []*additivev1.ParameterInfo{
			{Name: "strength_pct", Unit: "percent", Max: 100, DefaultValue: 60},
		}})
	}
	switch p.script.Start {
	case "mute":
		time.Sleep(time.Hour)
	case "rules": // the digest of rules is another one after every start
		m.RulesDigest = strconv.FormatInt(time.Now().UnixNano(), 10)
	case "misshapen":
		m.Owns[0].Parameters[0].Max = math.NaN()
	case "stderr":
		for range 100_000 {
			fmt.Fprintln(os.Stderr, strings.Repeat("a long complaint ", 20))
		}
	case "stdout":
		fmt.Fprintln(p.stdout, strings.Repeat("x", 1<<20))
	}
	return m, nil
}

func (p *testPlugin) behavior(id string) string {
	if p.script.Calls != "" {
		return p.script.Calls
	}
	b, _, _ := strings.Cut(id, "-")
	return b
}

func (p *testPlugin) Adjust(ctx context.Context, q *additivev1.AdjustRequest) (*additivev1.AdjustResponse, error) {
	n := p.calls.Add(1)
	r := &additivev1.AdjustResponse{}
	for _, d := range q.GetDoses() {
		a := &additivev1.Adjustment{
			DoseId: d.GetId(), WaterGPerG: d.GetParameters()["strength_pct"] / 200, BoundWaterGPerG: d.GetOfFatsPct(),
			DensityGPerMl: 1.2, TraceTimeFactor: &additivev1.Band{Low: 0.8, Typical: 0.9, High: 1},
			Basis: "estimate", Source: "test",
			Steps: []*additivev1.Step{{Stage: "trace", Code: "stir-in", Text: "Stir it in."}},
		}
		r.Adjustments = append(r.Adjustments, a)
		if err := p.misbehave(ctx, p.behavior(d.GetId()), n, a, r); err != nil {
			return nil, err
		}
	}
	for fat := range q.GetWatchedFatPct() {
		r.FatFactors = append(r.FatFactors, &additivev1.FatFactor{Fat: fat, TraceTimeFactor: &additivev1.Band{Low: 0.5, Typical: 0.6, High: 0.7}, Basis: "estimate", Source: "test"})
	}
	return r, nil
}

func (p *testPlugin) misbehave(ctx context.Context, how string, n int64, a *additivev1.Adjustment, r *additivev1.AdjustResponse) error {
	switch how {
	case "panic":
		go panic("this dose is too much for me")
		<-ctx.Done()
	case "exit":
		os.Exit(7)
	case "rule":
		return status.Error(codes.Internal, "a rule panicked")
	case "status":
		return status.Error(codes.PermissionDenied, "a status of my own")
	case "hold":
		time.Sleep(300 * time.Millisecond)
	case "hang":
		time.Sleep(time.Hour)
	case "freeze":
		_ = syscall.Kill(os.Getpid(), syscall.SIGSTOP)
		time.Sleep(time.Second)
	case "eat":
		for range 60 {
			b := make([]byte, 8<<20)
			for i := 0; i < len(b); i += 4096 {
				b[i] = 1
			}
			p.memory = append(p.memory, b)
			time.Sleep(10 * time.Millisecond)
		}
		time.Sleep(time.Second)
	case "nan":
		a.HeatJPerG = math.NaN()
	case "infinite":
		a.BoundWaterGPerG = math.Inf(1)
	case "bounds":
		a.WaterGPerG = 1.01
	case "alkali":
		a.AlkaliMolPerG = 0.001
	case "density":
		a.DensityGPerMl = 0
	case "band":
		a.TraceTimeFactor = &additivev1.Band{Low: 1, Typical: 0.9, High: 1.1}
	case "stage":
		a.Steps[0].Stage = "later"
	case "basis":
		a.Basis = "hearsay"
	case "control":
		a.Source = "clear\x1b[2J"
	case "wrongid":
		a.DoseId = "somebody-else"
	case "twice":
		r.Adjustments = append(r.Adjustments, a)
	case "nothing":
		r.Adjustments = nil
	case "fat":
		a.Fats = []*additivev1.FatBrought{{Fat: "Olive Oil", GPerG: 0.1}}
	case "big":
		a.Source = strings.Repeat("s", 5<<20)
	case "liar":
		a.BoundWaterGPerG = float64(n) / 1000
	case "reject":
		r.Adjustments = nil
		r.Rejections = []*additivev1.Rejection{{DoseId: a.GetDoseId(), Field: "parameters.strength_pct", Reason: "PARAMETER", Text: "Not like this."}}
	case "tell":
		a.Source = fmt.Sprintf("pid %d child %d env %s", os.Getpid(), p.child, strings.Join(os.Environ(), " "))
	}
	return nil
}

func (p *testPlugin) Review(ctx context.Context, q *additivev1.ReviewRequest) (*additivev1.ReviewResponse, error) {
	n := p.calls.Add(1)
	d := q.GetBatch().GetDoses()[0]
	f := &additivev1.Finding{
		Code: p.script.Name + "/plenty", Severity: "note", SubjectIds: []string{d.GetId()}, Text: "There is plenty of it.",
		Numbers: map[string]float64{"dose_pct": d.GetOfFatsPct()}, Basis: "estimate", Source: "test",
		Remedies: []*additivev1.Suggestion{{Text: "Take less.", Change: &additivev1.Suggestion_SetDoseOfFatsPct{SetDoseOfFatsPct: 1}}},
	}
	switch p.behavior(d.GetId()) {
	case "reviewpanic":
		go panic("this batch is too much for me")
		<-ctx.Done()
	case "reviewcode":
		f.Code = "superfat/none"
	case "reviewsubject":
		f.SubjectIds = []string{"stranger"}
	case "reviewnan":
		f.Numbers["dose_pct"] = math.NaN()
	case "reviewseverity":
		f.Severity = "doom"
	case "reviewliar":
		f.Numbers["dose_pct"] = float64(n)
	case "reviewdose":
		f.Remedies[0].Change = &additivev1.Suggestion_SetDoseOfFatsPct{SetDoseOfFatsPct: 900}
	}
	return &additivev1.ReviewResponse{Findings: []*additivev1.Finding{f}}, nil
}
