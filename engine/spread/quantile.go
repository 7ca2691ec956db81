package spread

import "math"

const (
	// stepEnough ends Newton's method, in superfat (a fraction); stepShare does
	// so as a share of the worst case's width. Both are far below what matters
	// so that rounding (the order of the sources) cannot show by stopping a step
	// earlier; the step after costs one evaluation.
	stepEnough = 1e-9
	stepShare  = 1e-8
	stepFloor  = 1e-14 // rounding of a superfat
	newtonMax  = 12    // steps before plain halving, which always ends
)

// Below is the probability, 0 to 1, that the superfat lies below x, a fraction:
// Below(0) is the probability of lye excess. It is 0 at and below the worst
// case's lower end and 1 at and above its upper end; without any sources it is
// a step behind Best.
func (m *Model) Below(x float64) float64 {
	var s shape
	if !s.prepare(m) {
		return 1
	}
	return s.probability(x)
}

// Quantile is the superfat, a fraction, below which it lies with probability p,
// to 1e-9; 0 and 1, and what lies beyond, give the ends of Worst.
func (m *Model) Quantile(p float64) float64 {
	var s shape
	if !s.prepare(m) {
		return 0
	}
	return s.quantile(p)
}

// Interval is the central interval that holds the superfat with probability p
// (0.95), fractions. It is never wider than Worst.
func (m *Model) Interval(p float64) (low, high float64) {
	var s shape
	if !s.prepare(m) {
		return 0, 0
	}
	return s.quantile((1 - p) / 2), s.quantile((1 + p) / 2)
}

// probability is below, cut at the worst case. NaN gives 1, the harmful answer.
func (s *shape) probability(x float64) float64 {
	if x <= s.low {
		return 0
	}
	if !(x < s.high) {
		return 1
	}
	p, _ := s.below(1 - x)
	return p
}

// quantile is Newton's method inside a bracket. It starts from the normal
// guess, or where that lies outside the worst case, as if all between its ends
// were equally likely. A step that leaves the bracket tries the worst end there
// once, since the cut may have left more than p beyond it, and otherwise halves
// the bracket.
func (s *shape) quantile(p float64) float64 {
	lo, hi := s.low, s.high
	if !(p > 0) {
		return lo
	}
	if !(p < 1) {
		return hi
	}
	enough := max(stepFloor, min(stepEnough, stepShare*(hi-lo)))
	x := s.guess(p)
	if !(x > lo && x < hi) {
		x = lo + float64(p*(hi-lo))
	}
	triedLow, triedHigh := false, false
	for i := 0; hi-lo > enough/16 && i < 60; i++ {
		q := 1 - x
		got, density := s.below(q)
		if got < p {
			lo = max(lo, x)
		} else {
			hi = min(hi, x)
		}
		// The width changes with x too: as if the shape stayed the same.
		slope := density
		if v := s.all.at(q); v > 0 {
			slope *= 1 - (s.alkali-q)*s.all.slope(q)/(2*v)
		}
		next := x - (got-p)/slope
		switch {
		case math.Abs(next-x) < enough:
			return min(hi, max(lo, next))
		case i >= newtonMax || !(slope > 0):
			next = lo + float64((hi-lo)/2)
		case next <= lo && lo == s.low && !triedLow:
			next, triedLow = lo, true
		case next >= hi && hi == s.high && !triedHigh:
			next, triedHigh = hi, true
		case next <= lo || next >= hi:
			next = lo + float64((hi-lo)/2)
		}
		x = next
	}
	return lo + float64((hi-lo)/2)
}

// guess is the quantile as if A - (1-s)B were normal, with the first
// Cornish-Fisher term for its flatness: where (alkali - q)² = z² variance(q).
func (s *shape) guess(p float64) float64 {
	z := math.Sqrt2 * math.Erfinv(float64(2*p)-1)
	z *= max(0.5, 1+float64((float64(z*z)-3)*s.kurtosis)/24)
	zz := float64(z * z)
	a := 1 - float64(zz*s.all.bb)
	b := s.alkali - float64(zz*s.all.ab)
	c := float64(s.alkali*s.alkali) - float64(zz*s.all.aa)
	disc := float64(b*b) - float64(a*c)
	if !(a > 0 && disc >= 0) {
		return 1 - s.alkali + float64(z*math.Sqrt(s.all.at(s.alkali)))
	}
	return 1 - (b-math.Copysign(math.Sqrt(disc), z))/a
}
