package listen

import (
	"io"
	"net"
	"testing"
	"time"

	"golang.org/x/net/http2"
)

// TestPingFlood: a client that pings more often than allowed is sent away. It
// speaks HTTP/2 by hand, as gRPC clients keep to a polite pace.
func TestPingFlood(t *testing.T) {
	s := start(t, realService(t))
	conn, err := net.Dial("tcp", s.Address())
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	if err := conn.SetDeadline(time.Now().Add(10 * time.Second)); err != nil {
		t.Fatal(err)
	}
	if _, err := io.WriteString(conn, http2.ClientPreface); err != nil {
		t.Fatal(err)
	}
	framer := http2.NewFramer(conn, conn)
	if err := framer.WriteSettings(); err != nil {
		t.Fatal(err)
	}
	for i := range 10 {
		if framer.WritePing(false, [8]byte{byte(i)}) != nil {
			break // already sent away
		}
	}
	for {
		frame, err := framer.ReadFrame()
		if err != nil {
			t.Fatalf("the connection ended without a word: %v", err)
		}
		if away, ok := frame.(*http2.GoAwayFrame); ok {
			if away.ErrCode != http2.ErrCodeEnhanceYourCalm {
				t.Errorf("sent away with %s", away.ErrCode)
			}
			return
		}
	}
}
