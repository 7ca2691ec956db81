package command

import (
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"google.golang.org/genproto/googleapis/rpc/errdetails"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/protoadapt"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// fake answers every call with the same error, or with what the test set.
type fake struct {
	err       error
	formulate *lixiviumv1.FormulateResponse
	asked     *lixiviumv1.FormulateRequest
	scaled    *lixiviumv1.ScaleResponse
	sized     *lixiviumv1.ScaleRequest
	swapped   *lixiviumv1.SwapFatResponse
	swap      *lixiviumv1.SwapFatRequest
	cost      *lixiviumv1.CostResponse
	costed    *lixiviumv1.CostRequest
}

func (f *fake) Formulate(_ context.Context, q *lixiviumv1.FormulateRequest) (*lixiviumv1.FormulateResponse, error) {
	f.asked = q
	return f.formulate, f.err
}

func (f *fake) ReconcileWeights(context.Context, *lixiviumv1.ReconcileWeightsRequest) (*lixiviumv1.ReconcileWeightsResponse, error) {
	return &lixiviumv1.ReconcileWeightsResponse{Findings: f.formulate.GetFormulation().GetFindings()}, f.err
}

func (f *fake) Cost(_ context.Context, q *lixiviumv1.CostRequest) (*lixiviumv1.CostResponse, error) {
	f.costed = q
	return f.cost, f.err
}

func (f *fake) ListFats(context.Context, *lixiviumv1.ListFatsRequest) (*lixiviumv1.ListFatsResponse, error) {
	return &lixiviumv1.ListFatsResponse{}, f.err
}

func (f *fake) ListWaterReferences(context.Context, *lixiviumv1.ListWaterReferencesRequest) (*lixiviumv1.ListWaterReferencesResponse, error) {
	return &lixiviumv1.ListWaterReferencesResponse{}, f.err
}

func (f *fake) ListFindingCodes(context.Context, *lixiviumv1.ListFindingCodesRequest) (*lixiviumv1.ListFindingCodesResponse, error) {
	return &lixiviumv1.ListFindingCodesResponse{}, f.err
}

func (f *fake) ListAdditives(context.Context, *lixiviumv1.ListAdditivesRequest) (*lixiviumv1.ListAdditivesResponse, error) {
	return &lixiviumv1.ListAdditivesResponse{Additives: []*lixiviumv1.CatalogAdditive{{Id: "rose-clay", Name: "Rose clay", Plugin: "clays"}}}, f.err
}

func (f *fake) ListPlugins(context.Context, *lixiviumv1.ListPluginsRequest) (*lixiviumv1.ListPluginsResponse, error) {
	return &lixiviumv1.ListPluginsResponse{Plugins: []*lixiviumv1.PluginStatus{{Name: "clays", State: "ready", Restarts: 3}}}, f.err
}

func (f *fake) GetVersions(context.Context, *lixiviumv1.GetVersionsRequest) (*lixiviumv1.GetVersionsResponse, error) {
	return &lixiviumv1.GetVersionsResponse{ServerVersion: "9.9.9"}, f.err
}

// run carries out a command line against a service.
func run(t *testing.T, s Service, stdin string, args ...string) (code int, out, err string) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	code = Run(t.Context(), args, Streams{In: strings.NewReader(stdin), Out: &stdout, Err: &stderr},
		func(Place) (Service, io.Closer, error) { return s, io.NopCloser(nil), nil })
	return code, stdout.String(), stderr.String()
}

const bar = "recipe_format: 1\nrecipe:\n  name: Bar\n  fats:\n    - id: olive\n      fat: olive-oil\n      mass: {g: 400}\n"

func withDetails(code codes.Code, text string, details ...protoadapt.MessageV1) error {
	s, err := status.New(code, text).WithDetails(details...)
	if err != nil {
		panic(err)
	}
	return s.Err()
}

func TestErrorsOfCalls(t *testing.T) {
	info := func(reason string, metadata map[string]string) *errdetails.ErrorInfo {
		return &errdetails.ErrorInfo{Reason: reason, Domain: "lixivium.example", Metadata: metadata}
	}
	for name, c := range map[string]struct {
		err  error
		args []string
		code int
		want string
	}{
		"violations": {
			err: withDetails(codes.InvalidArgument, "two things", &errdetails.BadRequest{FieldViolations: []*errdetails.BadRequest_FieldViolation{
				{Field: "recipe.fats[0].mass.g", Description: "must be above 0."},
				{Field: "recipe.water", Description: "is required."},
			}}),
			code: ExitRefused,
			want: "lixi: (standard input):7:17: recipe.fats[0].mass.g: must be above 0.\nlixi: (standard input):2:1: recipe.water: is required.\n",
		},
		"invalid without details": {err: status.Error(codes.InvalidArgument, "no good"), code: ExitRefused, want: "lixi: no good\n"},
		"impossible": {
			err:  withDetails(codes.FailedPrecondition, "Too strong.", info("LYE_TOO_STRONG", map[string]string{"short_g": "12.5"})),
			code: ExitRefused,
			want: "lixi: Too strong.\n  next: change the recipe; nothing of this batch may be weighed out as it stands\n",
		},
		"missing owner": {
			err: withDetails(codes.Unavailable, "nobody owns salt", info("ADDITIVE_OWNER_MISSING", nil)), code: ExitServer,
			want: "lixi: nobody owns salt\n  next: give the dose your own figures under custom, or take it out\n",
		},
		"unavailable": {
			err: status.Error(codes.Unavailable, "connection\nrefused \x1b[31m"), args: []string{"--server", "127.0.0.1:1"}, code: ExitServer,
			want: "lixi: connection refused ?[31m\n  next: start lixiviumd, check --server 127.0.0.1:1, or leave --server out to work in this process\n",
		},
		"too late": {
			err: status.Error(codes.DeadlineExceeded, "too late"), args: []string{"--timeout", "5s"}, code: ExitServer,
			want: "lixi: too late\n  next: ask again; --timeout (now 5s) gives it longer\n",
		},
		"canceled": {err: status.Error(codes.Canceled, "gave up"), code: ExitServer, want: "lixi: gave up\n  next: nothing was kept; ask again when you like\n"},
		"old server": {
			err: status.Error(codes.Unimplemented, "unknown method"), code: ExitServer,
			want: "lixi: unknown method\n  next: this server is older than this lixi: update it, or leave --server out\n",
		},
		"fault": {
			err: status.Error(codes.Internal, "error id 7"), code: ExitServer,
			want: "lixi: error id 7\n  next: run it again with --log FILE: the file then holds the cause, for a report\n",
		},
		"not a status": {
			err: errors.New("odd"), args: []string{"--server", "x:1"}, code: ExitServer,
			want: "lixi: odd\n  next: ask again; if it stays, the text above belongs in a report\n",
		},
		"not found": {err: status.Error(codes.NotFound, "no such thing"), code: ExitRefused, want: "lixi: no such thing\n"},
	} {
		for _, command := range [][]string{{"formulate", "-"}, {"check", "-"}, {"explain", "-"}, {"weigh", "-", "--actual", "olive=3g"}, {"weigh", "-"}, {"scale", "-", "--fats", "5g"}, {"swap", "-", "olive=lard"}} {
			t.Run(name+"/"+command[0], func(t *testing.T) {
				code, out, err := run(t, &fake{err: c.err}, bar, append(command, c.args...)...)
				if code != c.code || out != "" || err != c.want {
					t.Errorf("code %d, output %q, error\n%s\nwant %d and\n%s", code, out, err, c.code, c.want)
				}
			})
		}
	}
}

func TestCatalogErrors(t *testing.T) {
	for _, list := range []string{"fats", "water", "findings", "versions"} {
		code, _, err := run(t, &fake{err: status.Error(codes.Unavailable, "away")}, "", "catalog", list, "--server", "x:1")
		if code != ExitServer || !strings.HasPrefix(err, "lixi: away\n  next: start lixiviumd") {
			t.Errorf("%s: code %d, %s", list, code, err)
		}
	}
}

func TestDangerHasItsExitCode(t *testing.T) {
	for severity, want := range map[lixiviumv1.Severity]int{
		lixiviumv1.Severity_SEVERITY_DANGER: ExitDanger, lixiviumv1.Severity_SEVERITY_CAUTION: ExitFine,
	} {
		s := &fake{formulate: &lixiviumv1.FormulateResponse{Formulation: &lixiviumv1.Formulation{
			Findings:  []*lixiviumv1.Finding{{Code: "engine/x", Severity: severity, Text: "Look."}},
			Worksheet: []*lixiviumv1.WorksheetLine{{Id: "a", Value: 1}},
		}}}
		for _, args := range [][]string{{"formulate", "-"}, {"check", "-"}, {"weigh", "-", "--actual", "olive=3g"}, {"formulate", "--json", "-"}, {"check", "--json", "-"}} {
			if code, _, err := run(t, s, bar, args...); code != want || err != "" {
				t.Errorf("%v with %v: code %d, want %d, %s", args, severity, code, want, err)
			}
		}
		if code, out, _ := run(t, s, bar, "explain", "-", "a"); code != ExitFine || out != "a = 1\n" {
			t.Errorf("explain: code %d, %q", code, out)
		}
	}
	verdict := &fake{formulate: &lixiviumv1.FormulateResponse{Formulation: &lixiviumv1.Formulation{
		Superfat: &lixiviumv1.Superfat{Verdict: lixiviumv1.Severity_SEVERITY_DANGER},
	}}}
	if code, _, _ := run(t, verdict, bar, "formulate", "-"); code != ExitDanger {
		t.Errorf("a verdict of danger: code %d", code)
	}
}

func TestWorksheetIsAskedForOnlyWhereItIsShown(t *testing.T) {
	for args, want := range map[string]bool{"formulate -": false, "formulate --worksheet -": true, "check -": false, "explain -": true} {
		s := &fake{formulate: &lixiviumv1.FormulateResponse{}}
		run(t, s, bar, strings.Fields(args)...)
		if s.asked.GetIncludeWorksheet() != want {
			t.Errorf("%s: %v", args, s.asked.GetIncludeWorksheet())
		}
	}
	s := &fake{formulate: &lixiviumv1.FormulateResponse{}}
	run(t, s, bar+"include_worksheet: true\n", "formulate", "-")
	if !s.asked.GetIncludeWorksheet() {
		t.Error("what the file asks for is lost")
	}
	if code, _, err := run(t, s, bar, "explain", "-"); code != ExitServer || !strings.HasPrefix(err, "lixi: the answer holds no worksheet\n") {
		t.Errorf("code %d, %s", code, err)
	}
}

func TestJSONIsTheMessage(t *testing.T) {
	want := &lixiviumv1.FormulateResponse{Formulation: &lixiviumv1.Formulation{
		Superfat: &lixiviumv1.Superfat{SuperfatPct: 5.125},
		Safety:   []*lixiviumv1.SafetyLine{{Code: "safety/x", Text: "a \"b\""}},
	}}
	_, out, _ := run(t, &fake{formulate: want}, bar, "formulate", "--json", "-")
	got := &lixiviumv1.FormulateResponse{}
	if err := protojson.Unmarshal([]byte(out), got); err != nil || !proto.Equal(got, want) {
		t.Errorf("%v, %v", got, err)
	}
	if !strings.Contains(out, "\n    \"superfat\": {\n      \"portion_id\": \"\",\n      \"superfat_pct\": 5.125,\n") || !strings.HasSuffix(out, "}\n") {
		t.Errorf("got %s", out)
	}
}

func TestFilesThatCannotBeRead(t *testing.T) {
	folder := t.TempDir()
	for name, want := range map[string]string{
		filepath.Join(folder, "none.yaml"): "none.yaml cannot be read: no such file or directory\n  next: give the path of a recipe file, or - for standard input\n",
		folder:                             "cannot be read: is a directory\n  next: give the path of a recipe file, or - for standard input\n",
	} {
		code, _, err := run(t, &fake{}, "", "formulate", name)
		if code != ExitRefused || !strings.HasPrefix(err, "lixi: ") || !strings.HasSuffix(err, want) {
			t.Errorf("%s: code %d, %s", name, code, err)
		}
	}
	if code, _, err := run(t, &fake{}, strings.Repeat("#", 2<<20), "check", "-"); code != ExitRefused || !strings.Contains(err, "larger than 1048576 bytes") {
		t.Errorf("code %d, %.200s", code, err)
	}
}

func TestNoService(t *testing.T) {
	var stderr bytes.Buffer
	connect := func(Place) (Service, io.Closer, error) { return nil, nil, errors.New("odd address") }
	code := Run(t.Context(), []string{"catalog", "versions", "--server", "::"}, Streams{Out: io.Discard, Err: &stderr}, connect)
	if want := "lixi: --server \"::\" cannot be used: odd address\n  next: give host and port, such as 127.0.0.1:7450\n"; code != ExitRefused || stderr.String() != want {
		t.Errorf("code %d, %s", code, stderr.String())
	}
}

func TestLogOfTheCalculation(t *testing.T) {
	file := filepath.Join(t.TempDir(), "log")
	var stdout, stderr bytes.Buffer
	args := []string{"catalog", "versions", "--log", file}
	if code := Run(t.Context(), args, Streams{Out: &stdout, Err: &stderr}, ConnectApp); code != ExitFine || stderr.Len() > 0 {
		t.Fatalf("code %d, %s", code, stderr.String())
	}
	logged, err := os.ReadFile(file)
	if err != nil || !strings.Contains(string(logged), `"call":"GetVersions"`) {
		t.Errorf("%s, %v", logged, err)
	}
	args[3] = filepath.Join(file, "below-a-file")
	if code := Run(t.Context(), args, Streams{Out: &stdout, Err: &stderr}, ConnectApp); code != ExitRefused || !strings.HasPrefix(stderr.String(), "lixi: --log cannot be written: ") {
		t.Errorf("code %d, %s", code, stderr.String())
	}
}
