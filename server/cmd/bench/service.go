package main

import (
	"context"
	"fmt"

	"google.golang.org/protobuf/proto"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// serviceTable compares lixiviumd, asked for a recipe without plugins, with a
// server that sends the same answer prepared: what gRPC costs whatever is
// behind it.
func serviceTable(ctx context.Context, s *settings) error {
	real, err := s.lixiviumd(true)
	if err != nil {
		return err
	}
	defer real.stop()
	rows := [][]string{{"worksheet", "calls at once", "lixiviumd µs", "echo µs", "of the echo's calls", "answer kB"}}
	for _, worksheet := range []bool{false, true} {
		answer, err := real.Formulate(ctx, plain(worksheet))
		if err != nil {
			return err
		}
		echo, err := answering(answer, 0)
		if err != nil {
			return err
		}
		request := plain(worksheet)
		same := func() *lixiviumv1.FormulateRequest { return request }
		for _, atOnce := range []int{1, 32} {
			const calls = 320
			m, err := takeTurns(ctx, s.rounds, callers("real", real, calls, atOnce, same), callers("echo", echo, calls, atOnce, same))
			if err != nil {
				echo.stop()
				return err
			}
			rows = append(rows, []string{
				map[bool]string{false: "off", true: "on"}[worksheet], fmt.Sprint(atOnce), m.us("real"), m.us("echo"), m.ratio("echo", "real"),
				fmt.Sprintf("%.1f", float64(proto.Size(answer))/1000),
			})
		}
		echo.stop()
	}
	return s.table("The service over TCP, ten fats in two portions, beside an echo of the prepared answer:", rows...)
}
