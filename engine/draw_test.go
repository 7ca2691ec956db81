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
	zeroOne = rapid.Float64Range(0, 1)
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
// Nothing in the draws may be fused by a compiler: machines must draw the same.
func number(t *rapid.T, low, high float64) float64 {
	if coin.Draw(t, "round") {
		return roundNumber(t, low, high)
	}
	return low + float64((high-low)*zeroOne.Draw(t, "fraction"))
}

// roundNumber draws a figure of at most two digits, such as 500 g or 5 %.
func roundNumber(t *rapid.T, low, high float64) float64 {
	v := low + float64((high-low)*float64(twenty.Draw(t, "figure"))/20)
	digit := 1.0
	for digit*100 <= high {
		digit *= 10
	}
	for digit*10 > high {
		digit /= 10
	}
	return min(high, max(low, written(v, digit)))
}

// written is v in whole digits, and the number that its decimal means.
func written(v, digit float64) float64 {
	if digit < 1 {
		parts := math.Round(1 / digit)
		return math.Round(v*parts) / parts
	}
	return math.Round(v/digit) * digit
}

// chance is true with so many percent.
func chance(t *rapid.T, pct int) bool { return chances.Draw(t, "chance") < pct }

// kind draws 0 to n-1.
func kind(t *rapid.T, n int) int { return rapid.IntRange(0, n-1).Draw(t, "kind") }

// maker draws the figures of one recipe: all round, as half of the recipes are,
// or half round.
type maker struct {
	*rapid.T
	round bool
}

func (m maker) number(low, high float64) float64 {
	if m.round {
		return roundNumber(m.T, low, high)
	}
	return number(m.T, low, high)
}

func (m maker) chance(pct int) bool { return chance(m.T, pct) }
func (m maker) kind(n int) int      { return kind(m.T, n) }

// A recipe and its balances are single draws: a failure then prints one recipe.
var (
	anyRecipe = rapid.Custom(func(t *rapid.T) *engine.Recipe {
		return drawRecipe(maker{t, coin.Draw(t, "round figures")})
	})
	anyBalances = rapid.Custom(drawBalances)
)

// roundName names the recipes of round figures.
const roundName = "drawn in round figures"

// drawRecipe draws a recipe of any kind the engine takes.
func drawRecipe(m maker) *engine.Recipe {
	r := drawAsked(m)
	if coin.Draw(m.T, "judged") && coin.Draw(m.T, "given") { // the other draws prefer small numbers
		giveAlkali(m, r)
	}
	return r
}

// drawAsked draws a recipe with an asked superfat.
func drawAsked(m maker) *engine.Recipe {
	r := &engine.Recipe{Name: "drawn"}
	if m.round {
		r.Name = roundName
	}
	total := drawFats(m, r)
	r.Alkali = drawAlkali(m)
	r.Water = drawWater(m, total)
	if n := m.kind(5); n > 0 {
		shares := drawShares(m, n)
		for i := range n {
			r.Portions = append(r.Portions, engine.Portion{ID: fmt.Sprint("p", i), BaseSharePct: shares[i]})
		}
	}
	for i := range m.kind(5) {
		r.Doses = append(r.Doses, drawDose(m, r, fmt.Sprint("d", i), total))
	}
	return r
}

// drawShares draws n shares that sum to 100.
func drawShares(m maker, n int) []float64 {
	shares := make([]float64, n)
	for i := range shares {
		shares[i] = m.number(5, 100)
	}
	return m.shares(shares)
}

// shares are the shares that weights have, percent: whole ones of round figures.
func (m maker) shares(weights []float64) []float64 {
	sum := 0.0
	for _, w := range weights {
		sum += w
	}
	shares, rest, most := make([]float64, len(weights)), 100.0, 0
	for i, w := range weights {
		shares[i] = 100 * w / sum
		if m.round {
			shares[i] = max(1, math.Round(shares[i]))
		}
		if rest -= shares[i]; shares[i] > shares[most] {
			most = i
		}
	}
	shares[most] += rest
	return shares
}

// drawFats draws 1 to 12 fat lines by mass or by share, and gives their total in
// grams. What counts at its acid value is drawn as makers use it, by little: a
// batch of hardly anything else has no superfat to speak of.
func drawFats(m maker, r *engine.Recipe) float64 {
	total := 0.0
	for i := range 1 + m.kind(12) {
		l := drawFat(m, fmt.Sprint("f", i), i > 0)
		g := m.number(50, 800)
		if hardlyReacts(&l) {
			g /= 20
		}
		total += g
		l.Mass = engine.InGrams(g)
		r.Fats = append(r.Fats, l)
	}
	if coin.Draw(m.T, "shares") {
		weights := make([]float64, len(r.Fats))
		for i := range r.Fats {
			weights[i] = r.Fats[i].Mass.Value
		}
		for i, share := range m.shares(weights) {
			r.Fats[i].Mass, r.Fats[i].SharePct = engine.Quantity{}, engine.Some(share)
		}
		total = m.number(100, 5000)
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
func drawFat(m maker, id string, waxes bool) engine.FatLine {
	l := engine.FatLine{ID: id}
	switch k := m.kind(10); {
	case k == 0:
		l.Custom = customFat("own fat "+strconv.Itoa(m.kind(2)), m.number(120, 320), m.number(0, 10))
		l.Custom.FreeAcid = m.chance(20)
	case k == 1 && waxes:
		l.Premix = &engine.Premix{Name: "premix"}
		n := 1 + m.kind(3)
		for i, s := range drawShares(m, n) {
			part := engine.FatLine{ID: fmt.Sprint("m", i), Fat: fatID.Draw(m.T, "fat"), SharePct: engine.Some(s)}
			certify(m, &part)
			l.Premix.Fats = append(l.Premix.Fats, part)
		}
	case waxes:
		l.Fat = fatID.Draw(m.T, "fat")
		certify(m, &l)
	default:
		l.Fat = rapid.SampledFrom([]string{"olive-oil", "coconut-oil", "lard", "palm-oil"}).Draw(m.T, "fat")
	}
	return l
}

func certify(m maker, l *engine.FatLine) {
	if m.chance(20) {
		l.CertificateSV = &engine.Measured{Value: m.number(150, 300), HalfWidth: engine.Some(m.number(0, 5))}
	}
}
