package engine_test

import (
	"fmt"
	"strings"

	"lixivium.example/engine"
)

func split(shares ...float64) func(*request) {
	return func(q *request) {
		for i, s := range shares {
			q.Portions = append(q.Portions, engine.Portion{ID: fmt.Sprint("p", i), BaseSharePct: s})
		}
	}
}

func weighedOn(b ...engine.Balance) func(*request) {
	return func(q *request) { q.balances = b }
}

var badRest = []bad{
	{"portions sum to 90", split(40, 50), []want{{"recipe.portions", engine.ReasonSum, "Change one by 10"}}},
	{"portion of zero", split(100, 0), []want{{"recipe.portions[1].share_of_base_pct", engine.ReasonRange, "Leave the portion out"}}},
	{"portion below zero", split(-10, 110), []want{{"recipe.portions[0].share_of_base_pct", engine.ReasonRange, "percent of the base"}, {"recipe.portions[1].share_of_base_pct", engine.ReasonRange, "percent of the base"}}},
	{"portion is not a number", split(nan, 100), []want{{"recipe.portions[0].share_of_base_pct", engine.ReasonNotFinite, "plain number"}, {"recipe.portions", engine.ReasonSum, "share_of_base_pct"}}},
	{"51 portions", func(q *request) { q.Portions = make([]engine.Portion, 51) }, []want{{"recipe.portions", engine.ReasonTooMany, "at most 50"}}},
	{"portion id twice", func(q *request) {
		split(40, 60)(q)
		q.Portions[1].ID = "p0"
	}, []want{{"recipe.portions[1].id", engine.ReasonDuplicate, "an id of its own"}}},
	{"color by name", func(q *request) {
		split(100)(q)
		q.Portions[0].ColorSRGBHex = "ivory1"
	}, []want{{"recipe.portions[0].color_srgb_hex", engine.ReasonRange, "six hexadecimal digits"}}},

	{"fats at 200 degrees", func(q *request) { q.Process.FatsC = engine.Some(200) }, []want{{"recipe.process.fats_c", engine.ReasonRange, "100 °F are 38 °C"}}},
	{"storage is not a number", func(q *request) { q.Process.LyeStorageC = engine.Some(nan) }, []want{{"recipe.process.lye_storage_c", engine.ReasonNotFinite, "plain number"}}},
	{"gel is not known", func(q *request) { q.Process.Gel = 7 }, []want{{"recipe.process.gel", engine.ReasonRange, "avoid, leave or force"}}},
	{"pot by mass", func(q *request) { q.Vessels.Pot = engine.InGrams(3000) }, []want{{"recipe.vessels.pot.g", engine.ReasonUnit, "Use ml"}}},
	{"jug of nothing", func(q *request) { q.Vessels.Jug = engine.Quantity{Unit: engine.Liter} }, []want{{"recipe.vessels.jug.l", engine.ReasonRange, "volume of the vessel"}}},
	{"name of 201 letters", func(q *request) { q.Name = strings.Repeat("a", 201) }, []want{{"recipe.name", engine.ReasonTooMany, "200"}}},
	{"cleaning bar of 5 %", func(q *request) { q.CleaningBar = true }, []want{{"recipe.cleaning_bar", engine.ReasonConflict, "Lower the superfat"}}},

	{"21 balances", weighedOn(make([]engine.Balance, 21)...), []want{{"balances", engine.ReasonTooMany, "at most 20"}}},
	{"balance without step", weighedOn(engine.Balance{}), []want{{"balances[0].step", engine.ReasonRequired, "unit"}}},
	{"step of zero", weighedOn(engine.Balance{Step: engine.InGrams(0)}), []want{{"balances[0].step.g", engine.ReasonRange, "zero"}}},
	{"step in milliliters", weighedOn(engine.Balance{Step: engine.Quantity{Value: 1, Unit: engine.Milliliter}}), []want{{"balances[0].step.ml", engine.ReasonUnit, "shows a mass"}}},
	{"step of 2 kg", weighedOn(engine.Balance{Step: engine.InGrams(2000)}), []want{{"balances[0].step", engine.ReasonRange, "Look at the unit"}}},
	{"capacity below a step", weighedOn(engine.Balance{Step: engine.InGrams(1), Capacity: engine.InGrams(0.5)}), []want{{"balances[0].capacity", engine.ReasonConflict, "Look at the units"}}},
	{"second balance", weighedOn(engine.Balance{Step: engine.InGrams(1)}, engine.Balance{Step: engine.InGrams(-1)}), []want{{"balances[1].step.g", engine.ReasonRange, "negative"}}},
}
