package main

import (
	"bytes"
	"io"
	"time"

	"github.com/rs/zerolog"
	"google.golang.org/grpc/grpclog"

	"lixivium.example/server/config"
)

func newLogger(c config.Log, w io.Writer) zerolog.Logger {
	if c.Format == config.Console {
		w = zerolog.ConsoleWriter{Out: w, NoColor: true, TimeFormat: time.DateTime}
	}
	return zerolog.New(w).Level(c.Level).With().Timestamp().Logger()
}

// routeGRPCLog sends what the gRPC library has to say to the same log; its own
// lines would not be JSON. What it calls information is left out.
func routeGRPCLog(logger zerolog.Logger) {
	grpclog.SetLoggerV2(grpclog.NewLoggerV2(io.Discard,
		levelWriter{logger, zerolog.WarnLevel},
		levelWriter{logger, zerolog.ErrorLevel}))
}

type levelWriter struct {
	logger zerolog.Logger
	level  zerolog.Level
}

func (w levelWriter) Write(line []byte) (int, error) {
	w.logger.WithLevel(w.level).Str("part", "grpc").Msg(string(bytes.TrimSpace(line)))
	return len(line), nil
}
