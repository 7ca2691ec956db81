// Command lixiviumd serves Lixivium over gRPC on this machine. See --help.
package main

import (
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"
)

// gcPercent lets the heap grow to five times what is in use, a few megabytes,
// before it is collected. With the runtime's 100 a busy server collects several
// hundred times a second, which costs a sixth of its calls.
const gcPercent = 400

// calmCollector leaves the last word to whoever sets GOGC.
func calmCollector() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(gcPercent)
	}
}

func main() {
	// Room for both: the second one must not get lost while the first is
	// acted on.
	signals := make(chan os.Signal, 2)
	signal.Notify(signals, os.Interrupt, syscall.SIGTERM)
	calmCollector()
	os.Exit(run(os.Args[1:], os.Stdout, os.Stderr, signals))
}
