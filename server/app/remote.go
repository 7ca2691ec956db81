package app

import (
	"context"
	"io"

	"google.golang.org/grpc"
	"google.golang.org/grpc/credentials/insecure"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// maxAnswerBytes lets the worksheet of the largest recipe through; gRPC alone
// would stop at 4 MiB.
const maxAnswerBytes = 64 << 20

// Dial makes the service of a running server, such as "127.0.0.1:7450". It
// opens no connection: the first call does, and answers UNAVAILABLE where
// nobody listens. The connection is in clear text, as servers listen on
// loopback only. Close it when done.
func Dial(target string, extra ...grpc.DialOption) (Service, io.Closer, error) {
	options := append([]grpc.DialOption{
		grpc.WithTransportCredentials(insecure.NewCredentials()),
		grpc.WithDefaultCallOptions(grpc.MaxCallRecvMsgSize(maxAnswerBytes)),
	}, extra...)
	conn, err := grpc.NewClient(target, options...)
	if err != nil {
		return nil, nil, err
	}
	return &remote{
		formulation: lixiviumv1.NewFormulationServiceClient(conn),
		catalog:     lixiviumv1.NewCatalogServiceClient(conn),
	}, conn, nil
}

// remote is a server in another process.
type remote struct {
	formulation lixiviumv1.FormulationServiceClient
	catalog     lixiviumv1.CatalogServiceClient
}

func (r *remote) Formulate(ctx context.Context, q *lixiviumv1.FormulateRequest) (*lixiviumv1.FormulateResponse, error) {
	return r.formulation.Formulate(ctx, q)
}

func (r *remote) Scale(ctx context.Context, q *lixiviumv1.ScaleRequest) (*lixiviumv1.ScaleResponse, error) {
	return r.formulation.Scale(ctx, q)
}

func (r *remote) SwapFat(ctx context.Context, q *lixiviumv1.SwapFatRequest) (*lixiviumv1.SwapFatResponse, error) {
	return r.formulation.SwapFat(ctx, q)
}

func (r *remote) ReconcileWeights(ctx context.Context, q *lixiviumv1.ReconcileWeightsRequest) (*lixiviumv1.ReconcileWeightsResponse, error) {
	return r.formulation.ReconcileWeights(ctx, q)
}

func (r *remote) Cost(ctx context.Context, q *lixiviumv1.CostRequest) (*lixiviumv1.CostResponse, error) {
	return r.formulation.Cost(ctx, q)
}

func (r *remote) ListAdditives(ctx context.Context, q *lixiviumv1.ListAdditivesRequest) (*lixiviumv1.ListAdditivesResponse, error) {
	return r.catalog.ListAdditives(ctx, q)
}

func (r *remote) ListPlugins(ctx context.Context, q *lixiviumv1.ListPluginsRequest) (*lixiviumv1.ListPluginsResponse, error) {
	return r.catalog.ListPlugins(ctx, q)
}

func (r *remote) ListFats(ctx context.Context, q *lixiviumv1.ListFatsRequest) (*lixiviumv1.ListFatsResponse, error) {
	return r.catalog.ListFats(ctx, q)
}

func (r *remote) ListWaterReferences(ctx context.Context, q *lixiviumv1.ListWaterReferencesRequest) (*lixiviumv1.ListWaterReferencesResponse, error) {
	return r.catalog.ListWaterReferences(ctx, q)
}

func (r *remote) ListFindingCodes(ctx context.Context, q *lixiviumv1.ListFindingCodesRequest) (*lixiviumv1.ListFindingCodesResponse, error) {
	return r.catalog.ListFindingCodes(ctx, q)
}

func (r *remote) GetVersions(ctx context.Context, q *lixiviumv1.GetVersionsRequest) (*lixiviumv1.GetVersionsResponse, error) {
	return r.catalog.GetVersions(ctx, q)
}
