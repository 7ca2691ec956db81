package main

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"lixivium.example/server/app"
)

// inspectTimeout is how long a plugin may take to say what it is.
const inspectTimeout = 10 * time.Second

// newPluginLine makes the command that prints the entry for a plugin, for the
// operator to read and to put into lixivium.yaml by hand: nothing is enabled
// over the network, and nothing enables itself.
func newPluginLine(stdout io.Writer) *cobra.Command {
	var relativeTo string
	command := &cobra.Command{
		Use:   "plugin-line FILE...",
		Short: "Print the entry that accepts a plugin file in lixivium.yaml",
		Long: `plugin-line starts each plugin file once, asks it what it is, and prints the
entry that accepts it as it stands: name, digest of the file, the rights it asks
for, and the additives it owns. Read it, take away what it should not have, and
put it under plugins: in lixivium.yaml.

The file runs with your rights. A separate process guards against faults, not
against malice: start only what you trust.`,
		Example:       "  lixiviumd plugin-line bin/lixivium-acids",
		Args:          cobra.MinimumNArgs(1),
		SilenceErrors: true,
		SilenceUsage:  true,
		RunE: func(command *cobra.Command, files []string) error {
			var out strings.Builder
			out.WriteString("plugins:\n")
			for _, file := range files {
				line, err := inspected(command.Context(), file, relativeTo)
				if err != nil {
					return &exitError{exitConfigured, err}
				}
				out.WriteString(line)
			}
			_, err := io.WriteString(stdout, out.String())
			return err
		},
	}
	command.Flags().StringVar(&relativeTo, "relative-to", "", "folder of the lixivium.yaml it is for; files below it are named relative to it")
	return command
}

// inspected gives the entry for one file.
func inspected(ctx context.Context, file, relativeTo string) (string, error) {
	absolute, err := filepath.Abs(file)
	if err != nil {
		return "", err
	}
	if ctx == nil {
		ctx = context.Background()
	}
	ctx, cancel := context.WithTimeout(ctx, inspectTimeout)
	defer cancel()
	line, err := app.Inspect(ctx, absolute)
	if err != nil {
		return "", err
	}
	if relativeTo == "" {
		return line, nil
	}
	base, err := filepath.Abs(relativeTo)
	if err != nil {
		return "", err
	}
	short, err := filepath.Rel(base, absolute)
	if err != nil || strings.HasPrefix(short, "..") {
		return "", fmt.Errorf("%s does not lie below %s", file, relativeTo)
	}
	return strings.Replace(line, absolute, short, 1), nil
}
