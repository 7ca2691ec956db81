package sdk

import (
	"context"
	"fmt"
	"os"
	"runtime/debug"

	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/types/known/emptypb"
)

// stopper begins the end of the server.
type stopper func()

// controller is the service through which go-plugin hosts ask a plugin to
// leave. Its messages are empty on the wire, and the library keeps their Go
// types to itself.
var controller = grpc.ServiceDesc{
	ServiceName: "plugin.GRPCController",
	HandlerType: (*any)(nil),
	Methods: []grpc.MethodDesc{{
		MethodName: "Shutdown",
		Handler: func(server any, _ context.Context, decode func(any) error, _ grpc.UnaryServerInterceptor) (any, error) {
			if err := decode(&emptypb.Empty{}); err != nil {
				return nil, err
			}
			server.(stopper)()
			return &emptypb.Empty{}, nil
		},
	}},
}

// recovering keeps a panic in a rule from ending the process. The host sees
// that the call failed; the trace is for the author, on stderr.
func recovering(ctx context.Context, req any, info *grpc.UnaryServerInfo, handler grpc.UnaryHandler) (out any, err error) {
	defer func() {
		if r := recover(); r != nil {
			fmt.Fprintf(os.Stderr, "panic in %s: %v\n%s", info.FullMethod, r, debug.Stack())
			out, err = nil, status.Error(codes.Internal, "a rule panicked; the trace is in the plugin's log")
		}
	}()
	return handler(ctx, req)
}
