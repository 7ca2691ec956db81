package listen

import (
	"context"
	"errors"
	"net"
	"net/netip"
	"strings"
	"testing"
)

// names is a resolver of a few names.
type names map[string][]netip.Addr

func (n names) LookupNetIP(_ context.Context, _, host string) ([]netip.Addr, error) {
	if found, ok := n[host]; ok {
		return found, nil
	}
	return nil, &net.DNSError{Err: "no such host", Name: host, IsNotFound: true}
}

var known = names{
	"localhost": {netip.MustParseAddr("::1"), netip.MustParseAddr("127.0.0.1")},
	"six":       {netip.MustParseAddr("::1")},
	"mapped":    {netip.MustParseAddr("::ffff:127.0.0.1")},
	"both":      {netip.MustParseAddr("127.0.0.1"), netip.MustParseAddr("192.0.2.7")},
	"outside":   {netip.MustParseAddr("192.0.2.7")},
	"nothing":   {},
}

func TestLoopback(t *testing.T) {
	for address, want := range map[string]string{
		"127.0.0.1:7450":          "127.0.0.1:7450",
		"127.8.9.10:0":            "127.8.9.10:0",
		"[::1]:7450":              "[::1]:7450",
		"[::ffff:127.0.0.1]:7450": "127.0.0.1:7450",
		"localhost:7450":          "127.0.0.1:7450",
		"six:7450":                "[::1]:7450",
		"mapped:7450":             "127.0.0.1:7450",
	} {
		if got, err := Loopback(t.Context(), address, known); err != nil || got.String() != want {
			t.Errorf("%s: %s, %v", address, got, err)
		}
	}
}

func TestNotLoopback(t *testing.T) {
	for address, want := range map[string]string{
		":7450":                 "an empty host means every network interface",
		"0.0.0.0:7450":          "0.0.0.0 can be reached from other machines",
		"[::]:7450":             ":: can be reached from other machines",
		"[::ffff:0.0.0.0]:7450": "can be reached from other machines",
		"192.0.2.7:7450":        "192.0.2.7 can be reached from other machines",
		"[2001:db8::1]:7450":    "2001:db8::1 can be reached from other machines",
		"both:7450":             "both stands for 192.0.2.7, which can be reached from other machines",
		"outside:7450":          "outside stands for 192.0.2.7",
		"unheard:7450":          `the name "unheard" stands for no address`,
		"nothing:7450":          `the name "nothing" stands for no address`,
		"7450":                  "is not host:port",
		"127.0.0.1:http":        "the port is no number",
		"127.0.0.1:65536":       "the port is no number",
	} {
		_, err := Loopback(t.Context(), address, known)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", address, err)
			continue
		}
		if strings.Contains(want, "reached") && !strings.Contains(err.Error(), "Use 127.0.0.1 or [::1]") {
			t.Errorf("%s: no way out in %q", address, err)
		}
	}
	failed := errors.New("resolver is down")
	if _, err := Loopback(t.Context(), "x:1", failing{failed}); !errors.Is(err, failed) {
		t.Errorf("got %v", err)
	}
}

type failing struct{ err error }

func (f failing) LookupNetIP(context.Context, string, string) ([]netip.Addr, error) {
	return nil, f.err
}
