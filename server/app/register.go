package app

import (
	"context"

	"google.golang.org/grpc"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
	"lixivium.example/server/translate"
)

// Register offers a service to callers of a gRPC server. Errors are shortened
// to what every gRPC client accepts; nothing else is changed or added.
func Register(r grpc.ServiceRegistrar, s Service) {
	lixiviumv1.RegisterFormulationServiceServer(r, &formulationDoor{service: s})
	lixiviumv1.RegisterCatalogServiceServer(r, &catalogDoor{service: s})
}

type formulationDoor struct {
	lixiviumv1.UnimplementedFormulationServiceServer
	service Service
}

func (d *formulationDoor) Formulate(ctx context.Context, q *lixiviumv1.FormulateRequest) (*lixiviumv1.FormulateResponse, error) {
	return forWire(d.service.Formulate(ctx, q))
}

func (d *formulationDoor) Scale(ctx context.Context, q *lixiviumv1.ScaleRequest) (*lixiviumv1.ScaleResponse, error) {
	return forWire(d.service.Scale(ctx, q))
}

func (d *formulationDoor) SwapFat(ctx context.Context, q *lixiviumv1.SwapFatRequest) (*lixiviumv1.SwapFatResponse, error) {
	return forWire(d.service.SwapFat(ctx, q))
}

func (d *formulationDoor) ReconcileWeights(ctx context.Context, q *lixiviumv1.ReconcileWeightsRequest) (*lixiviumv1.ReconcileWeightsResponse, error) {
	return forWire(d.service.ReconcileWeights(ctx, q))
}

func (d *formulationDoor) Cost(ctx context.Context, q *lixiviumv1.CostRequest) (*lixiviumv1.CostResponse, error) {
	return forWire(d.service.Cost(ctx, q))
}

type catalogDoor struct {
	lixiviumv1.UnimplementedCatalogServiceServer
	service Service
}

func (d *catalogDoor) ListAdditives(ctx context.Context, q *lixiviumv1.ListAdditivesRequest) (*lixiviumv1.ListAdditivesResponse, error) {
	return forWire(d.service.ListAdditives(ctx, q))
}

func (d *catalogDoor) ListPlugins(ctx context.Context, q *lixiviumv1.ListPluginsRequest) (*lixiviumv1.ListPluginsResponse, error) {
	return forWire(d.service.ListPlugins(ctx, q))
}

func (d *catalogDoor) ListFats(ctx context.Context, q *lixiviumv1.ListFatsRequest) (*lixiviumv1.ListFatsResponse, error) {
	return forWire(d.service.ListFats(ctx, q))
}

func (d *catalogDoor) ListWaterReferences(ctx context.Context, q *lixiviumv1.ListWaterReferencesRequest) (*lixiviumv1.ListWaterReferencesResponse, error) {
	return forWire(d.service.ListWaterReferences(ctx, q))
}

func (d *catalogDoor) ListFindingCodes(ctx context.Context, q *lixiviumv1.ListFindingCodesRequest) (*lixiviumv1.ListFindingCodesResponse, error) {
	return forWire(d.service.ListFindingCodes(ctx, q))
}

func (d *catalogDoor) GetVersions(ctx context.Context, q *lixiviumv1.GetVersionsRequest) (*lixiviumv1.GetVersionsResponse, error) {
	return forWire(d.service.GetVersions(ctx, q))
}

func forWire[A any](answer *A, err error) (*A, error) {
	return answer, translate.Shortened(err)
}
