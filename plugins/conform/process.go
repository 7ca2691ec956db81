package conform

import (
	"bufio"
	"context"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"google.golang.org/grpc"
	"google.golang.org/grpc/credentials/insecure"

	"lixivium.example/plugins/sdk"
	additivev1 "lixivium.example/proto/lixivium/additive/v1"
)

const (
	startTimeout = 10 * time.Second
	callTimeout  = 5 * time.Second
	leaveTimeout = 3 * time.Second
)

// Start runs a plugin's executable and gives a plugin whose rules are calls to
// it, so that Run tries the process. A call that fails is a failure of t. When
// t ends, the process is let go of by the end of its standard input; one that
// stays is killed, and t fails.
func Start(t *testing.T, path string) *sdk.Plugin {
	t.Helper()
	folder, err := os.MkdirTemp("", "lix") // t.TempDir gives paths too long for a socket
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(path)
	cmd.Dir = folder
	cmd.Env = []string{sdk.CookieKey + "=" + sdk.CookieValue, "PLUGIN_UNIX_SOCKET_DIR=" + folder, "PLUGIN_PROTOCOL_VERSIONS=1"}
	cmd.Stderr = t.Output()
	lifeline, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	stdout, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	late := time.AfterFunc(startTimeout, func() { _ = cmd.Process.Kill() })
	line, err := bufio.NewReader(stdout).ReadString('\n')
	late.Stop()
	left := make(chan error, 1)
	go func() { left <- cmd.Wait() }()
	t.Cleanup(func() {
		_ = lifeline.Close()
		select {
		case err := <-left:
			if err != nil {
				t.Errorf("at the end of its standard input the plugin left with: %v", err)
			}
		case <-time.After(leaveTimeout):
			_ = cmd.Process.Kill()
			t.Errorf("the plugin stayed after the end of its standard input")
		}
		_ = os.RemoveAll(folder)
	})
	part := strings.Split(strings.TrimSpace(line), "|")
	if err != nil || len(part) < 5 || part[0] != "1" || part[1] != "1" || part[2] != "unix" || part[4] != "grpc" {
		t.Fatalf("the first line on standard output is %q (%v); it must be 1|1|unix|PATH|grpc", line, err)
	}
	conn, err := grpc.NewClient("unix:"+part[3], grpc.WithTransportCredentials(insecure.NewCredentials()), grpc.WithAuthority("localhost"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = conn.Close() })
	return remote(t, additivev1.NewAdditiveServiceClient(conn))
}

// remote is a plugin whose rules are calls.
func remote(t *testing.T, client additivev1.AdditiveServiceClient) *sdk.Plugin {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), callTimeout)
	defer cancel()
	m, err := client.Describe(ctx, &additivev1.DescribeRequest{})
	if err != nil {
		t.Fatalf("Describe: %v", err)
	}
	p := manifest(m)
	p.Adjust = func(ctx context.Context, q sdk.Question) sdk.Answer {
		ctx, cancel := context.WithTimeout(ctx, callTimeout)
		defer cancel()
		a, err := client.Adjust(ctx, questionMessage(&q))
		if err != nil {
			t.Errorf("Adjust: %v", err)
		}
		return answer(a)
	}
	p.Review = func(ctx context.Context, b sdk.Batch) []sdk.Finding {
		ctx, cancel := context.WithTimeout(ctx, callTimeout)
		defer cancel()
		r, err := client.Review(ctx, &additivev1.ReviewRequest{Batch: batchMessage(&b)})
		if err != nil {
			t.Errorf("Review: %v", err)
		}
		return found(r)
	}
	return p
}
