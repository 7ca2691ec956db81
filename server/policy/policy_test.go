package policy

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/rs/zerolog"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/proto"

	"lixivium.example/engine"
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
	"lixivium.example/server/translate"
)

type (
	request = lixiviumv1.FormulateRequest
	answer  = lixiviumv1.FormulateResponse
)

var secretRecipe = &request{Recipe: &lixiviumv1.Recipe{
	Name: "canary-title", Fats: []*lixiviumv1.FatLine{{Id: "canary-line"}},
}}

// lines runs a call and gives the log, parsed.
func lines(t *testing.T, level zerolog.Level, call func(context.Context, *request) (*answer, error)) ([]map[string]any, string, error) {
	t.Helper()
	var log bytes.Buffer
	p := &Policy{Logger: zerolog.New(&log).Level(level)}
	_, err := Run(t.Context(), p, "Formulate", secretRecipe, call)
	var parsed []map[string]any
	for line := range strings.Lines(log.String()) {
		var m map[string]any
		if e := json.Unmarshal([]byte(line), &m); e != nil {
			t.Fatalf("%q: %v", line, e)
		}
		parsed = append(parsed, m)
	}
	return parsed, log.String(), err
}

func TestOneLineACall(t *testing.T) {
	log, text, err := lines(t, zerolog.InfoLevel, func(context.Context, *request) (*answer, error) {
		return &answer{Formulation: &lixiviumv1.Formulation{}}, nil
	})
	if err != nil || len(log) != 1 {
		t.Fatalf("error %v, log %s", err, text)
	}
	if got := log[0]; got["level"] != "info" || got["call"] != "Formulate" || got["code"] != "OK" ||
		got["request_bytes"] != float64(proto.Size(secretRecipe)) || got["answer_bytes"] != 2.0 || got["ms"] == nil {
		t.Errorf("got %v", got)
	}
}

func TestRefusedCallIsLoggedWithoutItsRecipe(t *testing.T) {
	refuse := func(context.Context, *request) (*answer, error) {
		return nil, &engine.Violations{List: []engine.Violation{{Path: "recipe.fats[0].fat", Reason: engine.ReasonUnknown, Text: "canary-text"}}}
	}
	log, text, err := lines(t, zerolog.InfoLevel, refuse)
	if status.Code(err) != codes.InvalidArgument || len(log) != 1 {
		t.Fatalf("error %v, log %s", err, text)
	}
	if got := log[0]; got["code"] != "InvalidArgument" || got["reason"] != translate.ReasonInvalidRequest {
		t.Errorf("got %v", got)
	}
	if strings.Contains(text, "canary") || strings.Contains(text, "fats") {
		t.Errorf("the log tells of the recipe: %s", text)
	}

	_, text, _ = lines(t, zerolog.DebugLevel, refuse)
	if !strings.Contains(text, "recipe.fats[0].fat") || strings.Contains(text, "canary") {
		t.Errorf("debug log: %s", text)
	}
}

// TestPanicText: the caller gets an error id and nothing of the panic; the log
// has the panic and where it happened, under the same id.
func TestPanicText(t *testing.T) {
	log, text, err := lines(t, zerolog.InfoLevel, func(context.Context, *request) (*answer, error) {
		panic("canary-panic")
	})
	read := translate.ReadRefusal(err)
	id := read.Metadata["error_id"]
	if read.Code != codes.Internal || read.Reason != translate.ReasonInternal || len(id) != 16 || !strings.Contains(read.Text, id) {
		t.Errorf("got %+v", read)
	}
	if s := status.Convert(err).Proto().String(); strings.Contains(s, "canary") || strings.Contains(s, "goroutine") {
		t.Errorf("the caller sees the panic: %s", s)
	}
	if len(log) != 2 || log[0]["level"] != "error" || log[0]["error_id"] != id ||
		!strings.Contains(log[0]["error"].(string), "canary-panic") || !strings.Contains(log[0]["stack"].(string), "policy_test.go") {
		t.Errorf("log: %s", text)
	}
	if log[1]["code"] != "Internal" {
		t.Errorf("log: %s", text)
	}
}

// TestUnforeseenErrorText: as with panics; a plugin's status code is not ours.
func TestUnforeseenErrorText(t *testing.T) {
	for _, fault := range []error{errors.New("canary-fault"), status.Error(codes.NotFound, "canary-fault")} {
		_, text, err := lines(t, zerolog.InfoLevel, func(context.Context, *request) (*answer, error) { return nil, fault })
		if status.Code(err) != codes.Internal || strings.Contains(status.Convert(err).Proto().String(), "canary") {
			t.Errorf("the caller sees %v", err)
		}
		if !strings.Contains(text, "canary-fault") || !strings.Contains(text, translate.ReadRefusal(err).Metadata["error_id"]) {
			t.Errorf("log: %s", text)
		}
	}
}

// TestWhyAPluginFailed is for the operator.
func TestWhyAPluginFailed(t *testing.T) {
	_, text, err := lines(t, zerolog.InfoLevel, func(context.Context, *request) (*answer, error) {
		return nil, &engine.OwnerFailed{Failure: engine.Failure{Plugin: "honey", Reason: "PLUGIN_CRASHED", Text: "canary-fault"}}
	})
	if read := translate.ReadRefusal(err); read.Code != codes.Unavailable || read.Reason != "PLUGIN_CRASHED" || strings.Contains(status.Convert(err).Proto().String(), "canary") {
		t.Errorf("got %+v", read)
	}
	if !strings.Contains(text, `"plugin":"honey"`) || !strings.Contains(text, "canary-fault") {
		t.Errorf("log: %s", text)
	}
}

func TestErrorIDsDiffer(t *testing.T) {
	if a, b := newErrorID(), newErrorID(); a == b {
		t.Errorf("twice %s", a)
	}
}

func TestDeadlineCeiling(t *testing.T) {
	deadline := func(p *Policy, ctx context.Context) time.Duration {
		var left time.Duration
		_, err := Run(ctx, p, "Formulate", secretRecipe, func(ctx context.Context, _ *request) (*answer, error) {
			d, ok := ctx.Deadline()
			if !ok {
				t.Error("no deadline")
			}
			left = time.Until(d)
			return &answer{}, nil
		})
		if err != nil {
			t.Error(err)
		}
		return left
	}
	near := func(got, want time.Duration) bool { return got <= want && got > want-2*time.Second }

	if got := deadline(&Policy{}, t.Context()); !near(got, DefaultDeadlineCeiling) {
		t.Errorf("default: %s", got)
	}
	if got := deadline(&Policy{DeadlineCeiling: time.Minute}, t.Context()); !near(got, time.Minute) {
		t.Errorf("configured: %s", got)
	}
	short, cancel := context.WithTimeout(t.Context(), 5*time.Second)
	defer cancel()
	if got := deadline(&Policy{}, short); !near(got, 5*time.Second) {
		t.Errorf("a caller's shorter deadline became %s", got)
	}
	long, cancel := context.WithTimeout(t.Context(), time.Hour)
	defer cancel()
	if got := deadline(&Policy{}, long); !near(got, DefaultDeadlineCeiling) {
		t.Errorf("a caller's longer deadline became %s", got)
	}
}

func TestWhatHangsIsEnded(t *testing.T) {
	p := &Policy{DeadlineCeiling: 10 * time.Millisecond}
	_, err := Run(t.Context(), p, "Formulate", secretRecipe, func(ctx context.Context, _ *request) (*answer, error) {
		<-ctx.Done()
		return nil, ctx.Err()
	})
	if got := translate.ReadRefusal(err); got.Code != codes.DeadlineExceeded || got.Reason != translate.ReasonDeadlineExceeded {
		t.Errorf("got %+v", got)
	}
}

func TestNobodyWaits(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	_, err := Run(ctx, &Policy{}, "Formulate", secretRecipe, func(context.Context, *request) (*answer, error) {
		t.Error("the call was begun")
		return nil, nil
	})
	if got := translate.ReadRefusal(err); got.Code != codes.Canceled || got.Reason != translate.ReasonCanceled {
		t.Errorf("got %+v", got)
	}
}
