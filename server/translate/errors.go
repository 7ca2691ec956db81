package translate

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"google.golang.org/genproto/googleapis/rpc/errdetails"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/protoadapt"

	"lixivium.example/engine"
)

// Domain is the domain of every ErrorInfo.
const Domain = "lixivium.example"

// The reasons of errors that do not come with one from the engine.
const (
	ReasonInvalidRequest   = "INVALID_REQUEST"
	ReasonOwnerMissing     = "ADDITIVE_OWNER_MISSING"
	ReasonOwnerFailed      = "ADDITIVE_OWNER_FAILED"
	ReasonDeadlineExceeded = "DEADLINE_EXCEEDED"
	ReasonCanceled         = "CANCELED"
	ReasonInternal         = "INTERNAL"
)

// reasonPoison is the reason of a question that took a plugin down twice.
const reasonPoison = "POISON_QUESTION"

// SuggestionsKey names the metadata of the ErrorInfo that holds the
// suggestions for a violation, by its place in the list: ids or names,
// separated by commas.
func SuggestionsKey(violation int) string { return "suggestions." + strconv.Itoa(violation) }

// Status gives the status of an error of the engine, and false when the error
// is none that a caller may see. A status error that comes out of the engine is
// such a one: it is a plugin's own, and its code would be misread as ours.
func Status(err error) (*status.Status, bool) {
	var (
		violations *engine.Violations
		impossible *engine.Impossible
		missing    *engine.MissingOwner
		failed     *engine.OwnerFailed
	)
	switch {
	case errors.As(err, &violations):
		return invalid(violations.List), true
	case errors.As(err, &impossible):
		return refused(codes.FailedPrecondition, impossible.Text, impossible.Reason, numbers(impossible.Numbers)), true
	case errors.As(err, &missing):
		return refused(codes.Unavailable, missing.Error(), ReasonOwnerMissing,
			ownerless(missing)), true
	case errors.As(err, &failed):
		code := codes.Unavailable
		if failed.Failure.Reason == reasonPoison {
			// Asking again takes the plugin down again.
			code = codes.Internal
		}
		return refused(code, failed.Error(), cmp.Or(failed.Failure.Reason, ReasonOwnerFailed),
			map[string]string{"plugin": failed.Failure.Plugin, "dose_ids": strings.Join(failed.Failure.DoseIDs, ",")}), true
	case errors.Is(err, context.DeadlineExceeded):
		return refused(codes.DeadlineExceeded, "The call did not finish in time. Nothing was kept; ask again, with a longer deadline if yours was short.", ReasonDeadlineExceeded, nil), true
	case errors.Is(err, context.Canceled):
		return refused(codes.Canceled, "The caller gave the call up.", ReasonCanceled, nil), true
	}
	return nil, false
}

// ownerless is the metadata of an additive that nobody owns.
func ownerless(missing *engine.MissingOwner) map[string]string {
	m := map[string]string{"additive": missing.Additive, "dose_id": missing.DoseID, "field": missing.Path}
	if len(missing.Suggestions) > 0 {
		m["suggestions"] = strings.Join(missing.Suggestions, ",")
	}
	return m
}

// Internal is the status of a fault of ours. The cause stays in the log, under
// the same id.
func Internal(errorID string) *status.Status {
	return refused(codes.Internal,
		fmt.Sprintf("The server failed; the request is not to blame and has no answer. Whoever runs the server finds the cause in its log under error id %s.", errorID),
		ReasonInternal, map[string]string{"error_id": errorID})
}

// WithViolations gives the error of a request with faults of the wire: these,
// and behind them what the engine says of the rest.
func WithViolations(wrong []engine.Violation, engineErr error) error {
	all := &engine.Violations{List: wrong}
	var more *engine.Violations
	if errors.As(engineErr, &more) {
		all.List = append(all.List[:len(wrong):len(wrong)], more.List...)
	}
	return all
}

func invalid(list []engine.Violation) *status.Status {
	bad := &errdetails.BadRequest{FieldViolations: make([]*errdetails.BadRequest_FieldViolation, len(list))}
	metadata := map[string]string{}
	for i, v := range list {
		text := v.Text
		if len(v.Suggestions) > 0 {
			text += " Did you mean: " + strings.Join(v.Suggestions, ", ") + "?"
			metadata[SuggestionsKey(i)] = strings.Join(v.Suggestions, ",")
		}
		bad.FieldViolations[i] = &errdetails.BadRequest_FieldViolation{
			Field: v.Path, Description: text, Reason: v.Reason,
		}
	}
	return withDetails(status.New(codes.InvalidArgument, summary(list)), bad,
		&errdetails.ErrorInfo{Reason: ReasonInvalidRequest, Domain: Domain, Metadata: metadata})
}

// summary is for people whose tool does not show details: it stays short,
// because everything is in the violations.
func summary(list []engine.Violation) string {
	switch len(list) {
	case 0:
		return "The request is refused."
	case 1:
		return list[0].Path + ": " + list[0].Text
	}
	return fmt.Sprintf("%s: %s (and %d more, see the field violations)", list[0].Path, list[0].Text, len(list)-1)
}

// numbers writes figures as metadata: the shortest decimal that reads back to
// the same value, and the unit under the same name with ".unit".
func numbers(figures []engine.Figure) map[string]string {
	m := make(map[string]string, 2*len(figures))
	for _, f := range figures {
		m[f.Name] = strconv.FormatFloat(f.Value, 'g', -1, 64)
		m[f.Name+".unit"] = f.Unit
	}
	return m
}

func refused(code codes.Code, text, reason string, metadata map[string]string) *status.Status {
	return withDetails(status.New(code, text), &errdetails.ErrorInfo{Reason: reason, Domain: Domain, Metadata: metadata})
}

// withDetails drops details that cannot be encoded, which takes text that is
// not UTF-8: the code and the text still tell what is wrong.
func withDetails(s *status.Status, details ...protoadapt.MessageV1) *status.Status {
	if detailed, err := s.WithDetails(details...); err == nil {
		return detailed
	}
	return s
}
