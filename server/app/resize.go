package app

import (
	"context"

	"lixivium.example/engine"
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
	"lixivium.example/server/policy"
	"lixivium.example/server/translate"
)

func (s *service) Scale(ctx context.Context, q *lixiviumv1.ScaleRequest) (*lixiviumv1.ScaleResponse, error) {
	return policy.Run(ctx, &s.policy, "Scale", q, s.scale)
}

func (s *service) scale(ctx context.Context, m *lixiviumv1.ScaleRequest) (*lixiviumv1.ScaleResponse, error) {
	q := translate.Scale(m)
	scaled, err := ask(q, func() (*engine.Scaled, error) {
		return s.engine.Scale(ctx, q.Recipe, q.Fit, q.Options)
	})
	if err != nil {
		return nil, err
	}
	return translate.Scaled(scaled), nil
}

func (s *service) SwapFat(ctx context.Context, q *lixiviumv1.SwapFatRequest) (*lixiviumv1.SwapFatResponse, error) {
	return policy.Run(ctx, &s.policy, "SwapFat", q, s.swapFat)
}

func (s *service) swapFat(ctx context.Context, m *lixiviumv1.SwapFatRequest) (*lixiviumv1.SwapFatResponse, error) {
	q := translate.SwapFat(m)
	swapped, err := ask(q, func() (*engine.Swapped, error) {
		return s.engine.SwapFat(ctx, q.Recipe, q.LineID, q.Replacements, q.Options)
	})
	if err != nil {
		return nil, err
	}
	return translate.Swapped(swapped), nil
}
