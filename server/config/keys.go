package config

import (
	"net"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/rs/zerolog"
	"go.yaml.in/yaml/v3"
)

// The limits of the limits.
const (
	minDeadline, maxDeadline         = 10 * time.Millisecond, 10 * time.Minute
	minRequestBytes, maxRequestBytes = 1 << 10, 64 << 20
	minStreams, maxStreams           = 1, 10_000
	minConnections, maxConnections   = 1, 100_000
	maxDrain                         = time.Hour
)

func (p *parser) topLevel() []entry {
	c := &p.config
	return []entry{
		{"listen", p.listen},
		{"deadline_ceiling", func(n *yaml.Node) { p.duration(n, "deadline_ceiling", minDeadline, maxDeadline, &c.DeadlineCeiling) }},
		{"max_request_bytes", func(n *yaml.Node) {
			if v, ok := p.integer(n, "max_request_bytes", minRequestBytes, maxRequestBytes); ok {
				c.MaxRequestBytes = v
			}
		}},
		{"max_concurrent_streams", func(n *yaml.Node) {
			if v, ok := p.integer(n, "max_concurrent_streams", minStreams, maxStreams); ok {
				c.MaxConcurrentStreams = uint32(v)
			}
		}},
		{"max_connections", func(n *yaml.Node) {
			if v, ok := p.integer(n, "max_connections", minConnections, maxConnections); ok {
				c.MaxConnections = v
			}
		}},
		{"drain_timeout", func(n *yaml.Node) { p.duration(n, "drain_timeout", 0, maxDrain, &c.DrainTimeout) }},
		{"log", func(n *yaml.Node) { p.keys(n, "log", p.logKeys()) }},
		{"plugins", p.plugins},
		{"owners", p.owners},
	}
}

func (p *parser) logKeys() []entry {
	return []entry{
		{"level", func(n *yaml.Node) {
			if v, ok := p.oneOf(n, "log.level", LogLevels); ok {
				p.config.Log.Level, _ = zerolog.ParseLevel(v) // every one of LogLevels parses
			}
		}},
		{"format", func(n *yaml.Node) {
			if v, ok := p.oneOf(n, "log.format", []string{string(JSON), string(Console)}); ok {
				p.config.Log.Format = Format(v)
			}
		}},
	}
}

func (p *parser) listen(n *yaml.Node) {
	v, ok := p.scalar(n, "listen", "host:port, such as 127.0.0.1:7450")
	if !ok {
		return
	}
	if problem := CheckAddress(v); problem != "" {
		p.fail(n, "listen: %s", problem)
		return
	}
	p.config.Listen, p.config.ListenPlace = v, p.place(n)
}

// CheckAddress tells what is wrong with the form of an address, empty for
// nothing.
func CheckAddress(address string) string {
	_, port, err := net.SplitHostPort(address)
	if err != nil {
		return strconv.Quote(address) + " is not host:port. Write it like 127.0.0.1:7450, or [::1]:7450 for IPv6"
	}
	if _, err := strconv.ParseUint(port, 10, 16); err != nil {
		return "the port " + strconv.Quote(port) + " is no number from 0 to 65535. 0 takes a free port"
	}
	return ""
}

// scalar gives a value that is neither a list nor keys nor absent.
func (p *parser) scalar(n *yaml.Node, key, what string) (string, bool) {
	if n.Kind != yaml.ScalarNode || n.Tag == "!!null" {
		p.fail(n, "%s is %s; write %s, or leave the key out for its default", key, kindOf(n), what)
		return "", false
	}
	return n.Value, true
}

func (p *parser) duration(n *yaml.Node, key string, low, high time.Duration, to *time.Duration) {
	v, ok := p.scalar(n, key, "a time such as 10s")
	if !ok {
		return
	}
	d, err := time.ParseDuration(v)
	switch {
	case err != nil:
		p.fail(n, "%s: %q is no time with a unit. Write it like 500ms, 10s or 2m", key, v)
	case d < low || d > high:
		p.fail(n, "%s: %s is outside %s to %s", key, v, low, high)
	default:
		*to = d
	}
}

func (p *parser) integer(n *yaml.Node, key string, low, high int) (int, bool) {
	v, ok := p.scalar(n, key, "a whole number")
	if !ok {
		return 0, false
	}
	i, err := strconv.Atoi(strings.ReplaceAll(v, "_", ""))
	switch {
	case err != nil:
		p.fail(n, "%s: %q is no whole number. Write it in digits, from %d to %d", key, v, low, high)
	case i < low || i > high:
		p.fail(n, "%s: %s is outside %d to %d", key, v, low, high)
	default:
		return i, true
	}
	return 0, false
}

func (p *parser) oneOf(n *yaml.Node, key string, valid []string) (string, bool) {
	v, ok := p.scalar(n, key, "one of "+strings.Join(valid, ", "))
	if !ok {
		return "", false
	}
	if !slices.Contains(valid, v) {
		p.fail(n, "%s: %q is none of %s.%s", key, v, strings.Join(valid, ", "), nearest(v, valid))
		return "", false
	}
	return v, true
}
