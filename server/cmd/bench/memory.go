package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync/atomic"
	"time"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// settle is how long the server is left alone before its memory is read.
const settle = 2 * time.Second

// memoryTable tells what lixiviumd and its plugins hold after their first
// answer and after many calls, 32 at once: of a hundred, 98 of one recipe
// without plugins and two of recipes never seen before with four.
func memoryTable(ctx context.Context, s *settings) error {
	d, err := s.lixiviumd(true)
	if err != nil {
		return err
	}
	defer d.stop()
	if _, err := d.Formulate(ctx, dosed(0)); err != nil {
		return err
	}
	time.Sleep(settle)
	rows := [][]string{{"after", "lixiviumd MiB", "five plugins MiB"}}
	look := func(when string) error {
		server, plugins, err := resident(d.cmd.Process.Pid)
		rows = append(rows, []string{when, figure(server), figure(plugins)})
		return err
	}
	if err := look("the first answer"); err != nil {
		return err
	}
	one := plain(false)
	var number atomic.Int64
	mixed := func() *lixiviumv1.FormulateRequest {
		if n := number.Add(1); n%50 == 0 {
			return dosed(int(n))
		}
		return one
	}
	calls := max(s.calls/32, 1) * 32
	if err := callers("", d, calls, 32, mixed).round(ctx); err != nil {
		return err
	}
	time.Sleep(settle)
	if err := look(fmt.Sprintf("%d more calls", calls)); err != nil {
		return err
	}
	return s.table("Memory that is resident:", rows...)
}

// resident tells what a process and its children hold, MiB.
func resident(pid int) (own, children float64, err error) {
	if own, err = residentOf(pid); err != nil {
		return 0, 0, err
	}
	tasks, err := filepath.Glob(fmt.Sprintf("/proc/%d/task/*/children", pid))
	if err != nil {
		return 0, 0, err
	}
	for _, t := range tasks {
		raw, err := os.ReadFile(t)
		if err != nil {
			continue // a thread that ended meanwhile
		}
		for _, word := range strings.Fields(string(raw)) {
			id, err := strconv.Atoi(word)
			if err != nil {
				return 0, 0, err
			}
			mib, err := residentOf(id)
			if err != nil {
				return 0, 0, err
			}
			children += mib
		}
	}
	return own, children, nil
}

func residentOf(pid int) (float64, error) {
	raw, err := os.ReadFile(fmt.Sprintf("/proc/%d/statm", pid))
	if err != nil {
		return 0, err
	}
	fields := strings.Fields(string(raw))
	pages, err := strconv.Atoi(fields[1])
	return float64(pages*os.Getpagesize()) / (1 << 20), err
}
