//go:build mutate

package engine_test

import (
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"
)

const (
	mutationFolder = "../testdata/mutation"
	unnoticedFile  = mutationFolder + "/unnoticed.tsv"
	totalsFile     = mutationFolder + "/totals.tsv"
)

// sensed is a published check and what the engine answers to it now.
type sensed struct {
	*published
	value float64
}

// TestMutation moves each datum up and down by three of its tolerances, with
// everything else as it stands, and looks which published checks then fail. A
// datum is noticed when every move that it can make fails a check. What nothing
// notices is listed in testdata/mutation; the run fails when the list is not
// what was found, in either direction. With LIXI_UPDATE=1 it writes the list and
// fails, so that nobody takes an update for a pass.
func TestMutation(t *testing.T) {
	checks := sensitive(t)
	var unnoticed []string
	totals := map[string]*[2]int{} // data and unnoticed, by table and figure
	for _, group := range touched(t, checks, groups(allData(t))) {
		for _, d := range group.data {
			kind := d.sheet.name + "\t" + d.figure
			if totals[kind] == nil {
				totals[kind] = new([2]int)
			}
			totals[kind][0]++
			seen, missed := "", []string(nil)
			for _, way := range []struct {
				name string
				by   float64
			}{{"up", tolerances}, {"down", -tolerances}} {
				table, ok := d.moved(way.by)
				if !ok {
					continue
				}
				if by := noticing(t, group.checks, d.sheet, table); len(by) > 0 {
					seen += "; " + way.name + " " + shortened(by)
				} else {
					missed = append(missed, way.name)
				}
			}
			if len(missed) > 0 {
				totals[kind][1]++
				unnoticed = append(unnoticed, strings.Join([]string{d.sheet.name, d.name, d.figure, strings.Join(missed, " and ")}, "\t"))
			}
			if seen != "" {
				t.Logf("%s, %s, %s%s", d.sheet.name, d.name, d.figure, seen)
			}
		}
	}
	slices.Sort(unnoticed)
	table := "table\tfigure\tdata\tunnoticed\n"
	data := 0
	for _, kind := range slices.Sorted(maps.Keys(totals)) {
		n := totals[kind]
		data += n[0]
		table += fmt.Sprintf("%s\t%d\t%d\n", kind, n[0], n[1])
		t.Logf("%-60s %4d data, %4d noticed, %4d unnoticed", strings.ReplaceAll(kind, "\t", ": "), n[0], n[0]-n[1], n[1])
	}
	t.Logf("%d data in all, %d noticed, %d unnoticed, by %d checks", data, data-len(unnoticed), len(unnoticed), len(checks))
	asCommitted(t, totalsFile, table)
	asCommitted(t, unnoticedFile, "table\tdatum\tfigure\tunnoticed\n"+strings.Join(unnoticed, "\n")+"\n")
}

// TestMutationLosesNothing proves that the checks left out for a group notice
// none of its data, and that the comparison with the list can fail.
func TestMutationLosesNothing(t *testing.T) {
	checks := sensitive(t)
	some := slices.DeleteFunc(groups(allData(t)), func(g []*datum) bool { return g[0].name != "tucuma-butter" && g[0].name != "C18:1" })
	for _, group := range touched(t, checks, some) {
		if len(group.checks) == 0 || len(group.checks) == len(checks) {
			t.Errorf("%s: %d of %d checks are touched", group.data[0].name, len(group.checks), len(checks))
		}
		for _, d := range group.data {
			table, ok := d.moved(tolerances)
			if !ok {
				continue
			}
			all, found := noticing(t, checks, d.sheet, table), noticing(t, group.checks, d.sheet, table)
			if !slices.Equal(all, found) {
				t.Errorf("%s, %s: noticed by %q, of the touched ones %q", d.name, d.figure, all, found)
			}
		}
	}
	extra, gone := differences("a\nb\n", "b\nc\n")
	if !slices.Equal(extra, []string{"c"}) || !slices.Equal(gone, []string{"a"}) {
		t.Errorf("extra %q, gone %q", extra, gone)
	}
	sensitive(t) // everything was put back
}

// asCommitted compares a file with what was found and names what differs.
func asCommitted(t *testing.T, name, found string) {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil && !os.IsNotExist(err) {
		t.Fatal(err)
	}
	extra, gone := differences(string(data), found)
	if len(extra)+len(gone) == 0 {
		return
	}
	if os.Getenv("LIXI_UPDATE") != "" {
		if err := os.WriteFile(name, []byte(found), 0o644); err != nil {
			t.Fatal(err)
		}
		t.Errorf("%s was rewritten: look at the difference, then run again", name)
		return
	}
	for _, line := range extra {
		t.Errorf("%s lacks what was found: %s", name, strings.ReplaceAll(line, "\t", ", "))
	}
	for _, line := range gone {
		t.Errorf("%s holds what is no longer so: %s", name, strings.ReplaceAll(line, "\t", ", "))
	}
	t.Errorf("look at what LIXI_UPDATE=1 make mutation changes")
}

// differences are the lines found that are not committed, and those committed
// that were not found.
func differences(committed, found string) (extra, gone []string) {
	a, b := strings.Split(committed, "\n"), strings.Split(found, "\n")
	for _, line := range b {
		if !slices.Contains(a, line) {
			extra = append(extra, line)
		}
	}
	for _, line := range a {
		if !slices.Contains(b, line) {
			gone = append(gone, line)
		}
	}
	return extra, gone
}

func shortened(ids []string) string {
	const most = 4
	if len(ids) > most {
		return strings.Join(ids[:most], " ") + fmt.Sprintf(" and %d more", len(ids)-most)
	}
	return strings.Join(ids, " ")
}

// groups are data that tend to be asked about together, a fat with its acids or
// a table of lye, in the order of the tables.
func groups(data []*datum) [][]*datum {
	var order []string
	by := map[string][]*datum{}
	for _, d := range data {
		key := d.sheet.name
		if fatData[key] != nil {
			key, _, _ = strings.Cut(d.name, " ")
		}
		if by[key] == nil {
			order = append(order, key)
		}
		by[key] = append(by[key], d)
	}
	var out [][]*datum
	for _, key := range order {
		out = append(out, by[key])
	}
	return out
}

// sensitive reads the checks; each must hold before anything is moved.
func sensitive(t *testing.T) []sensed {
	t.Helper()
	var out []sensed
	for _, p := range readPublished(t) {
		value, ok := answered(t, &p, p.in)
		if !ok || !p.holds(value) {
			t.Fatalf("%s fails on the data as they stand", p.id)
		}
		out = append(out, sensed{&p, value})
	}
	return out
}

// sensing is a group of data and the checks that one of them may fail.
type sensing struct {
	data   []*datum
	checks []sensed
}

// touched finds the checks of each group by halves: those whose answer does not
// change in a single bit when all data of a half move at once, each by an amount
// of its own, cannot notice one of them.
func touched(t *testing.T, checks []sensed, groups [][]*datum) []sensing {
	t.Helper()
	changed := changedBy(t, checks, slices.Concat(groups...))
	if len(groups) == 1 {
		return []sensing{{groups[0], changed}}
	}
	half := len(groups) / 2
	return append(touched(t, changed, groups[:half]), touched(t, changed, groups[half:])...)
}

func changedBy(t *testing.T, checks []sensed, data []*datum) (out []sensed) {
	t.Helper()
	sheets := map[*sheet][]*datum{}
	for i, d := range data {
		uneven := *d
		uneven.move = func(c cells, by float64) { d.move(c, by*(1+0.137*float64(i%11))) }
		sheets[d.sheet] = append(sheets[d.sheet], &uneven)
	}
	changed := map[string]bool{}
	for _, by := range []float64{1, -1} {
		var restores []func()
		for s, data := range sheets {
			if table, ok := s.with(by, data...); ok {
				restores = append(restores, replaced(t, s, table))
			}
		}
		for _, c := range checks {
			if changed[c.id] {
				continue
			}
			if value, ok := answered(t, c.published, c.in); !ok || value != c.value {
				changed[c.id] = true
			}
		}
		slices.Reverse(restores)
		for _, restore := range restores {
			restore()
		}
	}
	return slices.DeleteFunc(slices.Clone(checks), func(c sensed) bool { return !changed[c.id] })
}

// noticing are the checks that a changed table fails.
func noticing(t *testing.T, checks []sensed, s *sheet, table []byte) (ids []string) {
	t.Helper()
	if len(checks) == 0 {
		return nil
	}
	defer replaced(t, s, table)()
	for _, c := range checks {
		if value, ok := answered(t, c.published, c.in); !ok || !c.holds(value) {
			ids = append(ids, c.id)
		}
	}
	return ids
}

func replaced(t *testing.T, s *sheet, table []byte) func() {
	t.Helper()
	restore, err := s.replace(table)
	if err != nil {
		t.Fatalf("a moved table is refused, so nothing was learned: %v", err)
	}
	return restore
}
