package engine_test

import "lixivium.example/engine"

// measure asks for water in another way.
func measure(m engine.WaterMeasure) func(*request) {
	return func(q *request) { q.Water = &engine.Water{Measure: &m} }
}

func discount(off float64, reference *engine.WaterMeasure) func(*request) {
	return func(q *request) {
		q.Water = &engine.Water{Discount: &engine.WaterDiscount{OffPct: off, Reference: reference}}
	}
}

var usual = &engine.WaterMeasure{OfFatsPct: engine.Some(38)}

var badWater = []bad{
	{"no water", func(q *request) { q.Water = nil }, []want{{"recipe.water", engine.ReasonRequired, "lye_concentration_pct"}}},
	{"water without a measure", func(q *request) { q.Water = &engine.Water{} }, []want{{"recipe.water", engine.ReasonRequired, "a measure or as a discount"}}},
	{"measure and discount", func(q *request) {
		q.Water.Discount = &engine.WaterDiscount{OffPct: 10, Reference: usual}
	}, []want{{"recipe.water", engine.ReasonConflict, "a measure or as a discount"}}},
	{"empty measure", measure(engine.WaterMeasure{}), []want{{"recipe.water.measure", engine.ReasonRequired, "State one of mass"}}},
	{"two measures", measure(engine.WaterMeasure{OfFatsPct: engine.Some(38), WaterPerAlkali: engine.Some(2)}), []want{{"recipe.water.measure", engine.ReasonConflict, "State one of mass"}}},
	{"concentration of 0.33", measure(engine.WaterMeasure{LyeConcentrationPct: engine.Some(0.33)}), []want{{"recipe.water.measure.lye_concentration_pct", engine.ReasonLikelySlip, "write 33"}}},
	{"concentration of 100", measure(engine.WaterMeasure{LyeConcentrationPct: engine.Some(100)}), []want{{"recipe.water.measure.lye_concentration_pct", engine.ReasonRange, "25 to 40"}}},
	{"concentration below zero", measure(engine.WaterMeasure{LyeConcentrationPct: engine.Some(-33)}), []want{{"recipe.water.measure.lye_concentration_pct", engine.ReasonRange, "25 to 40"}}},
	{"concentration is infinite", measure(engine.WaterMeasure{LyeConcentrationPct: engine.Some(inf)}), []want{{"recipe.water.measure.lye_concentration_pct", engine.ReasonNotFinite, "plain number"}}},
	{"water of fats as fraction", measure(engine.WaterMeasure{OfFatsPct: engine.Some(0.38)}), []want{{"recipe.water.measure.water_of_fats_pct", engine.ReasonLikelySlip, "write 38"}}},
	{"water of fats of 300", measure(engine.WaterMeasure{OfFatsPct: engine.Some(300)}), []want{{"recipe.water.measure.water_of_fats_pct", engine.ReasonRange, "25 to 40"}}},
	{"ratio of 33", measure(engine.WaterMeasure{WaterPerAlkali: engine.Some(33)}), []want{{"recipe.water.measure.water_per_alkali_ratio", engine.ReasonRange, "use lye_concentration_pct"}}},
	{"ratio is not a number", measure(engine.WaterMeasure{WaterPerAlkali: engine.Some(nan)}), []want{{"recipe.water.measure.water_per_alkali_ratio", engine.ReasonNotFinite, "plain number"}}},
	{"water of zero grams", measure(engine.WaterMeasure{Mass: engine.InGrams(0)}), []want{{"recipe.water.measure.mass.g", engine.ReasonRange, "zero"}}},
	{"discount without reference", discount(10, nil), []want{{"recipe.water.discount.reference", engine.ReasonNoReference, "six meanings"}}},
	{"discount of 0.2", discount(0.2, usual), []want{{"recipe.water.discount.off_pct", engine.ReasonLikelySlip, "0.2 % or 20 %?"}}},
	{"discount of 100", discount(100, usual), []want{{"recipe.water.discount.off_pct", engine.ReasonRange, "taken off the reference"}}},
	{"discount below zero", discount(-5, usual), []want{{"recipe.water.discount.off_pct", engine.ReasonRange, "taken off the reference"}}},
	{"discount off an empty reference", discount(10, &engine.WaterMeasure{}), []want{{"recipe.water.discount.reference", engine.ReasonRequired, "State one of mass"}}},
}
