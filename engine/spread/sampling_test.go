package spread

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

const draws = 200_000

func assorted() []*recipe {
	list := []*recipe{
		worked(1000, 0.1), worked(1000, 1), worked(1000, 5), worked(50, 0.1), worked(50, 1), fourteen(),
	}
	one := func(f func(*recipe), superfat float64) {
		r := worked(1000, 1)
		f(r)
		list = append(list, r.superfat(superfat))
	}
	certificate := func(r *recipe) { r.fats[0].svHalf, r.fats[1].svHalf = 1, 1 }
	one(func(r *recipe) {}, 0)
	one(func(r *recipe) {}, 0.02)
	one(func(r *recipe) {}, 0.20)
	one(certificate, 0.01)
	one(func(r *recipe) { r.molar, r.purity, r.purityHalf = koh, 0.90, 0.05 }, 0.05) // one dominant
	one(func(r *recipe) { r.molar, r.purity, r.purityHalf = koh, 0.90, 0.05; certificate(r) }, 0.03)
	one(func(r *recipe) { r.purityHalf = 0; r.stepAlkali, r.stepFat = 0, 0 }, 0.03) // two rectangles only
	one(func(r *recipe) {
		r.purityHalf, r.stepAlkali, r.stepFat = 0, 0, 0
		r.fats = []fatLine{{1000, 190, 6}}
	}, 0.02) // a single rectangle
	one(func(r *recipe) { r.stepFat, r.stepAlkali = 0.01, 10; certificate(r) }, 0.05) // a Twice alone
	one(func(r *recipe) { r.acid, r.acidHalf = 0.3, 0.03 }, 0.05)
	one(func(r *recipe) { r.brought, r.broughtHalf = 0.2, 0.05 }, 0.04)
	one(func(r *recipe) { r.fats = []fatLine{{20, 190, 6}, {10, 256.5, 8.5}}; r.stepFat, r.stepAlkali = 0.1, 1 }, 0.08)
	one(func(r *recipe) { r.fats = slices.Repeat([]fatLine{{50, 195, 6}}, 20) }, 0.02) // twenty alike
	one(func(r *recipe) { r.fats = []fatLine{{900, 190, 3}, {100, 90, 30}} }, 0.06)
	one(func(r *recipe) { r.fats = append(r.fats, fatLine{3, 140, 60}, fatLine{1, 100, 20}); r.stepFat = 0.1 }, -0.01)
	return list
}

func TestAgreesWithSampling(t *testing.T) {
	for i, r := range assorted() {
		rng := rand.New(rand.NewPCG(20080101, uint64(i)))
		sample := make([]float64, draws)
		for k := range sample {
			sample[k] = r.draw(rng)
		}
		slices.Sort(sample)
		m := r.model()
		odds := m.Odds(0.95)
		low, high := m.Interval(0.95)
		if low != odds.Low || high != odds.High {
			t.Errorf("model %d: Interval %v, %v but Odds %v, %v", i, low, high, odds.Low, odds.High)
		}
		for _, end := range []struct {
			got, p float64
		}{{odds.Low, 0.025}, {odds.High, 0.975}, {m.Quantile(0.5), 0.5}, {m.Quantile(0.1), 0.1}} {
			want := sample[int(end.p*draws)]
			d := math.Sqrt(end.p * (1 - end.p) * draws) // standard error of the rank
			se := (sample[int(end.p*draws+d)] - sample[int(end.p*draws-d)]) / 2
			t.Logf("model %2d: p %.3f %.4f sampled %.4f (±%.4f) points", i, end.p, 100*end.got, 100*want, 100*se)
			if math.Abs(end.got-want) > 0.0005+se {
				t.Errorf("model %d: quantile %v is %.6f, sampled %.6f ± %.6f", i, end.p, end.got, want, se)
			}
		}
		for _, at := range []struct{ x, got float64 }{
			{0, odds.Excess}, {FreeCaustic, odds.OverCaustic}, {m.Best() - m.Uncertainty(), m.Below(m.Best() - m.Uncertainty())},
		} {
			k, _ := slices.BinarySearch(sample, at.x)
			if want := float64(k) / draws; math.Abs(at.got-want) > 0.005 {
				t.Errorf("model %d: P(s < %v) is %.5f, sampled %.5f", i, at.x, at.got, want)
			}
		}
	}
}
