package translate

import (
	"strings"

	"google.golang.org/genproto/googleapis/rpc/errdetails"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
)

// Refusal is the error of a call, read back from its status.
type Refusal struct {
	Code codes.Code
	// Reason is the ErrorInfo's; empty for an error that Lixivium did not make,
	// such as a connection that failed.
	Reason string
	// Text is for people.
	Text       string
	Violations []FieldViolation
	// Metadata is the ErrorInfo's: the numbers of a batch that cannot be made,
	// the additive without an owner, the error id of a fault.
	Metadata map[string]string
}

// FieldViolation is one thing wrong with a request.
type FieldViolation struct {
	Path, Reason string
	Text         string   // holds the suggestions in words
	Suggestions  []string // valid values that may have been meant
}

// ReadRefusal reads any error of a call.
func ReadRefusal(err error) Refusal {
	s := status.Convert(err)
	r := Refusal{Code: s.Code(), Text: s.Message()}
	var fields []*errdetails.BadRequest_FieldViolation
	for _, d := range s.Details() {
		switch d := d.(type) {
		case *errdetails.ErrorInfo:
			if d.GetDomain() == Domain {
				r.Reason, r.Metadata = d.GetReason(), d.GetMetadata()
			}
		case *errdetails.BadRequest:
			fields = d.GetFieldViolations()
		}
	}
	for i, f := range fields {
		v := FieldViolation{Path: f.GetField(), Reason: f.GetReason(), Text: f.GetDescription()}
		if list := r.Metadata[SuggestionsKey(i)]; list != "" {
			v.Suggestions = strings.Split(list, ",")
		}
		r.Violations = append(r.Violations, v)
	}
	return r
}
