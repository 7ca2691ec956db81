package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// startTable measures whole processes: a server to its first answer, and lixi
// with a recipe file, beside processes that do next to nothing.
func startTable(ctx context.Context, s *settings) error {
	server, err := s.lixiviumd(true)
	if err != nil {
		return err
	}
	answer, err := server.Formulate(ctx, dosed(0))
	server.stop()
	if err != nil {
		return err
	}
	toFirst := func(name string, open func() (*door, error), q *lixiviumv1.FormulateRequest) contender {
		var d *door
		return contender{name, 1, func(ctx context.Context) (err error) {
			if d, err = open(); err != nil {
				return err
			}
			_, err = d.Formulate(ctx, q)
			return err
		}, func() {
			if d != nil {
				d.stop()
			}
		}}
	}
	folder, err := os.MkdirTemp("", "lxb")
	if err != nil {
		return err
	}
	defer os.RemoveAll(folder) //nolint:errcheck // of the recipe alone
	recipe := filepath.Join(folder, "bar.yaml")
	if err := os.WriteFile(recipe, []byte(`recipe_format: 1
recipe:
  name: Plain bar
  fats:
    - {id: olive-oil, fat: olive-oil, mass: {g: 700}}
    - {id: coconut-oil, fat: coconut-oil, mass: {g: 300}}
  alkali: {superfat_pct: 5}
  water: {measure: {lye_concentration_pct: 33}}
`), 0o600); err != nil {
		return err
	}
	lixi := func(name string, args ...string) contender {
		return contender{name: name, calls: 1, round: func(ctx context.Context) error {
			out, err := exec.CommandContext(ctx, filepath.Join(s.bin, "lixi"), args...).CombinedOutput()
			if err != nil {
				return fmt.Errorf("%w: %s", err, out)
			}
			return nil
		}}
	}
	m, err := takeTurns(ctx, s.rounds,
		toFirst("echo", func() (*door, error) { return answering(answer, 0) }, dosed(0)),
		toFirst("alone", func() (*door, error) { return s.lixiviumd(false) }, plain(false)),
		toFirst("five", func() (*door, error) { return s.lixiviumd(true) }, dosed(0)),
		lixi("help", "--help"),
		lixi("sheet", "formulate", recipe))
	if err != nil {
		return err
	}
	return s.table("From nothing to the first answer, whole processes:",
		[]string{"what", "ms", "beside", "ms", "times as long"},
		[]string{"lixiviumd without plugins", m.ms("alone"), "an echo", m.ms("echo"), m.ratio("alone", "echo")},
		[]string{"lixiviumd with five plugins, four of them asked", m.ms("five"), "an echo", m.ms("echo"), m.ratio("five", "echo")},
		[]string{"lixi formulate, one recipe file", m.ms("sheet"), "lixi --help", m.ms("help"), m.ratio("sheet", "help")},
	)
}
