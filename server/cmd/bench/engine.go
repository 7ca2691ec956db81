package main

import (
	"context"
	"fmt"
	"math"

	"lixivium.example/engine"
	"lixivium.example/engine/fat"
)

// lines makes a recipe of n fat lines from the whole table of fats.
func lines(n int) *engine.Recipe {
	r := &engine.Recipe{
		Name:   "bench",
		Alkali: engine.Alkali{SuperfatPct: engine.Some(5)},
		Water:  &engine.Water{Measure: &engine.WaterMeasure{LyeConcentrationPct: engine.Some(33)}},
	}
	all := fat.All()
	for i := range n {
		r.Fats = append(r.Fats, engine.FatLine{ID: fmt.Sprint("f", i), Fat: all[i%len(all)].ID, Mass: engine.InGrams(float64(50 + i%7))})
	}
	return r
}

// engineTable measures the engine alone, by the size of the recipe, with and
// without the worksheet. Growth is the exponent between a size and the one
// before it: 1 is in step with the lines.
func engineTable(ctx context.Context, s *settings) error {
	sizes := []int{1, 10, 100, 1000}
	e := engine.New(nil)
	var all []contender
	for _, n := range sizes {
		r := lines(n)
		for _, worksheet := range []bool{false, true} {
			calls := max(1, 2000/n)
			all = append(all, contender{name: engineName(n, worksheet), calls: calls, round: func(ctx context.Context) error {
				for range calls {
					if _, err := e.Formulate(ctx, r, engine.Options{IncludeWorksheet: worksheet}); err != nil {
						return err
					}
				}
				return nil
			}})
		}
	}
	m, err := takeTurns(ctx, s.rounds, all...)
	if err != nil {
		return err
	}
	rows := [][]string{{"fat lines", "µs a call", "growth", "µs with worksheet", "worksheet costs"}}
	for i, n := range sizes {
		growth := ""
		if i > 0 {
			more := middle(m[engineName(n, false)]) / middle(m[engineName(sizes[i-1], false)])
			growth = fmt.Sprintf("%.2f", math.Log(more)/math.Log(float64(n)/float64(sizes[i-1])))
		}
		rows = append(rows, []string{
			fmt.Sprint(n), m.us(engineName(n, false)), growth, m.us(engineName(n, true)),
			"× " + m.ratio(engineName(n, true), engineName(n, false)),
		})
	}
	return s.table("The engine alone, no process and no message:", rows...)
}

func engineName(n int, worksheet bool) string { return fmt.Sprint(n, " lines, worksheet ", worksheet) }
