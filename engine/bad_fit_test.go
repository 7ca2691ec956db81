package engine_test

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"lixivium.example/engine"
	"lixivium.example/engine/mold"
)

// TestBadFit: every size that is none is refused at its field, with the way out.
func TestBadFit(t *testing.T) {
	molds := func(change func(*engine.Mold)) *engine.Fit {
		q := loaf()
		change(&q.Molds.Molds[0])
		return q
	}
	bars := func(b engine.Bars) *engine.Fit { return &engine.Fit{Bars: &b} }
	stock := func(list ...engine.OnHand) *engine.Fit { return &engine.Fit{Stock: &engine.Stock{OnHand: list}} }
	loss := func(q *engine.Fit, g float64) *engine.Fit { q.PotLoss = engine.InGrams(g); return q }
	volume := engine.Quantity{Value: 1, Unit: engine.Liter}
	const first = "fit.molds.molds[0]"
	for name, x := range map[string]struct {
		fit                *engine.Fit
		path, reason, next string
	}{
		"no size at all":        {nil, "fit", engine.ReasonRequired, "molds, batter, fats, bars or stock"},
		"no target":             {&engine.Fit{}, "fit", engine.ReasonRequired, "State one size"},
		"two targets":           {&engine.Fit{Fats: engine.InGrams(1), Batter: engine.InGrams(2)}, "fit", engine.ReasonConflict, "More than one"},
		"zero molds":            {&engine.Fit{Molds: &engine.Molds{}}, "fit.molds.molds", engine.ReasonRequired, "at least one"},
		"too many kinds":        {&engine.Fit{Molds: &engine.Molds{Molds: make([]engine.Mold, 101)}}, "fit.molds.molds", engine.ReasonTooMany, "at most 100"},
		"none of a mold":        {molds(func(m *engine.Mold) { m.Count = 0 }), first + ".count", engine.ReasonRange, "how many of this mold"},
		"negative molds":        {molds(func(m *engine.Mold) { m.Count = -2 }), first + ".count", engine.ReasonRange, "1 to 1000"},
		"no shape":              {molds(func(m *engine.Mold) { m.Box = nil }), first, engine.ReasonRequired, "tapered_box"},
		"two shapes":            {molds(func(m *engine.Mold) { m.Water = engine.InGrams(500) }), first, engine.ReasonConflict, "one shape"},
		"box without height":    {molds(func(m *engine.Mold) { m.Box.HeightMM = 0 }), first + ".box.height_mm", engine.ReasonRange, "5 mm"},
		"box in meters":         {molds(func(m *engine.Mold) { m.Box.LengthMM = 0.24 }), first + ".box.length_mm", engine.ReasonRange, "in millimeters"},
		"box of no number":      {molds(func(m *engine.Mold) { m.Box.WidthMM = math.NaN() }), first + ".box.width_mm", engine.ReasonNotFinite, "plain number"},
		"liner too thick":       {molds(func(m *engine.Mold) { m.Box.WidthMM, m.LinerMM = 30, 15 }), first + ".liner_mm", engine.ReasonConflict, "no room"},
		"fill above the brim":   {molds(func(m *engine.Mold) { m.FillHeightMM = engine.Some(66) }), first + ".fill_height_mm", engine.ReasonRange, "brim, 65 mm"},
		"height and percent":    {molds(func(m *engine.Mold) { m.FillPct = engine.Some(90) }), first + ".fill_height_mm", engine.ReasonConflict, "Keep one"},
		"percent as a fraction": {molds(func(m *engine.Mold) { m.FillHeightMM, m.FillPct = engine.Optional{}, engine.Some(0.95) }), first + ".fill_pct", engine.ReasonLikelySlip, "95"},
		"overfull":              {molds(func(m *engine.Mold) { m.FillHeightMM, m.FillPct = engine.Optional{}, engine.Some(105) }), first + ".fill_pct", engine.ReasonRange, "100 %"},
		"unknown material":      {molds(func(m *engine.Mold) { m.Material = 99 }), first + ".material", engine.ReasonRange, "silicone"},
		"filled with no water":  {molds(func(m *engine.Mold) { *m = engine.Mold{Count: 1, Water: engine.InGrams(0)} }), first + ".water.g", engine.ReasonRange, "1 mL"},
		"water of no number":    {molds(func(m *engine.Mold) { *m = engine.Mold{Count: 1, Water: engine.InGrams(math.Inf(1))} }), first + ".water.g", engine.ReasonNotFinite, "plain"},
		"last time by volume":   {molds(func(m *engine.Mold) { *m = engine.Mold{Count: 1, BatterLastTime: volume} }), first + ".batter_last_time.l", engine.ReasonUnit, "use water"},
		"last time and a level": {molds(func(m *engine.Mold) {
			*m = engine.Mold{Count: 1, BatterLastTime: engine.InGrams(900), FillPct: engine.Some(90)}
		}), first + ".fill_pct", engine.ReasonConflict, "Leave this out"},
		"height of cavities":     {molds(func(m *engine.Mold) { m.Box, m.LinerMM, m.Cavities = nil, 0, &mold.Cavities{Count: 6, MLEach: 100} }), first + ".fill_height_mm", engine.ReasonConflict, "fill_pct"},
		"texture as a fraction":  {&engine.Fit{Molds: &engine.Molds{Molds: loaf().Molds.Molds, TextureAllowancePct: 0.05}}, "fit.molds.texture_allowance_pct", engine.ReasonLikelySlip, "5"},
		"texture too high":       {&engine.Fit{Molds: &engine.Molds{Molds: loaf().Molds.Molds, TextureAllowancePct: 60}}, "fit.molds.texture_allowance_pct", engine.ReasonRange, "50"},
		"less than the loss":     {loss(loaf(), 1200), "fit.pot_loss", engine.ReasonConflict, "1169"},
		"loss is the batch":      {loss(&engine.Fit{Fats: engine.InGrams(100)}, 150), "fit.pot_loss", engine.ReasonConflict, "whole batch"},
		"transfer loss":          {&engine.Fit{Batter: engine.InGrams(100), TransferLoss: engine.InGrams(100)}, "fit.transfer_loss", engine.ReasonConflict, "units"},
		"negative loss":          {loss(loaf(), -1), "fit.pot_loss.g", engine.ReasonRange, "negative"},
		"loss by volume":         {&engine.Fit{Batter: engine.InGrams(100), PotLoss: volume}, "fit.pot_loss.l", engine.ReasonUnit, "weigh the pot"},
		"zero batter":            {&engine.Fit{Batter: engine.InGrams(0)}, "fit.batter.g", engine.ReasonRange, "zero"},
		"batter by volume":       {&engine.Fit{Batter: volume}, "fit.batter.l", engine.ReasonUnit, "describe the mold"},
		"negative fats":          {&engine.Fit{Fats: engine.InGrams(-5)}, "fit.fats.g", engine.ReasonRange, "negative"},
		"fats of no number":      {&engine.Fit{Fats: engine.InGrams(math.NaN())}, "fit.fats.g", engine.ReasonNotFinite, "plain number"},
		"a ship of fats":         {&engine.Fit{Fats: engine.Quantity{Value: 20000, Unit: engine.Kilogram}}, "fit.fats.kg", engine.ReasonRange, "unit"},
		"more than a batch":      {&engine.Fit{Molds: &engine.Molds{Molds: []engine.Mold{{Count: 1000, Box: &mold.Box{LengthMM: 5000, WidthMM: 5000, HeightMM: 500}, Material: engine.Wood}}}}, "fit.molds", engine.ReasonRange, "olive oil"},
		"zero bars":              {bars(engine.Bars{Mass: engine.InGrams(100)}), "fit.bars.count", engine.ReasonRange, "how many bars"},
		"bars of nothing":        {bars(engine.Bars{Count: 10, Mass: engine.InGrams(0)}), "fit.bars.mass.g", engine.ReasonRange, "zero"},
		"bars without a mass":    {bars(engine.Bars{Count: 10}), "fit.bars.mass", engine.ReasonRequired, "unit"},
		"heavier than a batch":   {bars(engine.Bars{Count: 100000, Mass: engine.InGrams(110)}), "fit.bars.mass", engine.ReasonRange, "several batches"},
		"loss as a fraction":     {bars(engine.Bars{Count: 10, Mass: engine.InGrams(100), CureLossPct: engine.Some(0.1)}), "fit.bars.cure_loss_pct", engine.ReasonLikelySlip, "10"},
		"loss of half":           {bars(engine.Bars{Count: 10, Mass: engine.InGrams(100), CureLossPct: engine.Some(50)}), "fit.bars.cure_loss_pct", engine.ReasonRange, "40"},
		"more trimmed than made": {bars(engine.Bars{Count: 10, Mass: engine.InGrams(100), Trimmings: engine.InGrams(1001)}), "fit.bars.trimmings", engine.ReasonConflict, "units"},
		"loss above the bars":    {loss(bars(engine.Bars{Count: 1, Mass: engine.InGrams(100)}), 100), "fit.pot_loss", engine.ReasonConflict, "wanted (100 g)"},
		"empty shelf":            {stock(), "fit.stock.on_hand", engine.ReasonRequired, "plentiful"},
		"unknown on the shelf":   {stock(engine.OnHand{LineID: "olivee", Mass: engine.InGrams(5)}), "fit.stock.on_hand[0].line_id", engine.ReasonUnknown, "naoh, koh or water"},
		"twice on the shelf":     {stock(engine.OnHand{LineID: "olive", Mass: engine.InGrams(5)}, engine.OnHand{LineID: "olive", Mass: engine.InGrams(6)}), "fit.stock.on_hand[1].line_id", engine.ReasonDuplicate, "Add the masses up"},
		"none on the shelf":      {stock(engine.OnHand{LineID: "olive", Mass: engine.InGrams(0)}), "fit.stock.on_hand[0].mass", engine.ReasonRange, "no batch"},
		"shelf by volume":        {stock(engine.OnHand{LineID: "olive", Mass: volume}), "fit.stock.on_hand[0].mass.l", engine.ReasonUnit, "balance"},
		"too much on the shelf":  {stock(make([]engine.OnHand, 1204)...), "fit.stock.on_hand", engine.ReasonTooMany, "at most 1203"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := engine.New(nil).Scale(context.Background(), bar(), x.fit, engine.Options{})
			var v *engine.Violations
			if !errors.As(err, &v) {
				t.Fatalf("got %T %v, want violations", err, err)
			}
			if len(v.List) != 1 || v.List[0].Path != x.path || v.List[0].Reason != x.reason || !strings.Contains(v.List[0].Text, x.next) {
				t.Errorf("got %+v\nwant %s %s: %s", v.List, x.path, x.reason, x.next)
			}
		})
	}
}

// TestNothingOfTheShelfIsUsed: a shelf that the batch does not touch sets no
// size.
func TestNothingOfTheShelfIsUsed(t *testing.T) {
	r := bar()
	r.Alkali.NaOH, r.Water = &engine.AlkaliStock{Solution: &engine.SolutionStrength{MassPct: engine.Some(33)}}, concentration(33)
	_, err := engine.New(nil).Scale(context.Background(), r, &engine.Fit{Stock: &engine.Stock{OnHand: []engine.OnHand{{"water", engine.InGrams(100)}}}}, engine.Options{})
	var v *engine.Violations
	if !errors.As(err, &v) || v.List[0].Path != "fit.stock.on_hand" {
		t.Errorf("got %v", err)
	}
}

// TestRecipeAndFitAtOnce: what is wrong with the recipe, the balances and the
// size comes in one answer.
func TestRecipeAndFitAtOnce(t *testing.T) {
	r := bar()
	r.Fats[0].Fat = "oliev"
	_, err := engine.New(nil).Scale(context.Background(), r, &engine.Fit{Fats: engine.InGrams(-1)}, engine.Options{Balances: scales(-1)})
	var v *engine.Violations
	if !errors.As(err, &v) || len(v.List) != 3 || v.List[0].Path != "recipe.fats[0].fat" || v.List[1].Path != "balances[0].step.g" || v.List[2].Path != "fit.fats.g" {
		t.Errorf("got %v", err)
	}
}
