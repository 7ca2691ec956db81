package sdk

import (
	"context"

	additivev1 "lixivium.example/proto/lixivium/additive/v1"
)

// service answers the wire with the author's functions.
type service struct {
	additivev1.UnimplementedAdditiveServiceServer
	plugin *Plugin
}

func (s *service) Describe(context.Context, *additivev1.DescribeRequest) (*additivev1.DescribeResponse, error) {
	return manifestMessage(s.plugin), nil
}

func (s *service) Adjust(ctx context.Context, r *additivev1.AdjustRequest) (*additivev1.AdjustResponse, error) {
	if s.plugin.Adjust == nil {
		return &additivev1.AdjustResponse{}, nil
	}
	return answerMessage(s.plugin.Adjust(ctx, question(r))), nil
}

func (s *service) Review(ctx context.Context, r *additivev1.ReviewRequest) (*additivev1.ReviewResponse, error) {
	if s.plugin.Review == nil {
		return &additivev1.ReviewResponse{}, nil
	}
	return findingsMessage(s.plugin.Review(ctx, batch(r.GetBatch()))), nil
}
