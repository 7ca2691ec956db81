// Command lixiviumd serves Lixivium over gRPC on this machine. See --help.
package main

import (
	"os"
	"os/signal"
	"syscall"

	"lixivium.example/server/listen"
)

func main() {
	// Room for both: the second one must not get lost while the first is
	// acted on.
	signals := make(chan os.Signal, 2)
	signal.Notify(signals, os.Interrupt, syscall.SIGTERM)
	listen.CalmCollector()
	os.Exit(run(os.Args[1:], os.Stdout, os.Stderr, signals))
}
