package main

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/credentials/insecure"
	"google.golang.org/grpc/status"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
	"lixivium.example/server/app"
)

func TestHelpExplainsItself(t *testing.T) {
	code, out, _ := command(t, "--help").runs(t)
	for _, word := range []string{"lixivium.yaml", "--config", "--listen", "--log-level", "--print-address", "current folder",
		"SIGTERM", "drain_timeout", "Exit codes", "reflection", "127.0.0.1:7450", "max_request_bytes: 1048576", "max_connections: 512"} {
		if !strings.Contains(out, word) {
			t.Errorf("--help does not tell of %s", word)
		}
	}
	if code != exitStopped {
		t.Errorf("exit code %d", code)
	}
	if code, out, _ := command(t, "--version").runs(t); code != exitStopped || !strings.Contains(out, app.Version) {
		t.Errorf("--version: %d, %s", code, out)
	}
}

// file writes a configuration file and gives its name.
func file(t *testing.T, name, text string) string {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return name
}

func TestRefusedStarts(t *testing.T) {
	dir := t.TempDir()
	taken := command(t, "--listen", "127.0.0.1:0").serving(t)
	unknown := file(t, filepath.Join(dir, "unknown.yaml"), "log:\n  level: info\n  colour: red\n")
	open := file(t, filepath.Join(dir, "open.yaml"), "# everybody\nlisten: 0.0.0.0:7450\n")
	for _, c := range []struct {
		args []string
		code int
		want string
	}{
		{[]string{"--lisen", "x"}, exitConfigured, "unknown flag: --lisen"},
		{[]string{"serve"}, exitConfigured, `unknown command "serve"`},
		{[]string{"--config", filepath.Join(dir, "none.yaml")}, exitConfigured, "there is no such file"},
		{[]string{"--config", unknown}, exitConfigured, unknown + `:3:3: "colour" is no key of log.`},
		{[]string{"--log-level", "loud"}, exitConfigured, "none of debug, info, warn, error"},
		{[]string{"--listen", "7450"}, exitConfigured, "--listen: \"7450\" is not host:port"},
		{[]string{"--config", open}, exitCannotListen, open + ":2:9: listen address \"0.0.0.0:7450\" is refused"},
		{[]string{"--listen", "[::]:0"}, exitCannotListen, ":: can be reached from other machines"},
		{[]string{"--listen", taken.address}, exitCannotListen, "Is another server running there?"},
	} {
		code, out, stderr := command(t, c.args...).runs(t)
		if code != c.code || !strings.Contains(stderr, c.want) || out != "" {
			t.Errorf("%v: exit code %d, output %q, error %s", c.args, code, out, stderr)
		}
	}
}

// TestWhereTheFileIsFound: the user's folder before the executable's, and
// never the current one.
func TestWhereTheFileIsFound(t *testing.T) {
	const console, warn = "log: {format: console}\n", "log: {level: warn}\n"
	beside := t.TempDir()
	linked := filepath.Join(beside, "lixiviumd")
	if err := os.Link(binary, linked); err != nil {
		t.Fatal(err)
	}
	run := func(home, current string) (*process, string) {
		p := command(t, "--listen", "localhost:0")
		p.cmd.Path = linked
		if home != "" {
			file(t, filepath.Join(strings.TrimPrefix(p.cmd.Env[0], "HOME="), ".config", "lixivium", "lixivium.yaml"), home)
		}
		if current != "" {
			file(t, filepath.Join(p.cmd.Dir, "lixivium.yaml"), current)
		}
		p.serving(t)
		p.signal(t, syscall.SIGINT)
		if code := p.exit(t); code != exitStopped {
			t.Errorf("exit code %d", code)
		}
		return p, p.stderr.String()
	}
	if _, log := run("", "this is no configuration\n"); !strings.Contains(log, "no configuration file found") {
		t.Errorf("in the current folder: %s", log)
	}
	file(t, filepath.Join(beside, "lixivium.yaml"), warn)
	if _, log := run("", ""); log != "" {
		t.Errorf("beside the executable: %s", log)
	}
	if p, log := run(console, ""); !strings.Contains(log, "INF listening on "+p.address) {
		t.Errorf("in the user's folder: %s", log)
	}
}

func dial(t *testing.T, p *process) *grpc.ClientConn {
	t.Helper()
	conn, err := grpc.NewClient(p.address, grpc.WithTransportCredentials(insecure.NewCredentials()))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { conn.Close() })
	return conn
}

var canary = &lixiviumv1.FormulateRequest{Recipe: &lixiviumv1.Recipe{
	Name:   "canary-title",
	Fats:   []*lixiviumv1.FatLine{{Id: "canary-line", Kind: &lixiviumv1.FatLine_Fat{Fat: "olive-oil"}, Amount: &lixiviumv1.FatLine_Mass{Mass: &lixiviumv1.Quantity{Amount: &lixiviumv1.Quantity_G{G: 500}}}}},
	Alkali: &lixiviumv1.Alkali{Amount: &lixiviumv1.Alkali_SuperfatPct{SuperfatPct: 5}},
	Water:  &lixiviumv1.Water{Ask: &lixiviumv1.Water_Measure{Measure: &lixiviumv1.WaterMeasure{Measure: &lixiviumv1.WaterMeasure_LyeConcentrationPct{LyeConcentrationPct: 33}}}},
}}

func TestLogTellsNothingOfRecipes(t *testing.T) {
	p := command(t, "--listen", "127.0.0.1:0").serving(t)
	service, closer, err := app.Dial(p.address)
	if err != nil {
		t.Fatal(err)
	}
	defer closer.Close()
	answer, err := service.Formulate(t.Context(), canary)
	if err != nil || answer.GetFormulation().GetAlkali().GetNaohG() <= 0 {
		t.Fatalf("%v, %v", answer, err)
	}
	p.logged(t, `"call":"Formulate"`)
	log := p.stderr.String()
	if strings.Contains(log, "canary") || strings.Contains(log, "olive") {
		t.Errorf("the log tells of the recipe:\n%s", log)
	}
	for line := range strings.Lines(log) {
		if !json.Valid([]byte(line)) {
			t.Errorf("no JSON: %s", line)
		}
	}
	if !strings.Contains(log, "listening on "+p.address) {
		t.Errorf("the log does not tell the address:\n%s", log)
	}
}

// inFlight begins a call of which the request is not sent yet, so that it
// lasts until finish is called.
func inFlight(t *testing.T, p *process) (finish func() error) {
	t.Helper()
	conn := dial(t, p)
	stream, err := conn.NewStream(t.Context(), &grpc.StreamDesc{ClientStreams: true}, lixiviumv1.FormulationService_Formulate_FullMethodName)
	if err != nil {
		t.Fatal(err)
	}
	// A later call on the same connection that is answered proves that the
	// server has seen this one.
	if _, err := lixiviumv1.NewCatalogServiceClient(conn).GetVersions(t.Context(), &lixiviumv1.GetVersionsRequest{}); err != nil {
		t.Fatal(err)
	}
	return func() error {
		if err := stream.SendMsg(canary); err != nil {
			return err
		}
		if err := stream.CloseSend(); err != nil {
			return err
		}
		return stream.RecvMsg(&lixiviumv1.FormulateResponse{})
	}
}

func TestDrainOnSIGTERM(t *testing.T) {
	p := command(t, "--listen", "127.0.0.1:0").serving(t)
	finish := inFlight(t, p)
	p.signal(t, syscall.SIGTERM)
	p.logged(t, "draining")
	waitUntilRefused(t, p)
	if err := finish(); err != nil {
		t.Errorf("the call in flight: %v", err)
	}
	if code := p.exit(t); code != exitStopped {
		t.Errorf("exit code %d\n%s", code, p.stderr.String())
	}
}

// waitUntilRefused waits until new connections are turned away.
func waitUntilRefused(t *testing.T, p *process) {
	t.Helper()
	service, closer, err := app.Dial(p.address)
	if err != nil {
		t.Fatal(err)
	}
	defer closer.Close()
	ctx, cancel := context.WithTimeout(t.Context(), 10*time.Second)
	defer cancel()
	for ctx.Err() == nil {
		if _, err := service.GetVersions(ctx, &lixiviumv1.GetVersionsRequest{}); status.Code(err) == codes.Unavailable {
			return
		}
	}
	t.Fatal("new calls are still taken")
}

func TestSecondSignalStopsAtOnce(t *testing.T) {
	p := command(t, "--listen", "127.0.0.1:0").serving(t)
	inFlight(t, p)
	p.signal(t, syscall.SIGTERM)
	p.logged(t, "draining")
	began := time.Now()
	p.signal(t, syscall.SIGINT)
	if code := p.exit(t); code != exitCutOff || time.Since(began) > 5*time.Second || !strings.Contains(p.stderr.String(), "a second signal came") {
		t.Errorf("exit code %d after %s\n%s", code, time.Since(began), p.stderr.String())
	}
}

func TestDrainTimeout(t *testing.T) {
	short := file(t, filepath.Join(t.TempDir(), "short.yaml"), "drain_timeout: 100ms\n")
	p := command(t, "--listen", "127.0.0.1:0", "--config", short).serving(t)
	inFlight(t, p)
	p.signal(t, syscall.SIGTERM)
	if code := p.exit(t); code != exitCutOff || !strings.Contains(p.stderr.String(), "drain_timeout was over") {
		t.Errorf("exit code %d\n%s", code, p.stderr.String())
	}
}
