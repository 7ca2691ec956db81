package translate

import (
	"fmt"
	"strconv"
	"strings"

	"google.golang.org/genproto/googleapis/rpc/errdetails"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/protoadapt"
)

// maxDetailBytes bounds the details of an error. They travel in the trailers:
// Java clients refuse those beyond 8,192 bytes and clients on the C core begin
// to (their soft limit), and then the caller sees RESOURCE_EXHAUSTED and no
// violation at all. Base64 takes a third on top, the message goes twice.
const maxDetailBytes = 5000

// maxMessageBytes bounds the message, of which each byte may take three in the
// trailers.
const maxMessageBytes = 400

// LeftOutKey names the metadata of the ErrorInfo that holds the number of
// violations which did not fit.
const LeftOutKey = "violations_left_out"

// Shortened gives the error with as many of its violations, in order, as every
// gRPC client accepts. The message and the ErrorInfo say how many more there
// are. Other errors are given back as they are.
func Shortened(err error) error {
	s, ok := status.FromError(err)
	if err == nil || !ok || proto.Size(s.Proto()) <= maxDetailBytes || s.Code() != codes.InvalidArgument {
		return err
	}
	var info *errdetails.ErrorInfo
	var bad *errdetails.BadRequest
	for _, d := range s.Details() {
		switch d := d.(type) {
		case *errdetails.ErrorInfo:
			info = d
		case *errdetails.BadRequest:
			bad = d
		}
	}
	if info == nil || bad == nil {
		return err
	}
	kept := &errdetails.BadRequest{}
	metadata := map[string]string{}
	size := 0
	for i, v := range bad.GetFieldViolations() {
		key := SuggestionsKey(i)
		suggestions := info.GetMetadata()[key]
		size += proto.Size(v) + len(key) + len(suggestions) + 16
		if size > maxDetailBytes-2*maxMessageBytes {
			break
		}
		kept.FieldViolations = append(kept.FieldViolations, v)
		if suggestions != "" {
			metadata[key] = suggestions
		}
	}
	left := len(bad.GetFieldViolations()) - len(kept.GetFieldViolations())
	metadata[LeftOutKey] = strconv.Itoa(left)
	text := s.Message()
	if len(text) > maxMessageBytes {
		text = strings.ToValidUTF8(text[:maxMessageBytes], "") + "..."
	}
	text += fmt.Sprintf(" The last %d did not fit; put these right first.", left)
	return withDetails(status.New(s.Code(), text), protoadapt.MessageV1Of(kept),
		protoadapt.MessageV1Of(&errdetails.ErrorInfo{Reason: info.GetReason(), Domain: info.GetDomain(), Metadata: metadata})).Err()
}
