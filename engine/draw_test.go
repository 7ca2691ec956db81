package engine_test

import (
	"flag"
	"fmt"
	"math"
	"slices"
	"strconv"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"lixivium.example/engine"
	"lixivium.example/engine/fat"
)

// statedFlags are those of the command line; setting a flag would count too.
var statedFlags = sync.OnceValue(func() map[string]bool {
	stated := map[string]bool{}
	flag.Visit(func(f *flag.Flag) { stated[f.Name] = true })
	return stated
})

// check tries a property n times from a fixed seed, so that a change elsewhere
// cannot make it fail by chance. Other numbers and seeds by flag: -rapid.checks,
// -rapid.seed.
func check(t *testing.T, n int, property func(*rapid.T)) {
	t.Helper()
	for name, value := range map[string]string{"rapid.checks": strconv.Itoa(n), "rapid.seed": "1", "rapid.nofailfile": "true", "rapid.shrinktime": "5s"} {
		if statedFlags()[name] {
			continue
		}
		if err := flag.Set(name, value); err != nil {
			t.Fatal(err)
		}
	}
	rapid.Check(t, property)
}

// The generators hold no state.
var (
	coin    = rapid.Bool()
	unit    = rapid.Float64Range(0, 1)
	twenty  = rapid.IntRange(0, 20)
	chances = rapid.IntRange(0, 99)
	fatID   = rapid.SampledFrom(fatIDs())
	tableID = rapid.SampledFrom([]string{"olive-oil", "coconut-oil", "palm-oil", "castor-oil", "lard", "beeswax"})
)

func fatIDs() []string {
	var ids []string
	for _, f := range fat.All() {
		ids = append(ids, f.ID)
	}
	return ids
}

// number draws from [low, high], half of the time a figure that a maker writes.
func number(t *rapid.T, low, high float64) float64 {
	if coin.Draw(t, "round") {
		v := low + (high-low)*float64(twenty.Draw(t, "figure"))/20
		digits := math.Pow(10, math.Floor(math.Log10(high))-1)
		return min(high, max(low, math.Round(v/digits)*digits))
	}
	return low + (high-low)*unit.Draw(t, "fraction")
}

// chance is true with so many percent.
func chance(t *rapid.T, pct int) bool { return chances.Draw(t, "chance") < pct }

// kind draws 0 to n-1.
func kind(t *rapid.T, n int) int { return rapid.IntRange(0, n-1).Draw(t, "kind") }

// recipes and asked recipes as single draws: a failure then prints one recipe.
var (
	anyRecipe   = rapid.Custom(drawRecipe)
	askedRecipe = rapid.Custom(drawAsked)
	anyBalances = rapid.Custom(drawBalances)
)

// drawRecipe draws a recipe of any kind the engine takes.
func drawRecipe(t *rapid.T) *engine.Recipe {
	r := drawAsked(t)
	if chance(t, 25) {
		giveAlkali(t, r)
	}
	return r
}

// drawAsked draws a recipe with an asked superfat.
func drawAsked(t *rapid.T) *engine.Recipe {
	r := &engine.Recipe{Name: "drawn"}
	total := drawFats(t, r)
	r.Alkali = drawAlkali(t)
	r.Water = drawWater(t, total)
	if n := kind(t, 5); n > 0 {
		shares := drawShares(t, n)
		for i := range n {
			r.Portions = append(r.Portions, engine.Portion{ID: fmt.Sprint("p", i), BaseSharePct: shares[i]})
		}
	}
	for i := range kind(t, 5) {
		r.Doses = append(r.Doses, drawDose(t, r, fmt.Sprint("d", i), total))
	}
	return r
}

// drawShares draws n shares that sum to 100.
func drawShares(t *rapid.T, n int) []float64 {
	shares, sum := make([]float64, n), 0.0
	for i := range shares {
		shares[i] = number(t, 5, 100)
		sum += shares[i]
	}
	rest := 100.0
	for i := range shares[1:] {
		shares[i] = 100 * shares[i] / sum
		rest -= shares[i]
	}
	shares[n-1] = rest
	return shares
}

// drawFats draws 1 to 12 fat lines by mass or by share, and gives their total in
// grams. What counts at its acid value is drawn as makers use it, by little: a
// batch of hardly anything else has no superfat to speak of.
func drawFats(t *rapid.T, r *engine.Recipe) float64 {
	total := 0.0
	for i := range 1 + kind(t, 12) {
		l := drawFat(t, fmt.Sprint("f", i), i > 0)
		g := number(t, 50, 800)
		if hardlyReacts(&l) {
			g /= 20
		}
		total += g
		l.Mass = engine.InGrams(g)
		r.Fats = append(r.Fats, l)
	}
	if coin.Draw(t, "shares") {
		rest := 100.0
		for i := range r.Fats {
			l := &r.Fats[i]
			share := 100 * l.Mass.Value / total
			if i == len(r.Fats)-1 {
				share = rest
			}
			rest -= share
			l.Mass, l.SharePct = engine.Quantity{}, engine.Some(share)
		}
		total = number(t, 100, 5000)
		r.TotalFats = engine.InGrams(total)
	}
	return total
}

// hardlyReacts tells whether any part of a line counts at its acid value.
func hardlyReacts(l *engine.FatLine) bool {
	if l.Premix != nil {
		return slices.ContainsFunc(l.Premix.Fats, func(part engine.FatLine) bool { return hardlyReacts(&part) })
	}
	row, ok := fat.ByID(l.Fat)
	return ok && row.CountsAtAcidValue()
}

// drawFat draws what a line is. The first line is never a wax or a resin, so
// that a batch has something to saponify.
func drawFat(t *rapid.T, id string, waxes bool) engine.FatLine {
	l := engine.FatLine{ID: id}
	switch k := kind(t, 10); {
	case k == 0:
		l.Custom = customFat("own fat "+strconv.Itoa(kind(t, 2)), number(t, 120, 320), number(t, 0, 10))
		l.Custom.FreeAcid = chance(t, 20)
	case k == 1 && waxes:
		l.Premix = &engine.Premix{Name: "premix"}
		n := 1 + kind(t, 3)
		for i, s := range drawShares(t, n) {
			part := engine.FatLine{ID: fmt.Sprint("m", i), Fat: fatID.Draw(t, "fat"), SharePct: engine.Some(s)}
			certify(t, &part)
			l.Premix.Fats = append(l.Premix.Fats, part)
		}
	case waxes:
		l.Fat = fatID.Draw(t, "fat")
		certify(t, &l)
	default:
		l.Fat = rapid.SampledFrom([]string{"olive-oil", "coconut-oil", "lard", "palm-oil"}).Draw(t, "fat")
	}
	return l
}

func certify(t *rapid.T, l *engine.FatLine) {
	if chance(t, 20) {
		l.CertificateSV = &engine.Measured{Value: number(t, 150, 300), HalfWidth: engine.Some(number(t, 0, 5))}
	}
}
