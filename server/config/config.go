// Package config reads lixivium.yaml, the one configuration file of Lixivium.
//
// The file is looked for in the user's configuration folder, then the
// system's, then beside the executable, and the first found is the only one
// read; never in the current folder, which may be anybody's. Without a file
// the defaults hold.
//
// Reading is strict: an unknown key, a repeated key or a value out of range is
// refused with line and column, all of them at once, because a limit that was
// misspelled is a limit that is not there. Whether an address may be listened
// on is for package listen.
package config

import (
	"time"

	"github.com/rs/zerolog"
)

// Config is what a server is started with.
type Config struct {
	// Listen is host:port; port 0 takes a free one.
	Listen string
	// ListenPlace is file:line:column of Listen; empty for the default.
	ListenPlace string
	// DeadlineCeiling is the longest a call may take.
	DeadlineCeiling time.Duration
	// MaxRequestBytes bounds one request message.
	MaxRequestBytes int
	// MaxConcurrentStreams bounds the calls at a time on one connection.
	MaxConcurrentStreams uint32
	// MaxConnections bounds the connections at a time.
	MaxConnections int
	// DrainTimeout is how long calls may finish after the first signal.
	DrainTimeout time.Duration
	Log          Log
	// Plugins are the additive plugins that may be started, in the order of the
	// file.
	Plugins []Plugin
	// Owners settles who answers for an additive that several plugins are
	// accepted for: additive id to plugin name.
	Owners map[string]string
}

// Plugin is one plugin as the operator accepts it: what may be started, with
// which rights, for which additives. Package host checks the values.
type Plugin struct {
	Name string
	// File is absolute; in the file it may be relative to the folder of the
	// file.
	File        string
	SHA256      string
	Grants      []string
	Additives   []string
	WatchesFats []string
	// Place is file:line:column of the entry.
	Place string
}

// Log says what is logged and how.
type Log struct {
	Level  zerolog.Level
	Format Format
}

// Format is a way to write log lines.
type Format string

// The formats: one JSON object a line for programs, or columns for people.
const (
	JSON    Format = "json"
	Console Format = "console"
)

// Default gives what holds without a file.
func Default() Config {
	return Config{
		Listen: "127.0.0.1:7450",
		// Calls take well under a millisecond; what takes seconds hangs.
		DeadlineCeiling: 10 * time.Second,
		// A recipe of the largest allowed size, 1,000 fats and 200 doses, is
		// well under half of it.
		MaxRequestBytes:      1 << 20,
		MaxConcurrentStreams: 128,
		// A client needs one; below the 1,024 descriptors that many systems
		// give a process.
		MaxConnections: 512,
		// Longer than the deadline ceiling, so that a drain cuts nothing off
		// unless the ceiling was raised.
		DrainTimeout: 15 * time.Second,
		Log:          Log{Level: zerolog.InfoLevel, Format: JSON},
	}
}

// LogLevels are the names a log level may have.
var LogLevels = []string{"debug", "info", "warn", "error"}
