// Command bench measures Lixivium beside baselines that are run in the same
// minutes, and prints tables of medians and ratios. It takes the programs in
// bin/ as make build leaves them. See --help.
//
// Machines are noisy: a ratio is the median of the ratios of single rounds, in
// which the things compared took turns. The microseconds are this machine's.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"
)

const usage = `bench measures the engine, the service and its plugins.

  bench [flags]     every table, or those named by --only
  bench answers ... is the server of the baselines; bench starts it itself

`

// settings say how long to measure.
type settings struct {
	bin    string // folder of the built programs
	rounds int
	calls  int // of the memory table
	out    io.Writer
}

// table is one table of results.
type table struct {
	name  string
	print func(context.Context, *settings) error
}

var tables = []table{
	{"engine", engineTable},
	{"service", serviceTable},
	{"plugins", pluginsTable},
	{"start", startTable},
	{"memory", memoryTable},
	{"spreadsheet", spreadsheetTable},
}

func main() {
	ctx, cancel := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer cancel()
	run := measure
	args := os.Args[1:]
	if len(args) > 0 && args[0] == "answers" {
		run, args = answers, args[1:]
	}
	switch err := run(ctx, args); {
	case errors.Is(err, flag.ErrHelp):
	case err != nil:
		fmt.Fprintln(os.Stderr, "bench:", err)
		os.Exit(1)
	}
}

func measure(ctx context.Context, args []string) error {
	s := &settings{out: os.Stdout}
	flags := flag.NewFlagSet("bench", flag.ContinueOnError)
	flags.StringVar(&s.bin, "bin", "bin", "folder of lixiviumd, lixi, the plugins and lixivium.yaml")
	flags.IntVar(&s.rounds, "rounds", 40, "rounds of each comparison")
	flags.IntVar(&s.calls, "calls", 1_000_000, "calls before memory is looked at again")
	only := flags.String("only", "", "one table alone: engine, service, plugins, start, memory or spreadsheet")
	flags.Usage = func() {
		fmt.Fprint(flags.Output(), usage)
		flags.PrintDefaults()
	}
	if err := flags.Parse(args); err != nil {
		return err
	}
	if s.rounds < 1 || s.calls < 1 {
		return errors.New("--rounds and --calls are at least 1")
	}
	known := false
	for _, t := range tables {
		if *only != "" && *only != t.name {
			continue
		}
		known = true
		if err := t.print(ctx, s); err != nil {
			return fmt.Errorf("%s: %w", t.name, err)
		}
	}
	if !known {
		return fmt.Errorf("there is no table %q", *only)
	}
	return nil
}
