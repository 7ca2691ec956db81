package host

import (
	"context"
	"testing"

	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/credentials/insecure"
	"google.golang.org/grpc/status"

	additivev1 "lixivium.example/proto/lixivium/additive/v1"
)

// TestClosing: a call on a connection that another call gave up is the end of a
// run, not an answer outside the contract. It fails when the library changes the
// text that marks it.
func TestClosing(t *testing.T) {
	conn, err := grpc.NewClient("unix:/nowhere", grpc.WithTransportCredentials(insecure.NewCredentials()))
	if err != nil {
		t.Fatal(err)
	}
	if err := conn.Close(); err != nil {
		t.Fatal(err)
	}
	_, err = additivev1.NewAdditiveServiceClient(conn).Describe(context.Background(), &additivev1.DescribeRequest{})
	if !closing(err) {
		t.Errorf("a closed connection gave %v", err)
	}
	if closing(status.Error(codes.Canceled, "a plugin's own")) {
		t.Error("a plugin's own status is taken for a closed connection")
	}
}
