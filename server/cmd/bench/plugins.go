package main

import (
	"context"
	"fmt"
	"os"
	"sync/atomic"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// pluginsTable compares a recipe with doses of four plugins, the same again and
// again or never the same, with the echo and with floors that make the empty
// calls to four bare plugins: one round, and two, since a recipe that was not
// seen before is adjusted and then reviewed.
func pluginsTable(ctx context.Context, s *settings) error {
	real, err := s.lixiviumd(true)
	if err != nil {
		return err
	}
	defer real.stop()
	answer, err := real.Formulate(ctx, dosed(0))
	if err != nil {
		return err
	}
	sockets, err := os.MkdirTemp("", "lxb")
	if err != nil {
		return err
	}
	defer os.RemoveAll(sockets) //nolint:errcheck // sockets of plugins that have left
	var four []string
	for _, name := range []string{"clays", "lactate", "pigments", "sugars"} {
		c, socket, err := s.bare(name, sockets)
		if err != nil {
			return err
		}
		defer c.stop()
		four = append(four, socket)
	}
	var baselines []*door
	for rounds := range 3 {
		d, err := answering(answer, rounds, four...)
		if err != nil {
			return err
		}
		defer d.stop()
		baselines = append(baselines, d)
	}

	request := dosed(0)
	same := func() *lixiviumv1.FormulateRequest { return request }
	var number atomic.Int64
	never := func() *lixiviumv1.FormulateRequest { return dosed(int(number.Add(1))) }
	rows := [][]string{{"calls at once", "echo µs", "one round µs", "two rounds µs", "repeated µs", "never the same µs",
		"repeated of the echo", "never of one round", "never of two rounds"}}
	for _, atOnce := range []int{1, 32} {
		const calls = 128
		m, err := takeTurns(ctx, s.rounds,
			callers("echo", baselines[0], calls, atOnce, same),
			callers("one", baselines[1], calls, atOnce, same),
			callers("two", baselines[2], calls, atOnce, same),
			callers("repeated", real, calls, atOnce, same),
			callers("never", real, calls, atOnce, never))
		if err != nil {
			return err
		}
		rows = append(rows, []string{fmt.Sprint(atOnce), m.us("echo"), m.us("one"), m.us("two"), m.us("repeated"), m.us("never"),
			m.ratio("echo", "repeated"), m.ratio("one", "never"), m.ratio("two", "never")})
	}
	return s.table("The service with doses of four plugins, beside empty calls to the same four processes:", rows...)
}
