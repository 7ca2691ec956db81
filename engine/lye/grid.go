package lye

// grid is a density surface: strength down, temperature across, bilinear
// between knots. Along strength it is exactly linear at any temperature, so it
// can be inverted segment by segment without iterating.
type grid struct {
	w, t []float64 // rising knots, wt% and °C
	rho  []float64 // g/mL, row by row: len(w) × len(t)
}

// column is the surface at one temperature.
type column struct {
	g *grid
	j int
	f float64
}

func (g *grid) column(t float64) column {
	j, f := segment(g.t, t)
	return column{g, j, f}
}

// knot gives the density at the i-th strength.
func (c column) knot(i int) float64 {
	at := i*len(c.g.t) + c.j
	return lerp(c.g.rho[at], c.g.rho[at+1], c.f)
}

// density wants w inside the knots.
func (c column) density(w float64) float64 {
	i, f := segment(c.g.w, w)
	return lerp(c.knot(i), c.knot(i+1), f)
}

// gramsPerL gives the alkali in a liter at the i-th strength.
func (c column) gramsPerL(i int) float64 { return 10 * c.g.w[i] * c.knot(i) }

// bracket finds the segment whose ends enclose v in a quantity that rises with
// strength.
func (c column) bracket(v float64, rising func(column, int) float64) int {
	low, high := 0, len(c.g.w)-1
	for high-low > 1 {
		mid := (low + high) / 2
		if rising(c, mid) <= v {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// segment finds i and the fraction f with x between knots[i] and knots[i+1];
// x must lie inside the knots.
func segment(knots []float64, x float64) (i int, f float64) {
	low, high := 0, len(knots)-1
	for high-low > 1 {
		mid := (low + high) / 2
		if knots[mid] <= x {
			low = mid
		} else {
			high = mid
		}
	}
	return low, (x - knots[low]) / (knots[high] - knots[low])
}

// lerp gives a and b themselves, to the last bit, at f = 0 and 1.
func lerp(a, b, f float64) float64 {
	return float64(a*(1-f)) + float64(b*f)
}

// line is a one-dimensional table, linear between rising knots.
type line struct{ x, y []float64 }

// at answers false outside the knots and for NaN.
func (l line) at(x float64) (float64, bool) {
	if !inside(x, l.x[0], l.x[len(l.x)-1]) {
		return 0, false
	}
	i, f := segment(l.x, x)
	return lerp(l.y[i], l.y[i+1], f), true
}
