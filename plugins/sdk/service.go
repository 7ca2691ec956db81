package sdk

import (
	"context"

	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"

	additivev1 "lixivium.example/proto/lixivium/additive/v1"
)

// service answers the wire with the author's functions.
type service struct {
	additivev1.UnimplementedAdditiveServiceServer
	plugin *Plugin
	owned  map[string]bool
}

func newService(p *Plugin) *service {
	s := &service{plugin: p, owned: make(map[string]bool, len(p.Owns))}
	for i := range p.Owns {
		s.owned[p.Owns[i].ID] = true
	}
	return s
}

func (s *service) Describe(context.Context, *additivev1.DescribeRequest) (*additivev1.DescribeResponse, error) {
	return manifestMessage(s.plugin), nil
}

func (s *service) Adjust(ctx context.Context, r *additivev1.AdjustRequest) (*additivev1.AdjustResponse, error) {
	if s.plugin.Adjust == nil {
		return &additivev1.AdjustResponse{}, nil
	}
	// Rules look additives up in tables of their own and need not fear that one is missing there.
	for _, d := range r.GetDoses() {
		if !s.owned[d.GetAdditive()] {
			return nil, status.Errorf(codes.InvalidArgument, "dose %q: the plugin %s does not own the additive %q; ask its owner", d.GetId(), s.plugin.Name, d.GetAdditive())
		}
	}
	return answerMessage(s.plugin.Adjust(ctx, question(r))), nil
}

func (s *service) Review(ctx context.Context, r *additivev1.ReviewRequest) (*additivev1.ReviewResponse, error) {
	if s.plugin.Review == nil {
		return &additivev1.ReviewResponse{}, nil
	}
	return findingsMessage(s.plugin.Review(ctx, batch(r.GetBatch()))), nil
}
