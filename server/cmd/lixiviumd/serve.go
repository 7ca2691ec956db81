package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"time"

	"github.com/rs/zerolog"

	"lixivium.example/server/app"
	"lixivium.example/server/config"
	"lixivium.example/server/host"
	"lixivium.example/server/listen"
)

func serve(c config.Config, file string, printAddress bool, stdout, stderr io.Writer, signals <-chan os.Signal) error {
	logger := newLogger(c.Log, stderr)
	routeGRPCLog(logger)
	if file == "" {
		logger.Info().Msg("no configuration file found, the defaults hold")
	} else {
		logger.Info().Str("file", file).Msg("configuration read")
	}

	options := app.Options{Logger: logger, DeadlineCeiling: c.DeadlineCeiling}
	plugins, err := app.Host(c, logger)
	if err != nil {
		return &exitError{exitConfigured, err}
	}
	if plugins != nil {
		options.Plugins = plugins
		defer closePlugins(plugins, logger)
		// A plugin that cannot start takes down its own additives, not the server.
		if err := plugins.StartAll(context.Background()); err != nil {
			logger.Error().Err(err).Msg("not every plugin started; recipes that need the others are answered")
		}
	}
	service, err := app.New(options)
	if err != nil {
		return &exitError{exitFailed, err}
	}
	server, err := listen.Open(context.Background(), c.Listen, service, listen.LimitsOf(c))
	if err != nil {
		if c.ListenPlace != "" {
			err = fmt.Errorf("%s: %w", c.ListenPlace, err)
		}
		return &exitError{exitCannotListen, err}
	}
	served := make(chan error, 1)
	go func() { served <- server.Serve() }()

	logger.Info().Str("address", server.Address()).Msg("listening on " + server.Address())
	if printAddress {
		if _, err := fmt.Fprintln(stdout, server.Address()); err != nil {
			server.Stop()
			return &exitError{exitFailed, fmt.Errorf("cannot print the address: %w", err)}
		}
	}

	select {
	case err := <-served:
		server.Stop()
		return &exitError{exitFailed, fmt.Errorf("the listener failed: %w", err)}
	case s := <-signals:
		logger.Info().Stringer("signal", s).Stringer("at_most", c.DrainTimeout).Msg("draining; a second signal stops at once")
	}
	return drain(server, c, logger, signals)
}

// closeGrace is how long plugins may take to leave.
const closeGrace = 5 * time.Second

func closePlugins(plugins *host.Host, logger zerolog.Logger) {
	ctx, cancel := context.WithTimeout(context.Background(), closeGrace)
	defer cancel()
	if err := plugins.Close(ctx); err != nil {
		logger.Error().Err(err).Msg("plugins were not stopped cleanly")
	}
}

func drain(server *listen.Server, c config.Config, logger zerolog.Logger, signals <-chan os.Signal) error {
	ctx, cancel := context.WithTimeout(context.Background(), c.DrainTimeout)
	defer cancel()
	go func() {
		select {
		case <-signals:
			cancel()
		case <-ctx.Done():
		}
	}()
	if server.Drain(ctx) {
		logger.Info().Msg("stopped")
		return nil
	}
	why := "drain_timeout was over"
	if errors.Is(ctx.Err(), context.Canceled) {
		why = "a second signal came"
	}
	return &exitError{exitCutOff, fmt.Errorf("stopped before every call had finished: %s", why)}
}
