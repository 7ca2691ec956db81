package trace

import (
	"math"

	"lixivium.example/engine/fat"
)

const classCount = 6

// class is fatty acids that act alike on trace.
type class struct {
	name   string
	groups []fat.Group
	// per is the logarithm of the factor for 100 points more of the class.
	per float64
	// upTo is the percent from which more of the class adds nothing.
	upTo float64
}

// classes hold the order of common practice: palm, coconut, butters and a
// little castor come sooner; refined olive, high-oleic oils and lard later, rice
// bran less so. That lauric fats start readily is in Simmons, The Handbook of
// Soap Manufacture (1908); in one run of stirred tubes at 40 °C babassu and
// mango butter thickened first, castor hours later, liquid oils last, so castor
// helps in small shares only. The sizes are estimates, set so that reports of
// trade tutorials (94 % olive near 5 minutes with hot lye, 80-90 % hard fats
// below 1) fall out. C20 and longer is mostly of one double bond: between.
var classes = [classCount]class{
	{"palmitic and stearic", []fat.Group{fat.C16ToC18Sat}, -2.5, 100},
	{"lauric, myristic and shorter", []fat.Group{fat.C6ToC10, fat.C12ToC14}, -1.8, 100},
	{"oleic", []fat.Group{fat.C18Mono}, 1.5, 100},
	{"ricinoleic (castor)", []fat.Group{fat.Hydroxy}, -3, 10},
	{"linoleic and linolenic", []fat.Group{fat.C18Di, fat.C18Tri}, 0.5, 100},
	{"C20 and longer", []fat.Group{fat.C20Up}, 1, 100},
}

const (
	fatsWeak, fatsStrong = 0.6, 1.4 // the band of the sizes above
	fatsLeast, fatsMost  = 0.25, 5
	// unknownFats is how far fats of unknown make-up may lie from the reference:
	// from coconut or cocoa butter to olive.
	unknownFats = 3.0
)

// part is one class of a batch: its share and the logarithm of its factor.
type part struct {
	class *class
	pct   float64
	more  bool // than the reference batch has
	e     float64
}

func fats(b Batch) Factor {
	f := Factor{
		ID: "fats", Band: one, Basis: BasisEstimate,
		Source: "order of fats from common practice, size of the effect estimated",
	}
	parts, ok := composition(b.GroupPct)
	known := b.KnownPct
	if !ok || !(known > 0) {
		known = 0
	}
	known = math.Min(known, 100) / 100
	if known == 0 {
		f.Name = "fatty acids of the fats not known: taken as the reference fats, wide range"
		f.Band = Band{1 / unknownFats, 1, unknownFats}
		return f
	}
	sum := 0.0
	for _, p := range parts {
		sum += p.e
	}
	e, limited := capped(sum*known, fatsLeast, fatsMost)
	open := math.Pow(unknownFats, 1-known)
	f.Band = effect(e, fatsWeak, fatsStrong).times(Band{1 / open, 1, open})
	f.Name = "fatty acids of the fats"
	if direction(f.Typical) != direction(1) {
		f.Name = fatsInWords(parts, sum)
	}
	f.Name += ": " + direction(f.Typical) + limitInWords(limited)
	if known < 1 {
		f.Name += "; fatty acids of " + percent((1-known)*100) + " of the fats not known, wider range"
	}
	return f
}

// composition compares the classes of a batch with the reference batch. It
// fails for shares that are none.
func composition(groupPct [8]float64) (parts [classCount]part, ok bool) {
	own, ok := classShares(groupPct)
	for i := range parts {
		c := &classes[i]
		e := c.per / 100 * (math.Min(own[i], c.upTo) - math.Min(referenceShares[i], c.upTo))
		parts[i] = part{c, own[i], own[i] > referenceShares[i], e}
	}
	return parts, ok
}

// referenceShares goes through the same arithmetic as a batch, so that the
// reference differs from itself by exactly nothing.
var referenceShares, _ = classShares(referenceGroups)

// classShares gives each class in percent of all fatty acids.
func classShares(groupPct [8]float64) (pct [classCount]float64, ok bool) {
	sum := 0.0
	for _, v := range groupPct {
		if !(v >= 0) {
			return pct, false
		}
		sum += v
	}
	if sum == 0 || !finite(sum) {
		return pct, false
	}
	for i := range classes {
		for _, g := range classes[i].groups {
			pct[i] += float64(groupPct[g] / sum * 100)
		}
	}
	return pct, true
}
