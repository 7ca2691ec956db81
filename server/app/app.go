// Package app assembles translation, policy and engine and hands out the
// service as one interface over the contract's messages, without a listener:
// in this process (New) or in another (Dial). Whoever holds a Service need not
// know which, and no rule lives on one way only.
//
// Errors are gRPC status errors on both ways, with the details that the
// contract promises; ReadRefusal reads them.
package app

import (
	"context"
	"runtime"
	"time"

	"github.com/rs/zerolog"

	"lixivium.example/engine"
	"lixivium.example/engine/fat"
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
	"lixivium.example/server/policy"
	"lixivium.example/server/translate"
)

// Version is the version of the server.
const Version = "0.1.0"

// Service is what every door calls: the contract's calls over its own
// messages. It may be used by any number of goroutines.
type Service interface {
	Formulate(context.Context, *lixiviumv1.FormulateRequest) (*lixiviumv1.FormulateResponse, error)
	Scale(context.Context, *lixiviumv1.ScaleRequest) (*lixiviumv1.ScaleResponse, error)
	SwapFat(context.Context, *lixiviumv1.SwapFatRequest) (*lixiviumv1.SwapFatResponse, error)
	ReconcileWeights(context.Context, *lixiviumv1.ReconcileWeightsRequest) (*lixiviumv1.ReconcileWeightsResponse, error)
	Cost(context.Context, *lixiviumv1.CostRequest) (*lixiviumv1.CostResponse, error)
	ListFats(context.Context, *lixiviumv1.ListFatsRequest) (*lixiviumv1.ListFatsResponse, error)
	ListWaterReferences(context.Context, *lixiviumv1.ListWaterReferencesRequest) (*lixiviumv1.ListWaterReferencesResponse, error)
	ListFindingCodes(context.Context, *lixiviumv1.ListFindingCodesRequest) (*lixiviumv1.ListFindingCodesResponse, error)
	ListAdditives(context.Context, *lixiviumv1.ListAdditivesRequest) (*lixiviumv1.ListAdditivesResponse, error)
	ListPlugins(context.Context, *lixiviumv1.ListPluginsRequest) (*lixiviumv1.ListPluginsResponse, error)
	GetVersions(context.Context, *lixiviumv1.GetVersionsRequest) (*lixiviumv1.GetVersionsResponse, error)
}

// Options are what a service is made with. The zero value logs nothing, owns
// no additive and has the default ceiling.
type Options struct {
	Logger zerolog.Logger
	// Additives are the rules of additives. Nil: no additive is owned, and a
	// dose needs the caller's own figures.
	Additives engine.Additives
	// Plugins own additives in place of Additives and can be listed.
	Plugins Plugins
	// DeadlineCeiling is the longest a call may take. Zero: policy's default.
	DeadlineCeiling time.Duration
}

// Refusal is the error of a call, read back.
type Refusal = translate.Refusal

// ReadRefusal reads the error of a call, whichever way it came.
func ReadRefusal(err error) Refusal { return translate.ReadRefusal(err) }

// New makes the service in this process, decorated with policy. It starts
// nothing and needs no closing.
func New(o Options) (Service, error) {
	rules := o.Additives
	if o.Plugins != nil {
		rules = o.Plugins
	}
	return &service{
		policy:  policy.Policy{Logger: o.Logger, DeadlineCeiling: o.DeadlineCeiling},
		engine:  engine.New(rules),
		plugins: o.Plugins,
	}, nil
}

// calculator is the part of the engine that calculates; tests put others in
// its place.
type calculator interface {
	Formulate(context.Context, *engine.Recipe, engine.Options) (*engine.Formulation, error)
	Scale(context.Context, *engine.Recipe, *engine.Fit, engine.Options) (*engine.Scaled, error)
	SwapFat(context.Context, *engine.Recipe, string, []engine.FatLine, engine.Options) (*engine.Swapped, error)
	Reconcile(context.Context, *engine.Recipe, engine.Options, []engine.ActualWeight) (*engine.Reconciliation, error)
}

type service struct {
	policy  policy.Policy
	engine  calculator
	plugins Plugins // nil: none
}

func (s *service) Formulate(ctx context.Context, q *lixiviumv1.FormulateRequest) (*lixiviumv1.FormulateResponse, error) {
	return policy.Run(ctx, &s.policy, "Formulate", q, s.formulate)
}

func (s *service) formulate(ctx context.Context, m *lixiviumv1.FormulateRequest) (*lixiviumv1.FormulateResponse, error) {
	q := translate.Formulate(m)
	f, err := ask(q, func() (*engine.Formulation, error) {
		return s.engine.Formulate(ctx, q.Recipe, q.Options)
	})
	if err != nil {
		s.ownerless(err)
		return nil, err
	}
	return &lixiviumv1.FormulateResponse{Formulation: translate.Formulation(f)}, nil
}

func (s *service) ReconcileWeights(ctx context.Context, q *lixiviumv1.ReconcileWeightsRequest) (*lixiviumv1.ReconcileWeightsResponse, error) {
	return policy.Run(ctx, &s.policy, "ReconcileWeights", q, s.reconcile)
}

func (s *service) reconcile(ctx context.Context, m *lixiviumv1.ReconcileWeightsRequest) (*lixiviumv1.ReconcileWeightsResponse, error) {
	q := translate.ReconcileWeights(m)
	r, err := ask(q, func() (*engine.Reconciliation, error) {
		return s.engine.Reconcile(ctx, q.Recipe, q.Options, q.Actual)
	})
	if err != nil {
		return nil, err
	}
	return translate.Reconciliation(r), nil
}

// ask puts the request to the engine. One that the wire got wrong is put as
// well, so that all that is wrong is said at once; its answer is thrown away.
func ask[A any](q translate.Request, engineCall func() (*A, error)) (*A, error) {
	if q.Recipe == nil {
		return nil, translate.WithViolations(q.Wrong, nil)
	}
	answer, err := engineCall()
	if len(q.Wrong) > 0 {
		return nil, translate.WithViolations(q.Wrong, err)
	}
	return answer, err
}

func (s *service) ListFats(ctx context.Context, q *lixiviumv1.ListFatsRequest) (*lixiviumv1.ListFatsResponse, error) {
	return policy.Run(ctx, &s.policy, "ListFats", q, func(_ context.Context, q *lixiviumv1.ListFatsRequest) (*lixiviumv1.ListFatsResponse, error) {
		return translate.Fats(fat.All(), fat.Names(), q.GetNameContains()), nil
	})
}

func (s *service) ListWaterReferences(ctx context.Context, q *lixiviumv1.ListWaterReferencesRequest) (*lixiviumv1.ListWaterReferencesResponse, error) {
	return policy.Run(ctx, &s.policy, "ListWaterReferences", q, func(context.Context, *lixiviumv1.ListWaterReferencesRequest) (*lixiviumv1.ListWaterReferencesResponse, error) {
		return translate.WaterReferences(engine.WaterReferences()), nil
	})
}

func (s *service) ListFindingCodes(ctx context.Context, q *lixiviumv1.ListFindingCodesRequest) (*lixiviumv1.ListFindingCodesResponse, error) {
	return policy.Run(ctx, &s.policy, "ListFindingCodes", q, func(context.Context, *lixiviumv1.ListFindingCodesRequest) (*lixiviumv1.ListFindingCodesResponse, error) {
		return translate.FindingCodes(engine.FindingCodes()), nil
	})
}

func (s *service) GetVersions(ctx context.Context, q *lixiviumv1.GetVersionsRequest) (*lixiviumv1.GetVersionsResponse, error) {
	return policy.Run(ctx, &s.policy, "GetVersions", q, func(context.Context, *lixiviumv1.GetVersionsRequest) (*lixiviumv1.GetVersionsResponse, error) {
		return &lixiviumv1.GetVersionsResponse{
			ServerVersion: Version,
			EngineVersion: engine.Version,
			DataDigest:    engine.DataDigest(),
			GoVersion:     runtime.Version(),
		}, nil
	})
}
