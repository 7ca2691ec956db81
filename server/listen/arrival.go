package listen

import (
	"context"
	"strings"
	"time"

	"google.golang.org/grpc/tap"
)

// arrival gives every call a deadline from its first frame on. The deadline that
// package policy keeps begins when the request is there; without this one, a
// client that sends half a message would hold a stream and its buffer for ever.
// It bounds the whole call, so that a slow request leaves less time for the rest.
//
// The streams of health and reflection may last.
func arrival(within time.Duration) tap.ServerInHandle {
	return func(ctx context.Context, call *tap.Info) (context.Context, error) {
		if strings.HasPrefix(call.FullMethodName, "/grpc.") {
			return ctx, nil
		}
		bounded, cancel := context.WithTimeout(ctx, within)
		// The library ends its own context with the stream.
		context.AfterFunc(ctx, cancel)
		return bounded, nil
	}
}
