package lye

import (
	"maps"
	"strings"
	"testing"
)

// Each fault is put into one table; the loader must name the table.
func TestLoadRefusesFaults(t *testing.T) {
	for _, c := range []struct{ table, old, new, want string }{
		{tableBoiling, "\nNaOH\t20\t107.9", "\nLiOH\t20\t107.9", ":3: unknown alkali \"LiOH\""},
		{tableBoiling, "\t107.9\t", "\t107,9\t", ":3: "},
		{tableBoiling, "\nNaOH\t20\t107.9", "\nNaOH\t107.9", ":3: 4 columns, want 5"},
		{tableBoiling, "\nNaOH\t25\t", "\nNaOH\t20\t", " does not rise"},
		{tableSaturation, "\nKOH\t51.7\t15", "\nKOH\t51.7\t0", " does not rise"},
		{tableKOH, "\nKOH\t5\t10\t", "\nKOH\t5\t11\t", " is not a full grid"},
		{tableNaOH20, "\nNaOH\t0\t20", "\nNaOH\t0.1\t20", " do not cover the same strengths"},
		{tableHeat, "\nKOH\t0\t25", "\nKOH\t1\t25", " has no heat of KOH at infinite dilution"},
	} {
		raw := maps.Clone(known.raw)
		text := string(raw[c.table])
		if !strings.Contains(text, c.old) {
			t.Errorf("%s holds no %q to spoil", c.table, c.old)
			continue
		}
		raw[c.table] = []byte(strings.Replace(text, c.old, c.new, 1))
		if _, err := load(raw); err == nil || !strings.Contains(err.Error(), c.table) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s with %q: %v, want %q", c.table, c.new, err, c.want)
		}
	}
}
