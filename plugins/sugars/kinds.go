package sugars

import "lixivium.example/plugins/sdk"

// kind is what the rules know of a sugar. Doses in percent of the fats.
type kind struct {
	id, name         string
	low, usual, high float64
	gPerTeaspoon     float64
	// holds is the parameter that says what the product holds besides sugar:
	// its strength, or its water where inWater is set.
	holds   sdk.Parameter
	inWater bool
	// density of what is left when the water is out, g/mL, volumes taken as
	// additive.
	density float64
	// highMol is an upper bound of the alkali taken by a gram of sugar without
	// its water, mol.
	highMol float64
	// heat beyond neutralization, J per g of sugar without its water.
	heat           float64
	stage          sdk.Stage
	sooner, firmer sdk.Band
	reducing       bool    // gives carbon monoxide in strong lye
	brown          bool    // tans the bar
	startC         float64 // start fats and lye no warmer, °C
	basis          sdk.Basis
	source         string
}

func strength(unit string, def float64) sdk.Parameter {
	return sdk.Parameter{Name: "strength_pct", Unit: unit, Min: 20, Max: 100, Default: def}
}

func water(low, high, def float64) sdk.Parameter {
	return sdk.Parameter{Name: "water_pct", Unit: "percent water", Min: low, Max: high, Default: def}
}

// Factors at the usual dose are estimates: slight at nine tenths of the time,
// moderate at six tenths.
var (
	slight   = sdk.Band{Low: 0.8, Typical: 0.9, High: 1}
	moderate = sdk.Band{Low: 0.4, Typical: 0.6, High: 0.85}
)

// Heat is an estimate. One report has a spoon of honey take cooled lye from 34
// to 49 °C, some 500 to 1,400 J per g of honey; complete breakdown of a hexose to
// two acids, about 1,300 J per g with their neutralization, caps it. Half of what
// is possible is used; sugars that do not reduce get a tenth of that.
const (
	reducingHeat = 650.0
	otherHeat    = 100.0
)

// hexoseMol is the alkali that a gram of hexose could take at the very most: two
// mol of acid from each mol of 180.16 g. What it takes in soap is unknown.
const hexoseMol = 2 / 180.16

// kinds are the sugars. Doses stand in trade tutorials and forums that were read.
var kinds = [...]kind{
	{
		id: "sugar", name: "Sugar (sucrose)", low: 0.5, usual: 1, high: 2, gPerTeaspoon: 4.2,
		holds:   strength("percent sugar: 100 for grains, 66.7 for two-to-one syrup", 100),
		density: 1.59, heat: otherHeat, stage: sdk.StageWaterBeforeLye, sooner: slight,
		firmer: sdk.Band{Low: 0.8, Typical: 0.9, High: 1}, startC: 35,
		basis: sdk.CommonPractice, source: "trade tutorials: half to one teaspoon per pound; not a reducing sugar",
	},
	{
		id: "sorbitol", name: "Sorbitol", low: 0.5, usual: 2, high: 3, gPerTeaspoon: 3.35,
		holds:   strength("percent sorbitol: 100 for powder, 70 for the usual solution", 100),
		density: 1.49, heat: otherHeat / 2, stage: sdk.StageWaterBeforeLye,
		firmer: sdk.Band{Low: 0.9, Typical: 0.97, High: 1}, startC: 35,
		basis: sdk.CommonPractice, source: "forums: up to 3 %; as sugar, milder; densities from memory",
	},
	{
		id: "honey", name: "Honey", low: 0.5, usual: 1.5, high: 4.6, gPerTeaspoon: 7, holds: water(10, 30, 18), inWater: true,
		density: 1.56, highMol: hexoseMol, heat: reducingHeat, stage: sdk.StageTrace, sooner: moderate,
		firmer: sdk.Band{Low: 0.75, Typical: 0.88, High: 1}, reducing: true, brown: true, startC: 32,
		basis: sdk.CommonPractice, source: "trade tutorials: a teaspoon to a tablespoon per pound, 17 to 20 % water; upper bound of the alkali from stoichiometry",
	},
	{
		id: "maple-syrup", name: "Maple syrup", low: 0.7, usual: 1.5, high: 4.5, gPerTeaspoon: 6.7, holds: water(20, 50, 33), inWater: true,
		density: 1.6, heat: otherHeat, stage: sdk.StageTrace, sooner: moderate,
		firmer: sdk.Band{Low: 0.8, Typical: 0.9, High: 1}, brown: true, startC: 32,
		basis: sdk.CommonPractice, source: "common practice, as honey; sucrose with hardly any reducing sugar; composition from memory",
	},
	{
		id: "agave-syrup", name: "Agave syrup", low: 0.7, usual: 1.5, high: 4.5, gPerTeaspoon: 6.9, holds: water(15, 50, 25), inWater: true,
		density: 1.6, highMol: hexoseMol, heat: reducingHeat, stage: sdk.StageTrace, sooner: moderate,
		firmer: sdk.Band{Low: 0.75, Typical: 0.88, High: 1}, reducing: true, brown: true, startC: 32,
		basis: sdk.CommonPractice, source: "common practice, as honey; fructose, a reducing sugar; upper bound of the alkali from stoichiometry",
	},
}

var byID = func() map[string]*kind {
	out := map[string]*kind{}
	for i := range kinds {
		out[kinds[i].id] = &kinds[i]
	}
	return out
}()

// water is the share of a dose that is water, 0 to 1.
func (k *kind) water(d sdk.Dose) float64 {
	if k.inWater {
		return d.Parameters[k.holds.Name] / 100
	}
	return 1 - d.Parameters[k.holds.Name]/100
}
