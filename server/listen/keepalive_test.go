package listen

import (
	"testing"

	"golang.org/x/net/http2"
)

// TestPingFlood: a client that pings more often than allowed is sent away.
// gRPC clients keep to a polite pace.
func TestPingFlood(t *testing.T) {
	s := start(t, realService(t))
	framer := rawClient(t, s)
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
