package lye

import (
	"fmt"
	"math"
	"slices"
)

// builder makes curves and surfaces of rows. The first fault found sticks.
type builder struct {
	rows map[string][]row
	err  error
}

func (b *builder) fail(format string, args ...any) {
	if b.err == nil {
		b.err = fmt.Errorf(format, args...)
	}
}

// grid turns rows of strength, temperature and density into a full surface,
// whatever their order.
func (b *builder) grid(name string) *grid {
	g := new(grid)
	all := b.rows[name]
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
		b.fail("%s is not a full grid", name)
	}
	return g
}

// points turns the rows that pick answers with numbers for into a line; pick
// leaves a row out by x = NaN.
func (b *builder) points(name string, pick func(row) (x, y float64)) line {
	var l line
	for _, r := range b.rows[name] {
		x, y := pick(r)
		if math.IsNaN(x) {
			continue
		}
		if n := len(l.x); n > 0 && x <= l.x[n-1] {
			b.fail("%s does not rise", name)
		}
		l.x, l.y = append(l.x, x), append(l.y, y)
	}
	if len(l.x) < 2 {
		b.fail("%s is too short", name)
	}
	return l
}

func columns(x, y int) func(row) (float64, float64) {
	return func(r row) (float64, float64) { return r.num[x], r.num[y] }
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

func (b *builder) infiniteDilution(k Kind) float64 {
	for _, r := range b.rows[tableHeat] {
		if r.kind == k && r.num[0] == 0 {
			return r.num[2]
		}
	}
	b.fail("%s has no heat of %v at infinite dilution", tableHeat, k)
	return math.NaN()
}

// shifted lays the temperature surface onto the 20 °C column. Its strengths are
// those of both, so that it stays linear between its own.
func (b *builder) shifted(base, byT *grid) *grid {
	const reference = 20
	if b.err != nil {
		return nil
	}
	out := &grid{w: merged(base.w, byT.w), t: byT.t}
	if slices.Min(base.w) != slices.Min(byT.w) || slices.Max(base.w) != slices.Max(byT.w) {
		b.fail("%s and %s do not cover the same strengths", tableNaOH20, tableNaOHByT)
		return nil
	}
	at20 := line{base.w, base.rho}
	zero := byT.column(reference)
	for _, w := range out.w {
		anchor, _ := at20.at(w)
		for _, t := range out.t {
			out.rho = append(out.rho, anchor+(byT.column(t).density(w)-zero.density(w)))
		}
	}
	return out
}

// merged is the rising union of two sets of knots.
func merged(a, b []float64) []float64 {
	out := slices.Concat(a, b)
	slices.Sort(out)
	return slices.Compact(out)
}
