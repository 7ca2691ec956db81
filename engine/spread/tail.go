package spread

import "math"

const (
	edge         = 7.0   // standard deviations beyond which a normal is certain: tails under 2e-12
	stepScale    = 1e-13 // spread, as a multiple of Fat, under which the superfat is taken as certain
	productFloor = 1e-7  // as productLeast, at a superfat far from the best estimate
)

// below is P(superfat < 1-q), with the density of A - qB there (per multiple of
// Fat), before the worst case cuts it. A - qB is t = alkali - q plus rectangles
// plus a normal, symmetrical about t, and P(A - qB > 0) is its distribution
// function at t.
func (s *shape) below(q float64) (p, density float64) {
	t := s.alkali - q
	n, v := s.n, s.rest.at(q)
	var c [maxKept]float64
	widest := 0.0
	for i := range n {
		c[i] = math.Abs(s.kept[i].a - float64(q*s.kept[i].b))
		widest = max(widest, c[i])
	}
	if scale := widest + math.Sqrt(v); scale > stepScale {
		t, v = t/scale, v/scale/scale
		inv := 1 / scale
		for i := range n {
			c[i] *= inv
		}
		n, v = meltAt(&c, n, v)
		p, density = lowerTail(-math.Abs(t), v, &c, n)
		density *= inv
	} else if t == 0 {
		return 0, 0
	}
	if t > 0 {
		p = 1 - p
	}
	return p, density
}

// meltAt is melt for a source that moves alkali and fat together and hardly
// shows at this superfat. The threshold lies so low that what it changes in a
// probability is below 1e-8.
func meltAt(c *[maxKept]float64, n int, v float64) (int, float64) {
	for n > 0 {
		product, least := 1.0, 0
		for i := range n {
			product *= c[i]
			if c[i] < c[least] {
				least = i
			}
		}
		if product >= productFloor {
			break
		}
		n--
		v += float64(c[least]*c[least]) / 3
		c[least] = c[n]
	}
	return n, v
}

// lowerTail is the distribution function at t <= 0 of n rectangles of
// half-widths c plus a normal of variance v, and its density. With G_0 the
// normal's distribution function and G_n its n-fold integral from minus
// infinity, it is
//
//	sum over all signs e of (product of e) G_n(t + sum of e c) / (2^n product of c)
//
// In the lower half most corners lie so far out that they add nothing.
func lowerTail(t, v float64, c *[maxKept]float64, n int) (p, density float64) {
	if v < 1e-30 {
		v = 0
	}
	sigma := math.Sqrt(v)
	far, inv := edge*sigma, 1/sigma
	var corner [1 << maxKept]float64 // in the order of the signs' bits
	corner[0] = t
	norm := 1.0
	for i := range n {
		w := c[i]
		norm *= 2 * w
		for k := range 1 << i {
			y := corner[k]
			corner[k], corner[k|1<<i] = y+w, y-w
		}
	}
	for k, y := range corner[:1<<n] {
		if y <= -far {
			continue
		}
		cdf, g := 1.0, 0.0 // g is sigma times the normal density
		if y < far {
			cdf, g = normal(y * inv)
			g *= sigma
		}
		last, next := cdf, 0.0
		if n == 0 {
			return cdf, g / v
		}
		next = float64(y*cdf) + g
		for j := 2; j <= n; j++ {
			last, next = next, (float64(y*next)+float64(v*last))*reciprocal[j]
		}
		if minus[k] {
			last, next = -last, -next
		}
		p += next
		density += last
	}
	return min(0.5, max(0, p/norm)), max(0, density/norm)
}

var (
	reciprocal = [maxKept + 1]float64{0, 1, 1. / 2, 1. / 3, 1. / 4}
	// minus tells which corners have an odd number of minus signs.
	minus = [1 << maxKept]bool{1: true, 2: true, 4: true, 8: true, 7: true, 11: true, 13: true, 14: true}
)

// normal is the standard normal distribution function and density for |z| up
// to edge, to about 1e-15: one exponential serves both. Rational function of
// Hart and others, Computer Approximations (1968), no. 5666, coefficients from
// memory, checked in the tests against math.Erfc.
func normal(z float64) (cdf, density float64) {
	x := math.Abs(z)
	e := math.Exp(-0.5 * float64(x*x))
	n := float64(3.52624965998911e-2*x) + 0.700383064443688
	n = float64(n*x) + 6.37396220353165
	n = float64(n*x) + 33.912866078383
	n = float64(n*x) + 112.079291497871
	n = float64(n*x) + 221.213596169931
	n = float64(n*x) + 220.206867912376
	d := float64(8.83883476483184e-2*x) + 1.75566716318264
	d = float64(d*x) + 16.064177579207
	d = float64(d*x) + 86.7807322029461
	d = float64(d*x) + 296.564248779674
	d = float64(d*x) + 637.333633378831
	d = float64(d*x) + 793.826512519948
	d = float64(d*x) + 440.413735824752
	cdf = e * n / d
	if z > 0 {
		cdf = 1 - cdf
	}
	return cdf, e * 0.3989422804014327
}
