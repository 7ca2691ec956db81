package fat

import (
	"maps"
	"strings"
	"testing"
)

// Each fault is put into one table; the loader must name table and line.
func TestLoadRefusesFaults(t *testing.T) {
	for _, c := range []struct{ table, old, new, want string }{
		{"fats.tsv", "id\tname", "id\tnam", "fats.tsv:1: header"},
		{"fats.tsv", "\tbutter\tno\t", "\tbutter\t\t", "neither yes nor no"},
		{"fats.tsv", "\tbutter\t", "\tbuttr\t", "kind \"buttr\" is none of"},
		{"fats.tsv", "\nargan-oil\t", "\nArgan Oil\t", "fats.tsv:3: id \"Argan Oil\" is not lower case"},
		{"fats.tsv", "\nargan-oil\t", "\napricot-kernel-oil\t", "stands twice"},
		{"fats.tsv", "189.8\t190.6\t191.3", "189.8\t190,6\t191.3", "sv_best \"190,6\" is not a figure"},
		{"fats.tsv", "189.8\t190.6\t191.3", "190.8\t190.6\t191.3", "is not between"},
		{"fats.tsv", "189.8\t190.6\t191.3", "189.8\t190.6\t1913", "outside 0-400"},
		{"fats.tsv", "189.8\t190.6\t191.3", "189.8\t190.6\tNaN", "not a figure"},
		{"fats.tsv", "\tijnpr-2012;", "\tnowhere;", "source \"nowhere\""},
		{"fats.tsv", "\tijnpr-2012;", "\t;", "empty entry"},
		{"fats.tsv", "\t100.2\t100.4\t", "\t100.5\t100.4\t", "wrong order"},
		{"sources.tsv", "\nafoa-15b\t", "\nafoa-15b", "2 fields, want 3"},
		{"sources.tsv", "\nagmark-oils\t", "\nafoa-15b\t", "stands twice"},
		{"fatty_acid_constants.tsv", "\nC6:0\t", "\nC4:0\t", "stands twice"},
		{"fatty_acid_constants.tsv", "\t88.106\t", "\t0\t", "molar mass is 0"},
		{"fatty_acid_constants.tsv", "butyric\t4\t", "butyric\tfour\t", "not a whole number"},
		{"fatty_acids.tsv", "apricot-kernel-oil\tC16:0", "apricot-oil\tC16:0", "fat \"apricot-oil\" is not in fats.tsv"},
		{"fatty_acids.tsv", "apricot-kernel-oil\tC16:0", "apricot-kernel-oil\tC16:9", "is not in fatty_acid_constants.tsv"},
		{"fatty_acids.tsv", "apricot-kernel-oil\tC16:1", "apricot-kernel-oil\tC16:0", "C16:0 stands twice"},
		{"fatty_acids.tsv", "C16:0\t5\t7.79\t", "C16:0\t8\t7.79\t", "no percent range"},
		{"fatty_acids.tsv", "C16:0\t5\t7.79\tijnpr-2012", "C16:0\t5\t7.79\t", "no source"},
		{"names.tsv", "\tpalm-oil;palm-kernel-oil", "\tpalm-oil;palm-colonel-oil", "fat \"palm-colonel-oil\""},
		{"names.tsv", "\nghee\tmilk-fat\t", "\nghee\tmilk-fat;lard\t", "needs one fat, or a reason"},
		{"names.tsv", "\nghee\t", "\nPALM\t", "are the same name"},
		{"names.tsv", "\nghee\t", "\nlard\t", "is also a name of lard"},
	} {
		raw := maps.Clone(data.raw)
		text := string(raw[c.table])
		if !strings.Contains(text, c.old) {
			t.Errorf("%s holds no %q to spoil", c.table, c.old)
			continue
		}
		raw[c.table] = []byte(strings.Replace(text, c.old, c.new, 1))
		_, err := load(raw)
		if err == nil || !strings.Contains(err.Error(), c.want) || !strings.Contains(err.Error(), c.table) {
			t.Errorf("%s with %q: %v, want %q", c.table, c.new, err, c.want)
		}
	}
}
