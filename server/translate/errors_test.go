package translate

import (
	"context"
	"errors"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/proto"

	"lixivium.example/engine"
)

func TestStatus(t *testing.T) {
	for name, c := range map[string]struct {
		err  error
		want Refusal
	}{
		"violations": {
			&engine.Violations{List: []engine.Violation{
				{Path: "recipe.fats[2].mass.g", Reason: engine.ReasonRange, Text: "Too much."},
				{Path: "recipe.fats[3].fat", Reason: engine.ReasonUnknown, Text: "Not known.", Suggestions: []string{"palm-oil", "palm-kernel-oil"}},
			}},
			Refusal{
				Code: codes.InvalidArgument, Reason: ReasonInvalidRequest,
				Text: "recipe.fats[2].mass.g: Too much. (and 1 more, see the field violations)",
				Violations: []FieldViolation{
					{Path: "recipe.fats[2].mass.g", Reason: engine.ReasonRange, Text: "Too much."},
					{Path: "recipe.fats[3].fat", Reason: engine.ReasonUnknown, Text: "Not known. Did you mean: palm-oil, palm-kernel-oil?", Suggestions: []string{"palm-oil", "palm-kernel-oil"}},
				},
				Metadata: map[string]string{"suggestions.1": "palm-oil,palm-kernel-oil"},
			},
		},
		"impossible": {
			&engine.Impossible{Reason: engine.ImpossibleLyeTooStrong, Text: "Too strong.", Numbers: []engine.Figure{{Name: "strength_pct", Value: 61.25, Unit: "percent"}}},
			Refusal{
				Code: codes.FailedPrecondition, Reason: engine.ImpossibleLyeTooStrong, Text: "Too strong.",
				Metadata: map[string]string{"strength_pct": "61.25", "strength_pct.unit": "percent"},
			},
		},
		"no owner": {
			fmt.Errorf("on the way: %w", &engine.MissingOwner{Additive: "sodium-lactate", DoseID: "sl", Path: "recipe.doses[0].additive"}),
			Refusal{
				Code: codes.Unavailable, Reason: ReasonOwnerMissing,
				Text:     (&engine.MissingOwner{Additive: "sodium-lactate", DoseID: "sl"}).Error(),
				Metadata: map[string]string{"additive": "sodium-lactate", "dose_id": "sl", "field": "recipe.doses[0].additive"},
			},
		},
		"failed owner": {
			&engine.OwnerFailed{Failure: engine.Failure{Plugin: "honey", DoseIDs: []string{"a", "b"}, Reason: "PLUGIN_CRASHED", Text: "canary"}},
			Refusal{
				Code: codes.Unavailable, Reason: "PLUGIN_CRASHED",
				Text:     (&engine.OwnerFailed{Failure: engine.Failure{Plugin: "honey", DoseIDs: []string{"a", "b"}}}).Error(),
				Metadata: map[string]string{"plugin": "honey", "dose_ids": "a,b"},
			},
		},
		"too late": {
			fmt.Errorf("asking: %w", context.DeadlineExceeded),
			Refusal{Code: codes.DeadlineExceeded, Reason: ReasonDeadlineExceeded, Text: "The call did not finish in time. Nothing was kept; ask again, with a longer deadline if yours was short."},
		},
		"given up": {context.Canceled, Refusal{Code: codes.Canceled, Reason: ReasonCanceled, Text: "The caller gave the call up."}},
	} {
		s, ok := Status(c.err)
		if !ok {
			t.Errorf("%s: not known", name)
			continue
		}
		if got := ReadRefusal(s.Err()); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s:\ngot  %+v\nwant %+v", name, got, c.want)
		}
	}
}

// TestNotForCallers: an error without a meaning here is not shown, and a
// plugin's own status is no exception.
func TestNotForCallers(t *testing.T) {
	for _, err := range []error{errors.New("secret"), status.Error(codes.NotFound, "secret")} {
		if s, ok := Status(err); ok {
			t.Errorf("%v was passed on as %v", err, s)
		}
	}
	got := ReadRefusal(Internal("abc").Err())
	if got.Code != codes.Internal || got.Reason != ReasonInternal || got.Metadata["error_id"] != "abc" || !strings.Contains(got.Text, "abc") {
		t.Errorf("got %+v", got)
	}
}

func TestWithViolations(t *testing.T) {
	wire := []engine.Violation{{Path: "a"}}
	err := WithViolations(wire, &engine.Violations{List: []engine.Violation{{Path: "b"}}})
	if got := err.(*engine.Violations).List; len(got) != 2 || got[0].Path != "a" || got[1].Path != "b" {
		t.Errorf("got %+v", got)
	}
	for _, other := range []error{nil, &engine.Impossible{}} {
		if got := WithViolations(wire, other).(*engine.Violations).List; len(got) != 1 {
			t.Errorf("with %v: %+v", other, got)
		}
	}
}

// TestReadForeignErrors: errors that no server of ours made can be read too.
func TestReadForeignErrors(t *testing.T) {
	if got := ReadRefusal(status.Error(codes.Unavailable, "no connection")); !reflect.DeepEqual(got, Refusal{Code: codes.Unavailable, Text: "no connection"}) {
		t.Errorf("got %+v", got)
	}
	if got := ReadRefusal(errors.New("x")); got.Code != codes.Unknown || got.Text != "x" {
		t.Errorf("got %+v", got)
	}
}

func manyViolations(n int) error {
	var list []engine.Violation
	for i := range n {
		list = append(list, engine.Violation{
			Path: fmt.Sprintf("recipe.fats[%d].fat", i), Reason: engine.ReasonUnknown,
			Text: "The catalog holds no fat of this name; see the list of fats.", Suggestions: []string{"palm-oil"},
		})
	}
	s, _ := Status(&engine.Violations{List: list})
	return s.Err()
}

func TestShortened(t *testing.T) {
	for _, n := range []int{1, 5, 20} {
		if err := manyViolations(n); Shortened(err) != err {
			t.Errorf("%d violations were cut", n)
		}
	}
	long := ReadRefusal(manyViolations(1000))
	if len(long.Violations) != 1000 {
		t.Fatalf("%d violations in process", len(long.Violations))
	}
	err := Shortened(manyViolations(1000))
	if size := proto.Size(status.Convert(err).Proto()); size > maxDetailBytes {
		t.Errorf("%d bytes of details", size)
	}
	short := ReadRefusal(err)
	if len(short.Violations) < 15 || short.Metadata[LeftOutKey] != fmt.Sprint(1000-len(short.Violations)) {
		t.Errorf("%d kept, metadata %v", len(short.Violations), short.Metadata)
	}
	if !reflect.DeepEqual(short.Violations, long.Violations[:len(short.Violations)]) {
		t.Error("what was kept was changed")
	}
	if short.Code != codes.InvalidArgument || short.Reason != ReasonInvalidRequest || !strings.Contains(short.Text, "did not fit") {
		t.Errorf("got %+v", short)
	}
	if Shortened(nil) != nil {
		t.Error("an error out of nothing")
	}
	other := errors.New("x")
	if Shortened(other) != other {
		t.Error("another error was changed")
	}
	// A single text that does not fit at all, in a script of three bytes a letter.
	s, _ := Status(&engine.Violations{List: []engine.Violation{{Path: "recipe", Text: strings.Repeat("脂", 9000)}}})
	huge := status.Convert(Shortened(s.Err()))
	if size := proto.Size(huge.Proto()); size > maxDetailBytes || !strings.Contains(huge.Message(), "did not fit") {
		t.Errorf("%d bytes: %.80q", size, huge.Message())
	}
}
