package spread

import "math"

// FreeCaustic is the superfat, a fraction, at which a fresh bar holds 0.05 %
// free caustic alkali, the limit of IS 2888:2004: 0.105 % for each percent of
// lye excess when all fat has reacted.
const FreeCaustic = -0.005

// Odds is everything a verdict on one superfat needs, all fractions.
type Odds struct {
	Best, Uncertainty   float64 // best estimate and first-order standard uncertainty
	Low, High           float64 // interval of the asked probability
	WorstLow, WorstHigh float64 // every source at its worst end
	Excess              float64 // probability of a superfat below 0
	OverCaustic         float64 // probability of a superfat below FreeCaustic
}

// Odds gives all figures for an interval of probability p (0.95) at once, for
// about the price of the interval.
func (m *Model) Odds(p float64) Odds {
	var s shape
	if !s.prepare(m) {
		return Odds{Excess: 1, OverCaustic: 1}
	}
	return Odds{
		Best:        1 - s.alkali,
		Uncertainty: math.Sqrt(s.all.at(s.alkali)),
		Low:         s.quantile((1 - p) / 2),
		High:        s.quantile((1 + p) / 2),
		WorstLow:    s.low,
		WorstHigh:   s.high,
		Excess:      s.probability(0),
		OverCaustic: s.probability(FreeCaustic),
	}
}
