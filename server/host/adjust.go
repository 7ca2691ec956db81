package host

import (
	"context"
	"reflect"

	"google.golang.org/protobuf/proto"

	"lixivium.example/engine"
	additivev1 "lixivium.example/proto/lixivium/additive/v1"
	"lixivium.example/server/host/wire"
)

// Adjust asks the owner of every dose, and every plugin that watches a fat of
// the recipe, all at once. Read the answer, do not write to it: parts of it are
// remembered. The error is the caller's context or a closed host; what a
// plugin does wrong is a Failure.
func (h *Host) Adjust(ctx context.Context, q *engine.AdjustQuestion) (*engine.AdjustAnswer, error) {
	parts, err := concerned[*wire.Answer](ctx, h, q.Doses, func(fat string) bool { _, ok := q.FatPct[fat]; return ok })
	if err != nil {
		return nil, err
	}
	for i := range parts {
		p := &parts[i]
		if p.failed != nil {
			continue
		}
		s, k := p.s, p.known
		key := wire.QuestionKey(q, p.doses, k.manifest.WatchesFats)
		remembered, hit, again := recall(s, s.answers, &key)
		if hit && !again {
			p.answer = remembered
			continue
		}
		m := wire.Question(q, p.doses, k.manifest.WatchesFats)
		p.later = later(h, func() (*wire.Answer, *trouble) {
			fresh, t := s.adjust(k, key, m)
			if !hit {
				return fresh, t
			}
			return confirm(s, remembered, fresh, t, func(a, b *wire.Answer) bool { return reflect.DeepEqual(a, b) })
		})
	}
	if err := collect(ctx, parts); err != nil {
		return nil, err
	}
	out := &engine.AdjustAnswer{Adjustments: make([]engine.Adjustment, 0, len(q.Doses))}
	for i := range parts {
		p := &parts[i]
		if p.failed != nil {
			out.Failures = append(out.Failures, p.failure(q.Doses))
			continue
		}
		out.Adjustments = append(out.Adjustments, p.answer.Adjustments...)
		out.Rejections = append(out.Rejections, p.answer.Rejections...)
		out.FatFactors = append(out.FatFactors, p.answer.FatFactors...)
	}
	return out, nil
}

// adjust asks one plugin and judges what it says.
func (s *supervised) adjust(k *known, key wire.Key, m *additivev1.AdjustRequest) (*wire.Answer, *trouble) {
	from, r, t := ask(s, key, func(ctx context.Context, api additivev1.AdditiveServiceClient) (*additivev1.AdjustResponse, error) {
		return api.Adjust(ctx, m)
	})
	if t != nil {
		return nil, t
	}
	a, err := wire.ReadAnswer(m, r, k.manifest.Wants)
	if err != nil {
		t = &trouble{ReasonBroken, err.Error()}
		s.breach(t)
		return nil, t
	}
	s.answers.put(from.digest, key, a, 3*proto.Size(r))
	return a, nil
}
