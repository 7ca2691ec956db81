package lye

import (
	"math"
	"slices"
)

// densityRows turns rows of strength, temperature and density into a full grid,
// whatever their order.
func densityRows(name string) *grid {
	g := new(grid)
	all := rows(name)
	for _, r := range all {
		g.w = merged(g.w, r.num[:1])
		g.t = merged(g.t, r.num[1:2])
	}
	g.rho = make([]float64, len(g.w)*len(g.t))
	for i := range g.rho {
		g.rho[i] = math.NaN()
	}
	for _, r := range all {
		i, j := slices.Index(g.w, r.num[0]), slices.Index(g.t, r.num[1])
		g.rho[i*len(g.t)+j] = r.num[2]
	}
	if slices.ContainsFunc(g.rho, math.IsNaN) || len(all) != len(g.rho) {
		panic("lye: " + name + " is not a full grid")
	}
	return g
}

// points turns the rows that pick answers with numbers for into a line; pick
// leaves a row out by x = NaN.
func points(name string, pick func(row) (x, y float64)) line {
	var l line
	for _, r := range rows(name) {
		x, y := pick(r)
		if math.IsNaN(x) {
			continue
		}
		if n := len(l.x); n > 0 && x <= l.x[n-1] {
			panic("lye: " + name + " does not rise")
		}
		l.x, l.y = append(l.x, x), append(l.y, y)
	}
	if len(l.x) < 2 {
		panic("lye: " + name + " is too short")
	}
	return l
}

func ofKind(k Kind, x, y int) func(row) (float64, float64) {
	return func(r row) (float64, float64) {
		if r.kind != k {
			return math.NaN(), 0
		}
		return r.num[x], r.num[y]
	}
}

func atStart(start float64) func(row) (float64, float64) {
	return func(r row) (float64, float64) {
		if r.num[1] != start {
			return math.NaN(), 0
		}
		return r.num[0], r.num[2]
	}
}

// merged is the rising union of two sets of knots.
func merged(a, b []float64) []float64 {
	out := slices.Concat(a, b)
	slices.Sort(out)
	return slices.Compact(out)
}
