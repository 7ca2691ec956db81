// Command lixi works out batches of cold-process soap from recipe files.
// lixi --help explains itself; the work is done by the packages below.
package main

import (
	"context"
	"os"
	"os/signal"

	"lixivium.example/clients/lixi/command"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	code := command.Run(ctx, os.Args[1:], command.Streams{In: os.Stdin, Out: os.Stdout, Err: os.Stderr}, command.ConnectApp)
	stop()
	os.Exit(code)
}
