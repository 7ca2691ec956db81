package main

import (
	"context"
	_ "embed"
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"strings"

	"lixivium.example/engine"
)

//go:embed recalculate.py
var recalculate string

// spreadsheetTable sets the engine beside a spreadsheet that works out alkali
// and water of ten fats and nothing else, recalculated by LibreOffice without
// its window: for scale, since the engine's answer holds a good deal more.
func spreadsheetTable(ctx context.Context, s *settings) error {
	const calls = 200
	e, r := engine.New(nil), lines(10)
	m, err := takeTurns(ctx, s.rounds, contender{name: "engine", calls: calls, round: func(ctx context.Context) error {
		for range calls {
			if _, err := e.Formulate(ctx, r, engine.Options{}); err != nil {
				return err
			}
		}
		return nil
	}})
	if err != nil {
		return err
	}
	// The system's Python, which is the one that LibreOffice's bridge is for.
	cmd := exec.CommandContext(ctx, "/usr/bin/python3", "-", strconv.Itoa(s.rounds))
	cmd.Stdin, cmd.Stderr = strings.NewReader(recalculate), os.Stderr
	out, err := cmd.Output()
	if err != nil {
		return fmt.Errorf("%w. It needs LibreOffice Calc and its Python bridge (Debian: libreoffice-calc-nogui, python3-uno)", err)
	}
	var us []float64
	for _, word := range strings.Fields(string(out)) {
		v, err := strconv.ParseFloat(word, 64)
		if err != nil {
			return err
		}
		us = append(us, v)
	}
	return s.table("A spreadsheet for scale, alkali and water of ten fats alone:",
		[]string{"what", "µs"},
		[]string{"the engine, a whole answer", m.us("engine")},
		[]string{"LibreOffice, one recalculation", figure(middle(us))},
	)
}
