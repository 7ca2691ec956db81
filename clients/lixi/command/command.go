// Package command holds the commands of lixi: it reads recipe files, asks a
// Service and prints what it answers.
//
// Results go to standard output, everything that went wrong to standard error
// as "lixi: what" and "  next: what to do". The exit code tells apart what a
// script must know: fine, a danger finding, a refusal, a server in trouble.
// Nothing else of the output is for programs; those read --json.
package command

import (
	"context"
	"errors"
	"fmt"
	"io"
	"time"

	"github.com/spf13/cobra"
)

// The exit codes.
const (
	ExitFine    = 0
	ExitDanger  = 1 // there is an answer, and it holds a danger finding
	ExitRefused = 2 // bad input, or a batch that cannot be made
	ExitServer  = 3 // no answer: unavailable, too late, or a fault of the server
)

// Streams are where a command reads and writes.
type Streams struct {
	In       io.Reader
	Out, Err io.Writer
}

// environment is what the commands share.
type environment struct {
	Streams
	connect Connect
	server  string
	timeout time.Duration
	log     string
	config  string
	danger  bool // the answer held a danger finding
}

// Run carries out one command line and gives the exit code.
func Run(ctx context.Context, args []string, s Streams, connect Connect) int {
	env := &environment{Streams: s, connect: connect}
	root := newRoot(env)
	root.SetArgs(args)
	err := root.ExecuteContext(ctx)
	switch {
	case err != nil:
		f := asFailure(err)
		f.print(s.Err)
		return f.exit
	case env.danger:
		return ExitDanger
	}
	return ExitFine
}

const rootHelp = `lixi works out batches of cold-process soap.

It takes recipe files in YAML, one recipe a file, and answers with a sheet to
weigh out by, a judgement, or the reckoning behind a figure. It works in this
process; with --server it asks a running lixiviumd instead.

A recipe file:

  recipe_format: 1
  recipe:
    name: Plain bar
    fats:
      - {id: olive-oil, fat: olive-oil, mass: {g: 700}}
      - {id: coconut-oil, fat: coconut-oil, mass: {g: 300}}
    alkali: {superfat_pct: 5}
    water: {measure: {lye_concentration_pct: 33}}
  balances:
    - {step: {g: 1}}

A variant of it states only what differs, field by field and id by id:

  recipe_format: 1
  variant_of: plain-bar.yaml
  changes:
    recipe:
      alkali: {superfat_pct: 8}
      fats:
        - {id: coconut-oil, remove: true}
        - {id: lard, fat: lard, mass: {g: 300}}

Exit codes:
  0  fine
  1  there is an answer, and it holds a danger finding (cost and explain do not judge)
  2  refused: bad input, or a batch that cannot be made
  3  no answer: the server is not there, took too long or failed, or nobody
     answers for an additive (look at its spelling first)`

func newRoot(env *environment) *cobra.Command {
	root := &cobra.Command{
		Use:               "lixi",
		Short:             "Works out batches of cold-process soap",
		Long:              rootHelp,
		Example:           "  lixi formulate kitchen-bar.yaml",
		Args:              cobra.ArbitraryArgs,
		SilenceErrors:     true,
		SilenceUsage:      true,
		CompletionOptions: cobra.CompletionOptions{DisableDefaultCmd: true},
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return cmd.Help()
			}
			return unknownCommand(cmd, args[0])
		},
	}
	root.SetIn(env.In)
	root.SetOut(env.Out)
	root.SetErr(env.Err)
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return refused(err.Error(), cmd.CommandPath()+" --help lists the flags")
	})
	flags := root.PersistentFlags()
	flags.StringVar(&env.server, "server", "", "address of a running lixiviumd, such as 127.0.0.1:7450 (default: in this process)")
	flags.DurationVar(&env.timeout, "timeout", 30*time.Second, "how long to wait for an answer")
	flags.StringVar(&env.log, "log", "", "file to append the log of the calculation to, when it runs in this process")
	flags.StringVar(&env.config, "config", "", "lixivium.yaml to use, when in this process")
	root.AddCommand(newPlugins(env), newFormulate(env), newScale(env), newSwap(env), newCheck(env), newWeigh(env), newCost(env), newExplain(env), newCatalog(env))
	return root
}

// unknownCommand names the commands that may have been meant.
func unknownCommand(cmd *cobra.Command, word string) error {
	cmd.SuggestionsMinimumDistance = 3
	next := cmd.CommandPath() + " --help lists the commands"
	if near := cmd.SuggestionsFor(word); len(near) > 0 {
		next = fmt.Sprintf("did you mean %s %s?", cmd.CommandPath(), near[0])
	}
	return refused(fmt.Sprintf("%s has no command %q", cmd.CommandPath(), word), next)
}

// arguments refuses a wrong number of arguments with the command's own usage.
func arguments(least, most int) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		switch {
		case len(args) < least:
			return refused("an argument is missing", "usage: "+cmd.UseLine())
		case len(args) > most:
			return refused(fmt.Sprintf("%q is one argument too many", args[most]), "usage: "+cmd.UseLine())
		}
		return nil
	}
}

// ask connects, puts one call and closes again.
func ask[A any](ctx context.Context, env *environment, call func(context.Context, Service) (A, error)) (A, error) {
	var none A
	service, closer, err := env.connect(Place{Address: env.server, Config: env.config, LogFile: env.log})
	var told *failure
	switch {
	case errors.As(err, &told):
		return none, told
	case err != nil:
		return none, refused(fmt.Sprintf("--server %q cannot be used: %v", env.server, err), "give host and port, such as 127.0.0.1:7450")
	}
	ctx, cancel := context.WithTimeout(ctx, env.timeout)
	defer cancel()
	answer, err := call(ctx, service)
	_ = closer.Close() // the answer is here, or the error that matters
	return answer, err
}

// print writes a result.
func (env *environment) print(text string) error {
	_, err := io.WriteString(env.Out, text)
	if err != nil {
		return &failure{exit: ExitServer, items: []item{{
			"the answer cannot be written: " + err.Error(), "make room or write elsewhere, and throw away what was written",
		}}}
	}
	return nil
}
