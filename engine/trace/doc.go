// Package trace estimates how soon soap batter comes to trace.
//
// Nobody has measured this in a way that carries over from one kitchen to the
// next, so every figure here is an estimate with a band: the minutes of one
// stated reference batch, times a factor for each thing that makes a batch
// differ from it. Below 1 is sooner. The factors come in words a maker can
// read, each with what it rests on, and nothing else enters the answer.
//
// A band says where a well-meant trial of the batch would land. It is never
// wider than 6 to 1: past that it would say nothing, so wider products are
// drawn in around their typical value, which itself is never moved. What is not
// known about a batch (fats without a fatty acid analysis, an unstated
// temperature) widens the band of its factor and is named in its words.
//
// The package does not read recipes: callers give shares of fatty acid groups,
// the batch strength (all free water counted), temperature and the additives'
// own factors, which they have validated. It leaves to them whether fats are
// melted, false trace, seizing, and what to advise. Fats of one fatty acid
// profile are alike to it, whatever their crystals and minor parts do.
//
// All functions are pure and finite for every input. They use exp, log and
// pow, so their last bits may differ between machines; no weight may rest on
// them.
package trace

import "lixivium.example/engine/fat"

// ReferenceInWords describes the reference batch for people.
const ReferenceInWords = "olive 400 g, palm 300 g, coconut 250 g, castor 50 g; 5 % superfat, 33 % batch strength, " +
	"fats and lye at 38 °C, stick blender in short bursts"

// referenceGroups is the fatty acids of the reference fats in percent by mass,
// from the midpoints of the fat tables; a test reckons them anew.
var referenceGroups = [8]float64{
	fat.C6ToC10: 3.38, fat.C12ToC14: 16.70, fat.C16ToC18Sat: 23.83, fat.C18Mono: 42.13,
	fat.Hydroxy: 4.42, fat.C18Di: 8.63, fat.C18Tri: 0.32, fat.C20Up: 0.59,
}

const (
	referenceSuperfatPct = 5
	referenceStrengthPct = 33
	referenceMixC        = 38
)

// The minutes of the reference batch. Thin and medium are common practice, no
// published source: thin after 3 (1-6), medium 1 later (0.5-3). Thick takes
// 30-60 s more of a running blender (trade tutorials). Left standing is an
// estimate from practice (working times of 10-20 minutes, emulsions that set in
// up to an hour or so).
var (
	referenceThin     = Band{1, 3, 6}
	referenceMedium   = Band{1.5, 4, 9}
	referenceThick    = Band{2, 4.75, 10}
	referenceStanding = Band{12, 30, 72}
)

// Reference is the reference batch, whose factors are all exactly 1.
func Reference() Batch {
	return Batch{
		GroupPct: referenceGroups, KnownPct: 100,
		SuperfatPct: referenceSuperfatPct, StrengthPct: referenceStrengthPct,
		MixC: referenceMixC, MixKnown: true,
	}
}
