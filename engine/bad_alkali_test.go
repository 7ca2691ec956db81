package engine_test

import (
	"math"

	"lixivium.example/engine"
)

var (
	nan = math.NaN()
	inf = math.Inf(1)
)

// alkali spoils the alkali.
func alkali(spoil func(*engine.Alkali)) func(*request) {
	return func(q *request) { spoil(&q.Alkali) }
}

// naoh takes sodium hydroxide in another form.
func naoh(s engine.AlkaliStock) func(*request) {
	return alkali(func(a *engine.Alkali) { a.NaOH = &s })
}

func solution(s engine.SolutionStrength) func(*request) {
	return naoh(engine.AlkaliStock{Solution: &s})
}

func made(m engine.MadeStock, holds ...engine.StockContent) func(*request) {
	return naoh(engine.AlkaliStock{Made: &m, AlsoHolds: holds})
}

// weighed states the alkali.
func weighed(q engine.Quantity) func(*request) {
	return alkali(func(a *engine.Alkali) { a.SuperfatPct, a.Given = engine.Optional{}, &engine.GivenAlkali{NaOH: q} })
}

var (
	half    = engine.MadeStock{Solid: engine.InGrams(500), Water: engine.InGrams(500)}
	percent = engine.SolutionStrength{MassPct: engine.Some(50)}
)

// quantities are wrong in the same ways wherever they stand.
var badQuantities = []bad{
	{"mass is not a number", fat0(func(l *engine.FatLine) { l.Mass = engine.InGrams(nan) }), []want{{"recipe.fats[0].mass.g", engine.ReasonNotFinite, "plain number"}}},
	{"mass is infinite", fat0(func(l *engine.FatLine) { l.Mass = engine.Quantity{Value: inf, Unit: engine.Pound} }), []want{{"recipe.fats[0].mass.lb", engine.ReasonNotFinite, "plain number"}}},
	{"mass is minus infinite", fat0(func(l *engine.FatLine) { l.Mass = engine.InGrams(-inf) }), []want{{"recipe.fats[0].mass.g", engine.ReasonNotFinite, "plain number"}}},
	{"mass overflows", fat0(func(l *engine.FatLine) { l.Mass = engine.Quantity{Value: math.MaxFloat64, Unit: engine.Kilogram} }), []want{{"recipe.fats[0].mass.kg", engine.ReasonRange, "Look at the unit"}}},
	{"mass is denormal", fat0(func(l *engine.FatLine) { l.Mass = engine.InGrams(5e-324) }), []want{{"recipe.fats[0].mass.g", engine.ReasonRange, "Look at the unit"}}},
	{"mass is negative", fat0(func(l *engine.FatLine) { l.Mass = engine.InGrams(-700) }), []want{{"recipe.fats[0].mass.g", engine.ReasonRange, "Write the mass that is weighed"}}},
	{"mass is zero", fat0(func(l *engine.FatLine) { l.Mass = engine.InGrams(0) }), []want{{"recipe.fats[0].mass.g", engine.ReasonRange, "Leave the line out"}}},
	{"mass is minus zero", fat0(func(l *engine.FatLine) { l.Mass = engine.InGrams(math.Copysign(0, -1)) }), []want{{"recipe.fats[0].mass.g", engine.ReasonRange, "Leave the line out"}}},
	{"mass of 11 tonnes", fat0(func(l *engine.FatLine) { l.Mass = engine.Quantity{Value: 11000, Unit: engine.Kilogram} }), []want{{"recipe.fats[0].mass.kg", engine.ReasonRange, "Look at the unit"}}},
	{"unit is not known", fat0(func(l *engine.FatLine) { l.Mass = engine.Quantity{Value: 1, Unit: 99} }), []want{{"recipe.fats[0].mass", engine.ReasonUnit, "Use g, kg, oz or lb"}}},
	{"unit of given alkali is not known", weighed(engine.Quantity{Value: 140, Unit: -1}), []want{{"recipe.alkali.given.naoh", engine.ReasonUnit, "Use g, kg, oz or lb"}}},
	{"total by volume", func(q *request) {
		shared(70, 30)(q)
		q.TotalFats = engine.Quantity{Value: 1, Unit: engine.Liter}
	}, []want{{"recipe.total_fats.l", engine.ReasonUnit, "by mass"}}},
}

var badAlkali = []bad{
	{"no superfat", alkali(func(a *engine.Alkali) { a.SuperfatPct = engine.Optional{} }), []want{{"recipe.alkali", engine.ReasonRequired, "State superfat_pct"}}},
	{"superfat and given", alkali(func(a *engine.Alkali) { a.Given = &engine.GivenAlkali{NaOH: engine.InGrams(140)} }), []want{{"recipe.alkali", engine.ReasonConflict, "superfat_pct, or the alkali given"}}},
	{"superfat of -1", alkali(func(a *engine.Alkali) { a.SuperfatPct = engine.Some(-1) }), []want{{"recipe.alkali.superfat_pct", engine.ReasonRange, "Ask for 0 or more"}}},
	{"superfat of 0.05", alkali(func(a *engine.Alkali) { a.SuperfatPct = engine.Some(0.05) }), []want{{"recipe.alkali.superfat_pct", engine.ReasonLikelySlip, "0.05 % or 5 %?"}}},
	{"superfat of 120", alkali(func(a *engine.Alkali) { a.SuperfatPct = engine.Some(120) }), []want{{"recipe.alkali.superfat_pct", engine.ReasonRange, "usually 2 to 8"}}},
	{"superfat is not a number", alkali(func(a *engine.Alkali) { a.SuperfatPct = engine.Some(nan) }), []want{{"recipe.alkali.superfat_pct", engine.ReasonNotFinite, "plain number"}}},
	{"superfat is minus infinite", alkali(func(a *engine.Alkali) { a.SuperfatPct = engine.Some(-inf) }), []want{{"recipe.alkali.superfat_pct", engine.ReasonRange, "Ask for 0 or more"}}},
	{"purity of 0.98", naoh(engine.AlkaliStock{PurityPct: engine.Some(0.98)}), []want{{"recipe.alkali.naoh.purity_pct", engine.ReasonLikelySlip, "98"}}},
	{"purity of 40", naoh(engine.AlkaliStock{PurityPct: engine.Some(40)}), []want{{"recipe.alkali.naoh.purity_pct", engine.ReasonRange, "label"}}},
	{"purity of 101", naoh(engine.AlkaliStock{PurityPct: engine.Some(101)}), []want{{"recipe.alkali.naoh.purity_pct", engine.ReasonRange, "label"}}},
	{"purity is not a number", naoh(engine.AlkaliStock{PurityPct: engine.Some(nan)}), []want{{"recipe.alkali.naoh.purity_pct", engine.ReasonNotFinite, "plain number"}}},
	{"half-width of 30", naoh(engine.AlkaliStock{PurityPct: engine.Some(98), HalfWidthPct: engine.Some(30)}), []want{{"recipe.alkali.naoh.half_width_pct", engine.ReasonRange, "either side"}}},
	{"two forms", naoh(engine.AlkaliStock{PurityPct: engine.Some(98), Made: &half}), []want{{"recipe.alkali.naoh", engine.ReasonConflict, "one form"}}},
	{"koh share twice", alkali(func(a *engine.Alkali) { a.KOHOfMolesPct, a.KOHOfGramsPct = engine.Some(10), engine.Some(12) }), []want{{"recipe.alkali", engine.ReasonConflict, "of the moles or of the grams"}}},
	{"koh share as fraction", alkali(func(a *engine.Alkali) { a.KOHOfMolesPct = engine.Some(0.4) }), []want{{"recipe.alkali.koh_of_moles_pct", engine.ReasonLikelySlip, "40"}}},
	{"koh share of 101", alkali(func(a *engine.Alkali) { a.KOHOfGramsPct = engine.Some(101) }), []want{{"recipe.alkali.koh_of_grams_pct", engine.ReasonRange, "percent of the alkali"}}},
	{"koh share with given", func(q *request) {
		weighed(engine.InGrams(140))(q)
		q.Alkali.KOHOfMolesPct = engine.Some(10)
	}, []want{{"recipe.alkali", engine.ReasonConflict, "follow from the weights"}}},

	{"given nothing", alkali(func(a *engine.Alkali) { a.SuperfatPct, a.Given = engine.Optional{}, &engine.GivenAlkali{} }), []want{{"recipe.alkali.given", engine.ReasonRequired, "naoh, koh or both"}}},
	{"given by the spoon", weighed(engine.Quantity{Value: 9, Unit: engine.TeaspoonUS}), []want{{"recipe.alkali.given.naoh.tsp_us", engine.ReasonSolidByVolume, "Weigh it"}}},
	{"given by the cup", weighed(engine.Quantity{Value: 0.5, Unit: engine.CupUS}), []want{{"recipe.alkali.given.naoh.cup_us", engine.ReasonSolidByVolume, "Weigh it"}}},
	{"given is negative", weighed(engine.InGrams(-140)), []want{{"recipe.alkali.given.naoh.g", engine.ReasonRange, "cannot be negative"}}},
	{"lye by volume without temperature", func(q *request) {
		weighed(engine.Quantity{Value: 300, Unit: engine.Milliliter})(q)
		q.Alkali.NaOH = &engine.AlkaliStock{Solution: &percent}
	}, []want{{"recipe.alkali.given.naoh.ml", engine.ReasonRequired, "temperature_c"}}},

	{"solution without strength", solution(engine.SolutionStrength{TemperatureC: engine.Some(20)}), []want{{"recipe.alkali.naoh.solution", engine.ReasonRequired, "mass_pct"}}},
	{"solution with two strengths", solution(engine.SolutionStrength{MassPct: engine.Some(50), MolPerL: engine.Some(19), TemperatureC: engine.Some(20)}), []want{{"recipe.alkali.naoh.solution", engine.ReasonConflict, "one of mass_pct"}}},
	{"strength as fraction", solution(engine.SolutionStrength{MassPct: engine.Some(0.5)}), []want{{"recipe.alkali.naoh.solution.mass_pct", engine.ReasonLikelySlip, "write 50"}}},
	{"strength of 60", solution(engine.SolutionStrength{MassPct: engine.Some(60)}), []want{{"recipe.alkali.naoh.solution.mass_pct", engine.ReasonRange, "at most about 52"}}},
	{"strength of zero", solution(engine.SolutionStrength{MassPct: engine.Some(0)}), []want{{"recipe.alkali.naoh.solution.mass_pct", engine.ReasonRange, "0"}}},
	{"density of water", solution(engine.SolutionStrength{DensityGPerML: engine.Some(0.9982), TemperatureC: engine.Some(20)}), []want{{"recipe.alkali.naoh.solution.density_g_per_ml", engine.ReasonRange, "0"}}},
	{"no alkali in a liter", solution(engine.SolutionStrength{MolPerL: engine.Some(0), TemperatureC: engine.Some(20)}), []want{{"recipe.alkali.naoh.solution.mol_per_l", engine.ReasonRange, "0"}}},
	{"density without temperature", solution(engine.SolutionStrength{DensityGPerML: engine.Some(1.3)}), []want{{"recipe.alkali.naoh.solution.temperature_c", engine.ReasonRequired, "temperature of the reading"}}},
	{"density of 2", solution(engine.SolutionStrength{DensityGPerML: engine.Some(2), TemperatureC: engine.Some(20)}), []want{{"recipe.alkali.naoh.solution.density_g_per_ml", engine.ReasonRange, "check the reading"}}},
	{"molarity is not a number", solution(engine.SolutionStrength{MolPerL: engine.Some(nan), TemperatureC: engine.Some(20)}), []want{{"recipe.alkali.naoh.solution.mol_per_l", engine.ReasonRange, "finite"}}},
	{"Baume without modulus", solution(engine.SolutionStrength{DegreesBaume: engine.Some(38), TemperatureC: engine.Some(15)}), []want{{"recipe.alkali.naoh.solution.baume_modulus", engine.ReasonRequired, "145"}}},
	{"Baume of 80", solution(engine.SolutionStrength{DegreesBaume: engine.Some(80), BaumeModulus: engine.Some(145), TemperatureC: engine.Some(15)}), []want{{"recipe.alkali.naoh.solution.degrees_baume", engine.ReasonRange, "heavier than water"}}},
	{"Twaddell below zero", solution(engine.SolutionStrength{DegreesTwaddell: engine.Some(-1), TemperatureC: engine.Some(15)}), []want{{"recipe.alkali.naoh.solution.degrees_twaddell", engine.ReasonRange, "Twaddell"}}},
	{"reading at 120 degrees", solution(engine.SolutionStrength{MassPct: engine.Some(50), TemperatureC: engine.Some(120)}), []want{{"recipe.alkali.naoh.solution.temperature_c", engine.ReasonRange, "temperature at which"}}},

	{"made without water", made(engine.MadeStock{Solid: engine.InGrams(500)}), []want{{"recipe.alkali.naoh.made.water", engine.ReasonRequired, "amount with its unit"}}},
	{"made by the cup", made(engine.MadeStock{Solid: engine.Quantity{Value: 2, Unit: engine.CupUS}, Water: engine.InGrams(500)}), []want{{"recipe.alkali.naoh.made.solid.cup_us", engine.ReasonSolidByVolume, "Weigh it"}}},
	{"made of purity 0.98", made(engine.MadeStock{Solid: engine.InGrams(500), Water: engine.InGrams(500), PurityPct: engine.Some(0.98)}), []want{{"recipe.alkali.naoh.made.purity_pct", engine.ReasonLikelySlip, "98"}}},
	{"contents without name", made(half, engine.StockContent{OfStockPct: engine.Some(2)}), []want{{"recipe.alkali.naoh.also_holds[0].name", engine.ReasonRequired, "Name what"}}},
	{"contents without amount", made(half, engine.StockContent{Name: "sugar"}), []want{{"recipe.alkali.naoh.also_holds[0]", engine.ReasonRequired, "mass or of_stock_pct"}}},
	{"contents by mass in a bought lye", naoh(engine.AlkaliStock{Solution: &percent, AlsoHolds: []engine.StockContent{{Name: "sugar", Mass: engine.InGrams(5)}}}), []want{{"recipe.alkali.naoh.also_holds[0].mass", engine.ReasonConflict, "of_stock_pct instead"}}},
	{"contents above the stock", naoh(engine.AlkaliStock{Solution: &percent, AlsoHolds: []engine.StockContent{{Name: "sugar", OfStockPct: engine.Some(50)}, {Name: "salt", OfStockPct: engine.Some(5)}}}), []want{{"recipe.alkali.naoh.also_holds", engine.ReasonSum, "of_stock_pct"}}},
	{"contents of a solid", naoh(engine.AlkaliStock{PurityPct: engine.Some(98), AlsoHolds: []engine.StockContent{{Name: "sugar", OfStockPct: engine.Some(2)}}}), []want{{"recipe.alkali.naoh.also_holds[0]", engine.ReasonConflict, "Write it as a dose"}}},
}
