package main

import (
	"context"
	"fmt"
	"math"
	"slices"
	"time"
)

// contender is one of the things compared. Its round does a fixed number of
// calls.
type contender struct {
	name  string
	calls int
	round func(context.Context) error
	after func() // nil, or what is to be cleared away untimed
}

// measured holds the microseconds a call of each contender, by round.
type measured map[string][]float64

// takeTurns runs every contender once to warm up and then in turns, forward and
// backward by the round, so that none always follows the same other.
func takeTurns(ctx context.Context, rounds int, all ...contender) (measured, error) {
	m := measured{}
	all = slices.Clone(all)
	for r := -1; r < rounds; r++ {
		for _, c := range all {
			began := time.Now()
			err := c.round(ctx)
			took := time.Since(began)
			if c.after != nil {
				c.after()
			}
			if err != nil {
				return nil, fmt.Errorf("%s: %w", c.name, err)
			}
			if r >= 0 {
				m[c.name] = append(m[c.name], took.Seconds()*1e6/float64(c.calls))
			}
		}
		slices.Reverse(all)
	}
	return m, nil
}

// us gives a median in microseconds.
func (m measured) us(name string) string { return figure(middle(m[name])) }

// ms gives a median in milliseconds.
func (m measured) ms(name string) string { return figure(middle(m[name]) / 1000) }

// ratio gives the median of a/b over the rounds, with its quartiles.
func (m measured) ratio(a, b string) string {
	r := make([]float64, len(m[a]))
	for i := range r {
		r[i] = m[a][i] / m[b][i]
	}
	return fmt.Sprintf("%.2f (%.2f to %.2f)", middle(r), quantile(r, 0.25), quantile(r, 0.75))
}

func middle(v []float64) float64 { return quantile(v, 0.5) }

// quantile is the nearest value at or above the place asked for.
func quantile(v []float64, at float64) float64 {
	s := slices.Sorted(slices.Values(v))
	return s[min(int(at*float64(len(s))), len(s)-1)]
}

// figure writes three significant digits without an exponent.
func figure(v float64) string {
	if v == 0 {
		return "0"
	}
	decimals := max(0, 2-int(math.Floor(math.Log10(math.Abs(v)))))
	unit := math.Pow(10, 2-math.Floor(math.Log10(math.Abs(v))))
	return fmt.Sprintf("%.*f", decimals, math.Round(v*unit)/unit)
}
