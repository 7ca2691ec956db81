package clays

import "lixivium.example/plugins/sdk"

// kind is what the rules know of a clay. Doses in percent of the fats.
type kind struct {
	id, name         string
	low, usual, high float64
	gPerTeaspoon     float64 // middle of its grades, from memory
	// bound is the water that a gram takes up in batter, and requested what
	// the trade adds back for it, g per g.
	bound, requested float64
	stage            sdk.Stage
	sooner, firmer   sdk.Band
	sandy            bool // sold coarse: sieve
	basis            sdk.Basis
	source           string
}

// density of clay minerals, g/mL, for all of them: 2.6, common practice.
const density = 2.6

// Factors at the usual dose: estimates that put a slight effect at nine tenths
// of the time and a moderate one at six tenths.
var (
	slight       = sdk.Band{Low: 0.8, Typical: 0.9, High: 1}
	moderate     = sdk.Band{Low: 0.4, Typical: 0.6, High: 0.85}
	hardlyFirmer = sdk.Band{Low: 1, Typical: 1.05, High: 1.15}
	somewhat     = sdk.Band{Low: 1, Typical: 1.1, High: 1.25}
)

// kinds are the clays. Doses by the teaspoon per pound of fats stand in trade
// tutorials that were read.
var kinds = [...]kind{
	{
		id: "kaolin", name: "Kaolin", low: 0.5, usual: 1, high: 5, gPerTeaspoon: 2.25, bound: 0.4, requested: 0.4,
		stage: sdk.StageFats, sooner: slight, firmer: hardlyFirmer,
		basis: sdk.PublishedSeen, source: "water of plasticity 36 % (clay data page); doses from trade tutorials, 5 % a ceiling",
	},
	{
		// 5 g of pure water per gram, far less in lye and salt: Clays Clay
		// Miner. 26 (1978) 345 on the loss of swelling.
		id: "bentonite", name: "Bentonite (sodium)", low: 0.5, usual: 1, high: 3, gPerTeaspoon: 3.7, bound: 2, requested: 1.5,
		stage: sdk.StageFats, sooner: moderate, firmer: somewhat,
		basis: sdk.PublishedSeen, source: "5 g water per g in pure water (clay data page), much less in salt water; 2 in lye is an estimate; doses from trade tutorials",
	},
	{
		id: "rhassoul", name: "Rhassoul", low: 0.5, usual: 1.3, high: 3, gPerTeaspoon: 3.25, bound: 1.15, requested: 1.15,
		stage: sdk.StageTrace, sooner: slight, firmer: somewhat, sandy: true,
		basis: sdk.Estimate, source: "water 0.8 to 1.5 g per g is an estimate; doses from trade tutorials",
	},
	{
		id: "french-green", name: "French green clay", low: 0.5, usual: 1.2, high: 3, gPerTeaspoon: 3.25, bound: 1.05, requested: 1.05,
		stage: sdk.StageTrace, sooner: slight, firmer: somewhat,
		basis: sdk.Estimate, source: "water 0.6 to 1.5 g per g is an estimate; doses from trade tutorials",
	},
	{
		id: "rose-clay", name: "Rose clay", low: 0.3, usual: 0.8, high: 2.5, gPerTeaspoon: 2.75, bound: 0.5, requested: 0.5,
		stage: sdk.StageTrace, sooner: slight, firmer: hardlyFirmer,
		basis: sdk.Estimate, source: "water 0.4 to 0.6 g per g is an estimate; doses from trade tutorials",
	},
	{
		id: "fullers-earth", name: "Fuller's earth", low: 0.5, usual: 2, high: 5, gPerTeaspoon: 2.7, bound: 1, requested: 1,
		stage: sdk.StageTrace, sooner: slight, firmer: somewhat,
		basis: sdk.Estimate, source: "water 0.8 to 1.2 g per g is an estimate; doses from trade tutorials",
	},
}

var byID = func() map[string]*kind {
	out := map[string]*kind{}
	for i := range kinds {
		out[kinds[i].id] = &kinds[i]
	}
	return out
}()
