// Package policy holds what every call gets, whichever door it came through:
// a ceiling on its deadline, a guard against panics, the translation of its
// error and one line in the log. A service is decorated with it once, when it
// is made; doors add nothing of the kind.
//
// At level info the log holds names, codes, sizes and times, never anything of
// a recipe. A fault of ours is logged at level error with its cause, which the
// caller does not see; the two are joined by an error id.
//
// Counts and ranges of a request are the engine's to check, message sizes the
// listener's.
package policy

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"runtime/debug"
	"time"

	"github.com/rs/zerolog"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/proto"

	"lixivium.example/engine"
	"lixivium.example/server/translate"
)

// DefaultDeadlineCeiling is far above what a call takes (well under a
// millisecond for an ordinary recipe), so that only what hangs meets it.
const DefaultDeadlineCeiling = 10 * time.Second

// Policy is what calls are run with. The zero value logs nothing and has the
// default ceiling.
type Policy struct {
	Logger zerolog.Logger
	// DeadlineCeiling is the longest a call may take; a caller's shorter
	// deadline stays. Zero: DefaultDeadlineCeiling.
	DeadlineCeiling time.Duration
}

// Run runs one call. Its error is a status error with an ErrorInfo.
func Run[Q, A proto.Message](ctx context.Context, p *Policy, name string, request Q, call func(context.Context, Q) (A, error)) (A, error) {
	started := time.Now()
	ceiling := p.DeadlineCeiling
	if ceiling == 0 {
		ceiling = DefaultDeadlineCeiling
	}
	ctx, cancel := context.WithTimeout(ctx, ceiling)
	defer cancel()

	answer, err := guarded(ctx, request, call)
	refusal := p.refusal(name, err)
	p.log(name, started, request, answer, refusal)
	if refusal != nil {
		var none A
		return none, refusal.Err()
	}
	return answer, nil
}

// panicked is a panic on its way to the log.
type panicked struct {
	value any
	stack []byte
}

func (p *panicked) Error() string { return fmt.Sprint("panic: ", p.value) }

func guarded[Q, A proto.Message](ctx context.Context, request Q, call func(context.Context, Q) (A, error)) (answer A, err error) {
	defer func() {
		if v := recover(); v != nil {
			err = &panicked{value: v, stack: debug.Stack()}
		}
	}()
	// A call that nobody waits for any more is not begun.
	if err := ctx.Err(); err != nil {
		return answer, err
	}
	return call(ctx, request)
}

// refusal gives the status of an error, nil for none. What the caller may not
// see is logged here.
func (p *Policy) refusal(name string, err error) *status.Status {
	if err == nil {
		return nil
	}
	if s, ok := translate.Status(err); ok {
		var failed *engine.OwnerFailed
		if errors.As(err, &failed) {
			p.Logger.Error().Str("call", name).Str("plugin", failed.Failure.Plugin).
				Str("reason", failed.Failure.Reason).Str("error", failed.Failure.Text).Msg("plugin failed")
		}
		return s
	}
	id := newErrorID()
	event := p.Logger.Error().Str("call", name).Str("error_id", id)
	if fault, ok := err.(*panicked); ok {
		event = event.Bytes("stack", fault.stack)
	}
	event.Err(err).Msg("call failed")
	return translate.Internal(id)
}

func newErrorID() string {
	var b [8]byte
	rand.Read(b[:]) //nolint:errcheck // never fails
	return hex.EncodeToString(b[:])
}

func (p *Policy) log(name string, started time.Time, request, answer proto.Message, refusal *status.Status) {
	event := p.Logger.Info()
	if !event.Enabled() {
		return
	}
	event.Str("call", name).
		Stringer("code", refusal.Code()).
		Float64("ms", float64(time.Since(started).Microseconds())/1000).
		Int("request_bytes", proto.Size(request))
	if refusal.Code() == codes.OK {
		event.Int("answer_bytes", proto.Size(answer)).Msg("call")
		return
	}
	read := translate.ReadRefusal(refusal.Err())
	event.Str("reason", read.Reason).Msg("call")
	// Paths hold no figure and no name of the recipe, but tell what its maker
	// is at: level debug.
	if debugging := p.Logger.Debug(); debugging.Enabled() && len(read.Violations) > 0 {
		paths := make([]string, len(read.Violations))
		for i, v := range read.Violations {
			paths[i] = v.Path
		}
		debugging.Str("call", name).Strs("fields", paths).Msg("refused fields")
	}
}
