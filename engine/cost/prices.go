package cost

import (
	"strconv"
	"strings"

	"github.com/cockroachdb/apd/v3"

	"lixivium.example/engine"
	"lixivium.example/engine/fat"
)

// Materials that every recipe may use.
const (
	water    = "water"
	solution = "-solution"
)

// waterDensity is that of water at 20 °C in g/mL (IAPWS formulation, from
// memory), the one the engine measures water with.
const waterDensity = 0.9982

// Bounds of a pack, g, and of a density, g/mL; beyond them lies a slip of unit.
const (
	leastPackG, mostPackG     = 1e-3, 1e9
	leastDensity, mostDensity = 0.2, 8
)

// book is a price book, checked.
type book struct {
	spec  *PriceBook
	minor int32
	cheap map[string]*pack // by key; never ranged over
}

// pack is a pack, checked.
type pack struct {
	index   int
	spec    *Pack
	key     string
	paid    *apd.Decimal
	usableG *apd.Decimal
	density density
	words   string // what a line says of it; written when first used
}

// density is that of a pack by volume; the zero density is of one by mass.
type density struct {
	gPerML float64
	row    string // of the data; empty: stated
}

// key makes one of the ways to write a name: upper and lower case, spaces.
func key(name string) string {
	return strings.ToLower(strings.Join(strings.Fields(name), " "))
}

// book checks a price book.
func (c *checker) book(p *PriceBook) *book {
	at := place{"prices", -1, ""}
	if p == nil {
		c.add(at, "", engine.ReasonRequired, "There is no price book. State the currency and the packs.")
		return &book{spec: &PriceBook{}}
	}
	b := &book{spec: p, minor: minor(p.CurrencyCode), cheap: map[string]*pack{}}
	c.currency(at, p.CurrencyCode)
	if n := len(p.Packs); n > MaxPacks {
		c.add(at, "packs", engine.ReasonTooMany, strconv.Itoa(n)+" packs; at most "+strconv.Itoa(MaxPacks)+".")
		return b
	}
	same := make(map[Pack]int, len(p.Packs))
	for i := range p.Packs {
		if first, twice := same[p.Packs[i]]; twice {
			c.add(packAt(i), "", engine.ReasonDuplicate, "This pack is packs["+strconv.Itoa(first)+"] once more. Keep one; a pack of another size or price may stand beside it.")
			continue
		}
		same[p.Packs[i]] = i
		if k, ok := c.pack(i, &p.Packs[i]); ok {
			b.take(k)
		}
	}
	return b
}

// take keeps a pack if it is the cheapest so far of its material.
func (b *book) take(k *pack) {
	other := b.cheap[k.key]
	if other == nil || times(k.paid, other.usableG).Cmp(times(other.paid, k.usableG)) < 0 {
		b.cheap[k.key] = k
	}
}

func (c *checker) currency(at place, code string) {
	letters := len(code) == 3 && strings.Trim(strings.ToUpper(code), "ABCDEFGHIJKLMNOPQRSTUVWXYZ") == ""
	switch {
	case code == "":
		c.add(at, "currency_code", engine.ReasonRequired, "State the currency by its code of ISO 4217, such as EUR.")
	case !letters:
		c.add(at, "currency_code", ReasonCurrency, quoted(code)+" is no currency code. Write the three letters of ISO 4217, such as EUR.")
	case code != strings.ToUpper(code):
		c.add(at, "currency_code", ReasonCurrency, quoted(code)+" is not in capitals.", strings.ToUpper(code))
	}
}

// pack checks one pack.
func (c *checker) pack(i int, p *Pack) (*pack, bool) {
	at, before := packAt(i), len(c.list)
	k := &pack{index: i, spec: p, key: key(p.Material)}
	if k.key == "" {
		c.add(at, "material", engine.ReasonRequired, "Say what the pack holds: the id of a fat or additive, naoh, koh, water, or the name of a custom one.")
	} else if len(p.Material) > 200 {
		c.add(at, "material", engine.ReasonTooMany, "The name is longer than 200 characters.")
	}
	price, _ := c.price(at, "price", p.Price, "Write what the pack costs, such as 12.50.")
	k.paid = plus(price, c.amount(at, "freight", p.Freight))
	waste := c.percent(at, "waste_pct", p.WastePct, 90, 0.1, "It is the share of the pack that never reaches a batch.")
	if d, ok := p.DensityGPerML.Get(); ok {
		c.within(at, "density_g_per_ml", d, leastDensity, mostDensity, " g/mL", "It is the density of what the pack holds.")
	}
	c.date(at, p.PriceDate)
	size := c.size(at, k)
	k.usableG = percentOf(size, minus(hundred, waste))
	// Violations beyond the most that are listed were dropped: then nothing counts.
	return k, len(c.list) == before && before < maxViolations
}

// size gives the grams of a pack; 1 where something is wrong.
func (c *checker) size(at place, k *pack) *apd.Decimal {
	q := k.spec.Size
	if !q.Given() || q.Unit.String() == "unknown" {
		c.add(at, "size", engine.ReasonRequired, "State the size of the pack with its unit, such as {kg: 5}.")
		return one
	}
	g := factor(q)
	if q.IsVolume() {
		var ok bool
		if k.density, ok = densityOf(k.spec); !ok {
			c.add(at, "density_g_per_ml", ReasonDensity, "The pack of "+quoted(k.spec.Material)+" is by volume, and no density of it is known. State density_g_per_ml, or the size by mass."+byID(k.spec.Material))
			return one
		}
		if v := k.density.gPerML; !(v >= leastDensity && v <= mostDensity) {
			return one // told already
		}
		g *= k.density.gPerML
	}
	if c.within(at, "size."+q.Unit.String(), q.Value*g, leastPackG, mostPackG, " g", "Look at the size and its unit.").IsZero() {
		return one
	}
	// The range was checked in floats; the size itself is exact.
	exact := times(decimal(q.Value), decimal(factor(q)))
	if q.IsVolume() {
		exact = times(exact, decimal(k.density.gPerML))
	}
	return exact
}

// factor is the factor of a unit to grams or milliliters.
func factor(q engine.Quantity) float64 {
	unit := engine.Quantity{Value: 1, Unit: q.Unit}
	if q.IsVolume() {
		return float64(unit.Milliliters())
	}
	return float64(unit.Grams())
}

// densityOf is the density of a pack by volume: stated, else the catalog's for
// what pours at room temperature.
func densityOf(p *Pack) (density, bool) {
	if d, ok := p.DensityGPerML.Get(); ok {
		return density{gPerML: d}, true
	}
	k := key(p.Material)
	if k == water {
		return density{waterDensity, "defaults/water_density_g_per_ml"}, true
	}
	if f, ok := fat.ByID(k); ok && f.LiquidAt20C && f.Density != nil {
		return density{float64(f.Density.GramsPerML), "fats/" + f.ID + "/density_g_per_ml"}, true
	}
	return density{}, false
}

// date checks a day of the calendar.
func (c *checker) date(at place, s string) {
	if s == "" {
		return
	}
	if len(s) == 10 && s[4] == '-' && s[7] == '-' {
		y, err1 := strconv.Atoi(s[:4])
		m, err2 := strconv.Atoi(s[5:7])
		d, err3 := strconv.Atoi(s[8:])
		if err1 == nil && err2 == nil && err3 == nil && y >= 1 && m >= 1 && m <= 12 && d >= 1 && d <= daysOf(y, m) {
			return
		}
	}
	c.add(at, "price_date", ReasonDate, quoted(s)+" is no day. Write year, month and day, such as 2025-03-31.")
}

func daysOf(year, month int) int {
	switch month {
	case 2:
		if year%4 == 0 && (year%100 != 0 || year%400 == 0) {
			return 29
		}
		return 28
	case 4, 6, 9, 11:
		return 30
	}
	return 31
}

// byID says how a fat is called in a price book, when it goes by another name
// there: packs are looked up by id.
func byID(material string) string {
	f, err := fat.Resolve(material)
	if err != nil || f.ID == material {
		return ""
	}
	return " A fat of the catalog goes by its id: write " + f.ID + "."
}
