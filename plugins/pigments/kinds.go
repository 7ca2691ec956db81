package pigments

import "lixivium.example/plugins/sdk"

// kind is what the rules know of a color. Doses in percent of the fats.
type kind struct {
	id, name           string
	low, usual, high   float64
	gPerTeaspoon       float64 // middle of its grades, which differ by half either way
	density            float64 // g/mL of the powder's substance
	bound              float64 // water taken up, g per g
	sooner             sdk.Band
	white              bool    // hides the trail; makes rivers most
	opaque             bool    // a pigment that shows rivers too
	stainsAbove        float64 // colors the lather above this dose; 0: not known to
	dye                bool    // dissolves and wanders
	lake               bool
	unstable           bool // changes color in alkali for certain
	switches           bool // has grades for oil and for water
	byWater, dryIsFine bool // wets in water as well; may go in dry
	restMinutes        float64
	basis              sdk.Basis
	source             string
}

// slight is common practice for powders that move trace a little: an estimate
// that puts the usual dose at nine tenths of the time.
var slight = sdk.Band{Low: 0.8, Typical: 0.9, High: 1}

// kinds are the colors. Doses by the teaspoon per pound of fats stand in trade
// tutorials that were read, unless noted; densities and teaspoon weights are
// from memory; rest times are estimates.
var kinds = [...]kind{
	{
		id: "titanium-dioxide", name: "Titanium dioxide", low: 0.2, usual: 0.7, high: 2, gPerTeaspoon: 3.75, density: 4.2,
		sooner: slight, white: true, opaque: true, switches: true, restMinutes: 10,
		basis: sdk.CommonPractice, source: "doses, dispersal and rivers: trade tutorials and a college chemistry column",
	},
	{
		id: "zinc-oxide", name: "Zinc oxide", low: 0.2, usual: 0.7, high: 2, gPerTeaspoon: 2.5, density: 5.6,
		sooner: slight, white: true, opaque: true, restMinutes: 10,
		basis: sdk.CommonPractice, source: "hides less than titanium dioxide (26 against 81 to 100, pigment data page); doses: common practice",
	},
	{
		id: "iron-oxides", name: "Iron oxides", low: 0.05, usual: 0.2, high: 0.7, gPerTeaspoon: 3, density: 5,
		sooner: slight, opaque: true, stainsAbove: 0.7, restMinutes: 5,
		basis: sdk.CommonPractice, source: "trade tutorials: half to three quarters of a teaspoon per pound is strong",
	},
	{
		id: "ultramarines", name: "Ultramarines", low: 0.1, usual: 0.4, high: 1, gPerTeaspoon: 2.85, density: 2.35,
		opaque: true, stainsAbove: 1, byWater: true, restMinutes: 5,
		basis: sdk.CommonPractice, source: "trade tutorials; one batter test without thickening; chemistry from memory",
	},
	{
		id: "chromium-oxide", name: "Chromium oxide green", low: 0.1, usual: 0.3, high: 1, gPerTeaspoon: 5, density: 5.2,
		opaque: true, stainsAbove: 0.6, restMinutes: 5,
		basis: sdk.CommonPractice, source: "trade tutorials: half a teaspoon per pound at most; one batter test without change",
	},
	{
		id: "chromium-hydrated", name: "Hydrated chromium green", low: 0.05, usual: 0.2, high: 0.6, gPerTeaspoon: 2, density: 3.4,
		opaque: true, stainsAbove: 0.6, byWater: true, restMinutes: 5,
		basis: sdk.CommonPractice, source: "common practice: a teaspoon per pound at most",
	},
	{
		// Whether mica speeds the batter at all is disputed.
		id: "mica", name: "Mica colored with oxides", low: 0.2, usual: 0.4, high: 1, gPerTeaspoon: 1.5, density: 3,
		sooner: sdk.Band{Low: 0.85, Typical: 0.95, High: 1}, stainsAbove: 1, dryIsFine: true, restMinutes: 2,
		basis: sdk.CommonPractice, source: "trade tutorials and forums: one to two teaspoons per pound",
	},
	{
		// 1 to 2 g of water per gram, from memory.
		id: "charcoal", name: "Activated charcoal", low: 0.1, usual: 0.4, high: 1.2, gPerTeaspoon: 1.85, density: 1.9, bound: 1.5,
		sooner: slight, stainsAbove: 0.6, restMinutes: 10,
		basis: sdk.CommonPractice, source: "trade tutorials: gray lather above one and a half teaspoons per pound; water taken up from memory",
	},
	{
		id: "lakes", name: "Aluminum lakes of dyes", low: 0.02, usual: 0.06, high: 0.15, gPerTeaspoon: 2, density: 1.9,
		stainsAbove: 0.15, lake: true, restMinutes: 5,
		basis: sdk.CommonPractice, source: "trade tutorials: an eighth to a quarter of a teaspoon per 500 g",
	},
	{
		id: "dyes", name: "Water-soluble dyes", low: 0.005, usual: 0.02, high: 0.1, density: 1.5,
		stainsAbove: 0.1, dye: true, byWater: true,
		basis: sdk.Estimate, source: "behavior from trade tutorials; doses are estimates",
	},
	{
		id: "alkali-unstable", name: "Carmine, iron blue, manganese violet and micas colored with them", low: 0.05, usual: 0.2, high: 0.5, density: 2,
		unstable: true, byWater: true, restMinutes: 5,
		basis: sdk.PublishedFromMemory, source: "chemistry of the pigments in alkali; doses are estimates",
	},
}

var byID = func() map[string]*kind {
	out := map[string]*kind{}
	for i := range kinds {
		out[kinds[i].id] = &kinds[i]
	}
	return out
}()

// waterGrade names the switch of a color that is sold in two grades.
const waterGrade = "water_dispersible"

func (k *kind) additive() sdk.Additive {
	a := sdk.Additive{
		ID: k.id, Name: k.name, LowOfFatsPct: k.low, HighOfFatsPct: k.high, GPerTeaspoonUS: k.gPerTeaspoon, UsualStage: sdk.StageTrace,
	}
	if k.switches {
		a.Parameters = []sdk.Parameter{{Name: waterGrade, Unit: "0 for the oil-dispersible grade, 1 for the water-dispersible", Max: 1}}
	}
	return a
}
