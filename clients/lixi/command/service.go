package command

import (
	"context"
	"fmt"
	"io"
	"os"

	"github.com/rs/zerolog"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
	"lixivium.example/server/app"
)

// Service is what the commands ask, in this process or in another.
type Service interface {
	Formulate(context.Context, *lixiviumv1.FormulateRequest) (*lixiviumv1.FormulateResponse, error)
	ReconcileWeights(context.Context, *lixiviumv1.ReconcileWeightsRequest) (*lixiviumv1.ReconcileWeightsResponse, error)
	ListFats(context.Context, *lixiviumv1.ListFatsRequest) (*lixiviumv1.ListFatsResponse, error)
	ListWaterReferences(context.Context, *lixiviumv1.ListWaterReferencesRequest) (*lixiviumv1.ListWaterReferencesResponse, error)
	ListFindingCodes(context.Context, *lixiviumv1.ListFindingCodesRequest) (*lixiviumv1.ListFindingCodesResponse, error)
	GetVersions(context.Context, *lixiviumv1.GetVersionsRequest) (*lixiviumv1.GetVersionsResponse, error)
}

// Connect gives the service at an address; an empty address means the one in
// this process, which logs to a file when one is named. The closer is never
// nil when there is no error.
type Connect func(address, logFile string) (Service, io.Closer, error)

// ConnectApp connects to lixiviumd at an address, or makes the service in this
// process. That one never logs to the terminal.
func ConnectApp(address, logFile string) (Service, io.Closer, error) {
	if address != "" {
		return app.Dial(address)
	}
	logger, closer := zerolog.Nop(), io.NopCloser(nil)
	if logFile != "" {
		file, err := os.OpenFile(logFile, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o600)
		if err != nil {
			return nil, nil, refused(fmt.Sprintf("--log cannot be written: %v", err), "name a file in a folder that is yours")
		}
		logger, closer = zerolog.New(file).With().Timestamp().Logger(), file
	}
	service, err := app.New(app.Options{Logger: logger})
	return service, closer, err
}
