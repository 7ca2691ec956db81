package host

import (
	"context"
	"slices"

	"google.golang.org/protobuf/proto"

	"lixivium.example/engine"
	additivev1 "lixivium.example/proto/lixivium/additive/v1"
	"lixivium.example/server/host/wire"
)

// Review shows the settled batch to the owner of every dose, and to every
// plugin that watches a fat of the recipe, all at once; those without the
// right to findings are left out. The same batch is remembered as well: a
// recipe that is asked for again costs no call. Errors are those of Adjust.
func (h *Host) Review(ctx context.Context, b *engine.ReviewBatch) (*engine.ReviewAnswer, error) {
	fats := b.Formulation.Fats
	parts, err := concerned[*additivev1.ReviewResponse](ctx, h, b.Doses, func(fat string) bool {
		return slices.ContainsFunc(fats, func(f engine.FatAnswer) bool { return f.FatID == fat })
	})
	if err != nil {
		return nil, err
	}
	parts = slices.DeleteFunc(parts, func(p part[*additivev1.ReviewResponse]) bool {
		return p.failed == nil && !slices.Contains(p.known.manifest.Wants, engine.GrantFindings)
	})
	key := wire.BatchKey(b)
	var m *additivev1.ReviewRequest // made when the first plugin has to be asked
	for i := range parts {
		p := &parts[i]
		if p.failed != nil {
			continue
		}
		s, k := p.s, p.known
		remembered, hit, again := recall(s, s.reviews, &key)
		if hit && !again {
			p.answer = remembered
			continue
		}
		if m == nil {
			m = wire.Batch(b)
		}
		batch := m
		p.later = later(h, func() (*additivev1.ReviewResponse, *trouble) {
			fresh, t := s.review(k, key, batch)
			if !hit {
				return fresh, t
			}
			return confirm(s, remembered, fresh, t, func(a, b *additivev1.ReviewResponse) bool { return proto.Equal(a, b) })
		})
	}
	if err := collect(ctx, parts); err != nil {
		return nil, err
	}
	out := &engine.ReviewAnswer{}
	for i := range parts {
		p := &parts[i]
		if p.failed != nil {
			out.Failures = append(out.Failures, p.failure(b.Doses))
			continue
		}
		out.Findings = append(out.Findings, wire.Findings(p.answer, b)...)
	}
	return out, nil
}

// review asks one plugin and judges what it says.
func (s *supervised) review(k *known, key wire.Key, m *additivev1.ReviewRequest) (*additivev1.ReviewResponse, *trouble) {
	from, r, t := ask(s, key, func(ctx context.Context, api additivev1.AdditiveServiceClient) (*additivev1.ReviewResponse, error) {
		return api.Review(ctx, m)
	})
	if t != nil {
		return nil, t
	}
	if err := wire.CheckFindings(m, r, s.line.Name, k.manifest.Wants); err != nil {
		t = &trouble{ReasonBroken, err.Error()}
		s.breach(t)
		return nil, t
	}
	s.reviews.put(from.digest, key, r, 3*proto.Size(r))
	return r, nil
}
