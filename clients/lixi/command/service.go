package command

import (
	"errors"
	"fmt"
	"io"
	"os"

	"github.com/rs/zerolog"

	"lixivium.example/server/app"
)

// Service is what the commands ask, in this process or in another.
type Service = app.Service

// Place says which service is asked: that at an address, or, without one, that
// in this process, with the configuration file named (empty: the usual places)
// and a log file when one is named.
type Place struct{ Address, Config, LogFile string }

// Connect gives the service at a place. The closer is never nil when there is
// no error.
type Connect func(Place) (Service, io.Closer, error)

// ConnectApp connects to lixiviumd at an address, or makes the service in this
// process. That one never logs to the terminal.
func ConnectApp(at Place) (Service, io.Closer, error) {
	if at.Address != "" {
		return app.Dial(at.Address)
	}
	logger := zerolog.Nop()
	var file *os.File
	if at.LogFile != "" {
		var err error
		file, err = os.OpenFile(at.LogFile, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o600)
		if err != nil {
			return nil, nil, refused(fmt.Sprintf("--log cannot be written: %v", err), "name a file in a folder that is yours")
		}
		logger = zerolog.New(file).With().Timestamp().Logger()
	}
	service, closer, err := app.Local(at.Config, logger)
	if err != nil {
		return nil, nil, refused(fmt.Sprintf("the configuration cannot be used: %v", err), "mend it, or name another with --config")
	}
	if file == nil {
		return service, closer, nil
	}
	return service, closers{closer, file}, nil
}

// closers close one after another.
type closers []io.Closer

func (list closers) Close() error {
	var errs []error
	for _, c := range list {
		errs = append(errs, c.Close())
	}
	return errors.Join(errs...)
}
