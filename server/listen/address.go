package listen

import (
	"context"
	"fmt"
	"net"
	"net/netip"
	"strconv"
)

// Resolver looks a host name up; net.DefaultResolver is one.
type Resolver interface {
	LookupNetIP(ctx context.Context, network, host string) ([]netip.Addr, error)
}

// Loopback gives the address to listen on, and refuses every one that another
// machine could reach: connections are in clear text and nobody is asked who
// they are. A name is refused unless it stands for loopback only, and what it
// stands for now is what is listened on.
func Loopback(ctx context.Context, address string, resolver Resolver) (netip.AddrPort, error) {
	host, portText, err := net.SplitHostPort(address)
	if err != nil {
		return netip.AddrPort{}, fmt.Errorf("listen address %q is not host:port; write it like 127.0.0.1:7450", address)
	}
	port, err := strconv.ParseUint(portText, 10, 16)
	if err != nil {
		return netip.AddrPort{}, fmt.Errorf("listen address %q: the port is no number from 0 to 65535", address)
	}
	if host == "" {
		return netip.AddrPort{}, refused(address, "an empty host means every network interface")
	}
	if ip, err := netip.ParseAddr(host); err == nil {
		if !ip.Unmap().IsLoopback() {
			return netip.AddrPort{}, refused(address, host+" can be reached from other machines")
		}
		return netip.AddrPortFrom(ip.Unmap(), uint16(port)), nil
	}
	found, err := resolver.LookupNetIP(ctx, "ip", host)
	if err != nil || len(found) == 0 {
		return netip.AddrPort{}, fmt.Errorf("listen address %q: the name %q stands for no address on this machine; write 127.0.0.1 instead: %w", address, host, err)
	}
	chosen := found[0].Unmap()
	for _, ip := range found {
		ip = ip.Unmap()
		if !ip.IsLoopback() {
			return netip.AddrPort{}, refused(address, fmt.Sprintf("%s stands for %s, which can be reached from other machines", host, ip))
		}
		// Clients that try one address only try IPv4.
		if ip.Is4() && !chosen.Is4() {
			chosen = ip
		}
	}
	return netip.AddrPortFrom(chosen, uint16(port)), nil
}

func refused(address, why string) error {
	return fmt.Errorf("listen address %q is refused: %s. "+
		"This version speaks clear text and asks nobody for a token or certificate, so it listens on this machine only. "+
		"Use 127.0.0.1 or [::1]; to reach it from elsewhere, go through a tunnel or a proxy that encrypts and asks who is calling", address, why)
}
