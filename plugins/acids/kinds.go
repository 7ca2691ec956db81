package acids

import "lixivium.example/plugins/sdk"

// Molar masses, g/mol.
const (
	citricG      = 192.124
	lacticG      = 90.078
	aceticG      = 60.052
	ascorbicG    = 176.124
	waterG       = 18.015
	protonG      = 1.008
	sodiumG      = 22.990
	potassiumG   = 39.098
	waterDensity = 0.998
)

// kind is what the rules know of an acid. Doses in percent of the fats, of the
// product as sold at its default strength.
type kind struct {
	id, name         string
	low, usual, high float64
	gPerTeaspoon     float64
	parameter        sdk.Parameter
	molarG           float64 // of the pure acid
	protons          float64 // alkali taken by a mol of acid
	density          float64 // of the pure acid, g/mL, in solution where it is sold as one
	// offPct is how far the acid in the product may be off, percent of it.
	offPct         float64
	salt           string // its name in a finding's numbers, and in words
	saltWords      string
	sooner, firmer sdk.Band
	basis          sdk.Basis
	source         string
}

// monohydrate is the switch of citric acid's form.
const monohydrate = "monohydrate"

// kinds are the acids. Doses stand in trade tutorials and forums that were read;
// densities and teaspoon weights are from memory; factors are estimates.
var kinds = [...]kind{
	{
		id: "citric-acid", name: "Citric acid", low: 0.1, usual: 1, high: 3, gPerTeaspoon: 4.6,
		parameter: sdk.Parameter{Name: monohydrate, Unit: "0 for anhydrous crystals, 1 for the monohydrate", Max: 1},
		molarG:    citricG, protons: 3, density: 1.665,
		// Pharmacopoeias ask for 99.5 to 100.5 %, from memory; some more for
		// moisture picked up in an open bag.
		offPct: 1, salt: "citrate", saltWords: "citrate",
		firmer: sdk.Band{Low: 1, Typical: 1.03, High: 1.1},
		basis:  sdk.Derived, source: "molar mass: 3 mol of alkali per mol; half-width from memory of pharmacopoeia limits; doses from forums",
	},
	{
		id: "lactic-acid", name: "Lactic acid", low: 0.5, usual: 0.9, high: 1.1, gPerTeaspoon: 5.9,
		parameter: sdk.Parameter{Name: "assay_pct", Unit: "percent lactic acid, titrated after saponification", Min: 20, Max: 100, Default: 88},
		molarG:    lacticG, protons: 1, density: 1.234,
		// One point of assay on a label of 88 %.
		offPct: 1.2, salt: "lactate", saltWords: "lactate, like sodium lactate added as such",
		sooner: sdk.Band{Low: 0.8, Typical: 0.9, High: 1}, firmer: sdk.Band{Low: 1.2, Typical: 1.5, High: 2},
		basis: sdk.Derived, source: "molar mass: 1 mol of alkali per mol, by the assay; half-width an estimate; doses from forums",
	},
	{
		id: "vinegar", name: "Vinegar", low: 10, usual: 15, high: 38, gPerTeaspoon: 5,
		parameter: sdk.Parameter{Name: "acid_pct", Unit: "percent acetic acid on the label", Min: 3, Max: 25, Default: 5},
		molarG:    aceticG, protons: 1, density: 1.17,
		// A label may mean grams per 100 mL, and is rounded.
		offPct: 4, salt: "acetate", saltWords: "acetate, which firms the loaf and helps it out of the mold",
		firmer: sdk.Band{Low: 1.05, Typical: 1.2, High: 1.5},
		basis:  sdk.Derived, source: "molar mass: 1 mol of alkali per mol, by the label; half-width an estimate; doses from forums and tutorials",
	},
	{
		id: "ascorbic-acid", name: "Ascorbic acid", low: 0.05, usual: 0.2, high: 0.5,
		molarG: ascorbicG, protons: 1, density: 1.65,
		// The second proton leaves above pH 11.6 only, and air opens the ring:
		// both stay an upper bound.
		offPct: 1, salt: "ascorbate", saltWords: "ascorbate, which browns in air and alkali",
		basis: sdk.Derived, source: "molar mass: 1 mol of alkali per mol at the pH of soap; doses are estimates",
	},
}

var byID = func() map[string]*kind {
	out := map[string]*kind{}
	for i := range kinds {
		out[kinds[i].id] = &kinds[i]
	}
	return out
}()

// pure is the acid in one gram of the product, g. What is left is water.
func (k *kind) pure(d sdk.Dose) float64 {
	switch {
	case k.parameter.Name == "":
		return 1
	case k.parameter.Name == monohydrate:
		return k.molarG / (k.molarG + d.Parameters[monohydrate]*waterG)
	}
	return d.Parameters[k.parameter.Name] / 100
}
