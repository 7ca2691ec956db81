package engine

import (
	"lixivium.example/engine/fat"
	"lixivium.example/engine/settle"
	"lixivium.example/engine/unit"
)

// plan is a recipe with every name resolved and every range checked: what the
// rest of the engine works from.
type plan struct {
	recipe   *Recipe
	lines    []planLine
	alkali   [settle.Kinds]planAlkali
	given    bool
	doses    []planDose
	portions []planPortion
	water    settle.Water
	// wantsWater: the recipe states its water.
	wantsWater bool
	grant      bool     // water that additives request is added
	byVolume   []string // ids of lines measured by volume
	balances   []scale
	potML      float64 // 0: not stated
	jugML      float64
	// What owners answered beside adjustments.
	fatFactors []FatFactor
	// allowIncomplete: the caller takes an answer without some owners; missing
	// names them, waterUnknown says that no water figure can be answered.
	allowIncomplete bool
	missing         []string
	waterUnknown    bool
}

// judged tells whether the recipe states its alkali. Given is wider: weighed
// masses of any recipe are settled as given.
func (p *plan) judged() bool { return p.recipe.Alkali.Given != nil }

// planLine is a fat line: one part, or those of a premix.
type planLine struct {
	id, name string
	grams    float64
	parts    []planPart
	need     float64 // mol per g
	free     float64 // mol of free acid per g
}

// planPart is a fat as used.
type planPart struct {
	id        string // line id, or line/part
	row       *fat.Fat
	name      string
	key       string  // lots of one key are one source of uncertainty
	share     float64 // fraction of the line
	sv        float64 // mg/g in use
	low, high float64 // ends of the rectangle, at least 3 either side of sv
	extra     float64 // further mg/g it might take; widens upward only
	free      bool
	evidence  Evidence
	acids     []fat.Share
	acidsSV   float64 // saponification and iodine value that the acids give
	acidsIV   float64
	unsap     float64 // percent at most
	certified bool
	path      string     // request path of the value in use, empty for a table value
	bound     upperBound // what fixes extra, where a certificate does
}

// upperBound is the certificate of a wax: it moves the upper bound only.
type upperBound struct {
	path        string // of the certificate; empty: the table's value
	value, half float64
	halfStated  bool
}

// planPortion is a portion of the batter.
type planPortion struct {
	id, name string
	share    float64 // fraction
}

// planAlkali is an alkali as weighed.
type planAlkali struct {
	used     bool
	solution bool
	pure     float64 // fraction of pure hydroxide in what is weighed
	half     float64 // half-width of pure
	stated   bool
	water    float64 // stock: fraction of water
	share    float64 // of the mol, asked superfat
	mol      float64 // given
	contents []stockContent
	tempC    Optional // temperature of the reading
	madeG    float64  // mass of a stock the shop made
	name     string
	path     string // request path of the purity or strength, empty when unstated
}

type stockContent struct {
	name  string
	share float64 // fraction of the stock
}

// molPerG is the need of a fat of saponification value sv, in mol per gram.
func molPerG(sv float64) float64 { return sv / (1000 * unit.MolarMassKOH) }
