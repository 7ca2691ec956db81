package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"github.com/rs/zerolog"
	"github.com/spf13/cobra"

	"lixivium.example/engine"
	"lixivium.example/server/app"
	"lixivium.example/server/config"
)

// The exit codes; --help tells the same.
const (
	exitStopped      = 0
	exitFailed       = 1
	exitConfigured   = 2
	exitCannotListen = 3
	exitCutOff       = 4
)

// exitError is an error that knows its exit code.
type exitError struct {
	code int
	err  error
}

func (e *exitError) Error() string { return e.err.Error() }

// flags are what the command line says; empty: as the file says.
type flags struct {
	config, listen, logLevel string
	printAddress             bool
}

// run is the whole program but for the process around it.
func run(args []string, stdout, stderr io.Writer, signals <-chan os.Signal) int {
	command := newCommand(stdout, stderr, signals)
	command.SetArgs(args)
	command.SetOut(stdout)
	command.SetErr(stderr)
	err := command.Execute()
	if err == nil {
		return exitStopped
	}
	fmt.Fprintf(stderr, "lixiviumd: %v\n", err)
	var known *exitError
	if errors.As(err, &known) {
		return known.code
	}
	fmt.Fprintln(stderr, "lixiviumd --help tells every flag.")
	return exitConfigured
}

func newCommand(stdout, stderr io.Writer, signals <-chan os.Signal) *cobra.Command {
	var f flags
	command := &cobra.Command{
		Use:   "lixiviumd",
		Short: "Serves the formulation engine for cold-process soap over gRPC",
		Long:  long(),
		Example: `  lixiviumd
  lixiviumd --listen 127.0.0.1:0 --print-address
  lixiviumd --config ./shop.yaml --log-level debug`,
		Version:       fmt.Sprintf("%s (engine %s)", app.Version, engine.Version),
		Args:          cobra.NoArgs,
		SilenceErrors: true,
		SilenceUsage:  true,
		RunE: func(*cobra.Command, []string) error {
			c, file, err := configured(f)
			if err != nil {
				return &exitError{exitConfigured, err}
			}
			return serve(c, file, f.printAddress, stdout, stderr, signals)
		},
	}
	command.Flags().StringVar(&f.config, "config", "", "configuration file, in place of the usual places")
	command.Flags().StringVar(&f.listen, "listen", "", "address to listen on, host:port; port 0 takes a free one (default: the file's, or 127.0.0.1:7450)")
	command.Flags().StringVar(&f.logLevel, "log-level", "", "one of "+strings.Join(config.LogLevels, ", ")+" (default: the file's, or info)")
	command.Flags().BoolVar(&f.printAddress, "print-address", false, "print the address on standard output once calls are taken, for scripts")
	command.CompletionOptions.DisableDefaultCmd = true
	command.AddCommand(newPluginLine(stdout))
	return command
}

// configured gives the configuration with the flags laid over it.
func configured(f flags) (config.Config, string, error) {
	c, file, err := config.Load(f.config, config.Places())
	if err != nil {
		return config.Config{}, "", err
	}
	if f.listen != "" {
		if problem := config.CheckAddress(f.listen); problem != "" {
			return config.Config{}, "", fmt.Errorf("--listen: %s", problem)
		}
		c.Listen, c.ListenPlace = f.listen, "--listen"
	}
	if f.logLevel != "" {
		if !slices.Contains(config.LogLevels, f.logLevel) {
			return config.Config{}, "", fmt.Errorf("--log-level: %q is none of %s", f.logLevel, strings.Join(config.LogLevels, ", "))
		}
		c.Log.Level, _ = zerolog.ParseLevel(f.logLevel) // every one of LogLevels parses
	}
	return c, file, nil
}

func long() string {
	d := config.Default()
	var b strings.Builder
	fmt.Fprintf(&b, `lixiviumd serves the calls of lixivium.v1.FormulationService and
lixivium.v1.CatalogService over gRPC: recipes of cold-process soap in, weights,
water, superfat with its interval and findings out. It keeps nothing between
calls. Health (grpc.health.v1) and reflection (v1) answer at the same address.

It listens on this machine only. Any other address is refused, because
connections are in clear text and nobody is asked who they are.

Configuration, %s, is taken from --config, else from the first of
`, config.FileName)
	for _, place := range config.Places() {
		fmt.Fprintf(&b, "  %s\n", place)
	}
	fmt.Fprintf(&b, `and never from the current folder. Without a file these hold:
  listen: %s
  deadline_ceiling: %s       # longest a call may take, its request's arrival included
  max_request_bytes: %d   # one request message
  max_concurrent_streams: %d  # calls at a time on one connection
  max_connections: %d         # connections at a time; further ones wait
  drain_timeout: %s          # how long calls may finish at the end
  log:
    level: %s               # %s
    format: %s              # json or console
Flags win over the file.

The log goes to standard error, one line a call: name, code, duration, sizes.
What recipes hold is not in it.

Signals: the first SIGTERM or SIGINT drains: health says NOT_SERVING, no new
call is taken, calls in flight finish within drain_timeout. The second stops at
once.

Exit codes: %d stopped and drained; %d the server failed; %d a flag or the
configuration is wrong; %d the address cannot be listened on; %d calls were cut
off, by drain_timeout or by a second signal.`,
		d.Listen, d.DeadlineCeiling, d.MaxRequestBytes, d.MaxConcurrentStreams, d.MaxConnections, d.DrainTimeout,
		d.Log.Level, strings.Join(config.LogLevels, ", "), d.Log.Format,
		exitStopped, exitFailed, exitConfigured, exitCannotListen, exitCutOff)
	return b.String()
}
