package engine_test

import (
	"context"
	"encoding/binary"
	"fmt"
	"hash/fnv"
	"math"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"lixivium.example/engine"
)

// bitsGolden holds a line a recipe: a hash of all its figures, then of each kind
// of figure a shorter one, so that a difference has a name.
const bitsGolden = "../testdata/golden/bits.txt"

// bitsRecipes is how many drawn recipes it holds. The demo recipes are kept to
// the bit by the tests of clients/lixi.
const bitsRecipes = 240

// index is the place in a list, which is no part of a figure's kind.
var index = regexp.MustCompile(`\[\d+\]`)

// kindBits are the bits of all figures of one kind in their order.
type kindBits struct {
	kind string
	bits []byte
}

// bitsOf collects the figures that must be the same to the bit on every machine:
// alkali, water, portions, what is weighed, and all of it at another size. What
// comes out of exp and log is left out, for their last bits are the library's:
// intervals, probabilities, trace.
func bitsOf(ctx context.Context, seed int) []kindBits {
	r, balances := anyRecipe.Example(seed), anyBalances.Example(seed)
	out := []kindBits{{"question", nil}}
	out[0].add(figures(r))
	f, err := formulated(r, balances)
	if err != nil {
		return append(out, kindBits{"refused", []byte(err.Error())})
	}
	out = exactFigures(out, "", f)
	fit := rapid.Custom(func(t *rapid.T) *engine.Fit { return drawFit(t, f) }).Example(seed)
	out[0].add(figures(fit))
	s, err := engine.New(nil).Scale(ctx, r, fit, engine.Options{Balances: balances})
	if err != nil {
		return append(out, kindBits{"scaled refused", []byte(err.Error())})
	}
	return exactFigures(append(out, kindBits{"scaled.Factor", binary.BigEndian.AppendUint64(nil, math.Float64bits(s.Factor))}), "scaled", s.Formulation)
}

func (k *kindBits) add(list []figure) {
	for _, x := range list {
		k.bits = binary.BigEndian.AppendUint64(k.bits, math.Float64bits(x.value))
	}
}

// exactFigures adds those of an answer.
func exactFigures(out []kindBits, at string, f *engine.Formulation) []kindBits {
	for _, x := range figures(struct {
		Alkali   *engine.AlkaliAnswer
		Water    *engine.WaterAnswer
		Portion  []engine.PortionAnswer
		WeighOut []engine.WeighLine
		Totals   engine.Totals
	}{&f.Alkali, &f.Water, f.Portions, f.WeighOut, f.Totals}) {
		if strings.Contains(x.path, ".Superfat.") && !strings.HasSuffix(x.path, ".Pct") {
			continue
		}
		kind := at + index.ReplaceAllString(x.path, "")
		i := slices.IndexFunc(out, func(k kindBits) bool { return k.kind == kind })
		if i < 0 {
			i = len(out)
			out = append(out, kindBits{kind: kind})
		}
		out[i].add([]figure{x})
	}
	return out
}

// bitsTable answers the drawn recipes and bitsText writes a line a recipe: its number, a hash of everything, and a short
// hash of each kind of figure, - where it has none.
func bitsTable(ctx context.Context) string {
	rows := make([][]kindBits, bitsRecipes)
	for seed := range rows {
		rows[seed] = bitsOf(ctx, seed)
	}
	return bitsText(rows)
}

func bitsText(rows [][]kindBits) string {
	var kinds []string
	for _, row := range rows {
		for _, k := range row {
			if !slices.Contains(kinds, k.kind) {
				kinds = append(kinds, k.kind)
			}
		}
	}
	slices.Sort(kinds)
	var b strings.Builder
	b.WriteString("recipe all " + strings.Join(kinds, " ") + "\n")
	for seed, row := range rows {
		whole := fnv.New64a()
		columns := make([]string, len(kinds))
		for i, kind := range kinds {
			columns[i] = "-"
			if at := slices.IndexFunc(row, func(k kindBits) bool { return k.kind == kind }); at >= 0 {
				part := fnv.New64a()
				part.Write(row[at].bits)
				whole.Write(row[at].bits)
				columns[i] = fmt.Sprintf("%04x", part.Sum64()&0xffff)
			}
		}
		fmt.Fprintf(&b, "%d %016x %s\n", seed, whole.Sum64(), strings.Join(columns, " "))
	}
	return b.String()
}

// otherBits name recipe and kind of figure where two tables differ.
func otherBits(want, got string) []string {
	var out []string
	wants, gots := strings.Split(want, "\n"), strings.Split(got, "\n")
	if wants[0] != gots[0] || len(wants) != len(gots) {
		return []string{"the tables have other kinds of figures, or other recipes"}
	}
	kinds := strings.Fields(wants[0])
	for i := range wants {
		if wants[i] == gots[i] {
			continue
		}
		was, is := strings.Fields(wants[i]), strings.Fields(gots[i])
		for j := range min(len(was), len(is), len(kinds)) {
			if was[j] != is[j] {
				out = append(out, fmt.Sprintf("recipe %d: %s is %s, kept is %s", i-1, kinds[j], is[j], was[j]))
			}
		}
	}
	return out
}

// refusals counts the recipes that are refused.
func refusals(table string) int {
	lines, n := strings.Split(table, "\n"), 0
	at := slices.Index(strings.Fields(lines[0]), "refused")
	for _, l := range lines[1:] {
		if columns := strings.Fields(l); at >= 0 && len(columns) > at && columns[at] != "-" {
			n++
		}
	}
	return n
}

// TestBitsSeeOneBit: one bit in one figure of one recipe is a difference with
// the name of both.
func TestBitsSeeOneBit(t *testing.T) {
	table := func(v float64) string {
		k := kindBits{kind: "weigh"}
		k.add([]figure{{"", v}})
		return bitsText([][]kindBits{{k}})
	}
	found := otherBits(table(136.87), table(math.Nextafter(136.87, 137)))
	if len(found) != 2 || !strings.HasPrefix(found[0], "recipe 0: all is ") || !strings.HasPrefix(found[1], "recipe 0: weigh is ") {
		t.Errorf("got %q", found)
	}
}

// TestBits compares with the bits of the machine that wrote the golden. Another
// question is a change of the draws, other figures to the same question one of
// the engine. LIXI_UPDATE=1 writes them anew and fails all the same.
func TestBits(t *testing.T) {
	got := bitsTable(t.Context())
	want, err := os.ReadFile(bitsGolden)
	if err != nil {
		t.Error(err)
	}
	found := otherBits(string(want), got)
	for _, text := range found[:min(len(found), 20)] {
		t.Error(text)
	}
	if len(found) > 20 {
		t.Errorf("and %d more", len(found)-20)
	}
	if answered := strings.Count(got, "\n") - 1 - refusals(got); answered < 3*bitsRecipes/4 {
		t.Errorf("only %d of %d recipes are answered", answered, bitsRecipes)
	}
	if t.Failed() && os.Getenv("LIXI_UPDATE") == "1" {
		if err := os.WriteFile(bitsGolden, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	t.Logf("%d recipes, %d otherBits", bitsRecipes, len(found))
}
