package twin_test

import (
	"bufio"
	"os/exec"
	"slices"
	"strings"
	"testing"
	"time"

	"google.golang.org/grpc"
	"google.golang.org/grpc/credentials/insecure"

	"lixivium.example/plugins/sdk"
	additivev1 "lixivium.example/proto/lixivium/additive/v1"
)

// bare starts a plugin's executable without the host and gives a client to it.
func bare(b *testing.B, file string) additivev1.AdditiveServiceClient {
	b.Helper()
	cmd := exec.Command(file)
	cmd.Env = []string{"GOMAXPROCS=1", sdk.CookieKey + "=" + sdk.CookieValue, "PLUGIN_UNIX_SOCKET_DIR=" + shortFolder(b)}
	lifeline, err := cmd.StdinPipe()
	if err != nil {
		b.Fatal(err)
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		b.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { _ = lifeline.Close(); _ = cmd.Wait() })
	line, err := bufio.NewReader(out).ReadString('\n')
	part := strings.Split(line, "|")
	if err != nil || len(part) < 5 {
		b.Fatalf("the handshake is %q (%v)", line, err)
	}
	conn, err := grpc.NewClient("unix:"+part[3], grpc.WithTransportCredentials(insecure.NewCredentials()), grpc.WithAuthority("localhost"))
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { _ = conn.Close() })
	return additivev1.NewAdditiveServiceClient(conn)
}

func median(times []time.Duration) time.Duration {
	slices.Sort(times)
	return times[len(times)/2]
}
