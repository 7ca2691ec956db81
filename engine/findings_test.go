package engine_test

import (
	"context"
	"slices"
	"testing"

	"lixivium.example/engine"
)

// trigger is a recipe that has one finding for a reason one can see.
type trigger struct {
	code     string
	severity engine.Severity
	subjects []string
	recipe   func() *engine.Recipe
	balances []engine.Balance
	rules    engine.Additives
}

// edited is a recipe with one thing changed.
func edited(base func() *engine.Recipe, change func(*engine.Recipe)) func() *engine.Recipe {
	return func() *engine.Recipe {
		r := base()
		change(r)
		return r
	}
}

// asked is the bar at another superfat.
func asked(superfatPct float64) func() *engine.Recipe {
	return edited(bar, func(r *engine.Recipe) { r.Alkali.SuperfatPct = engine.Some(superfatPct) })
}

func judging(naohG float64) func() *engine.Recipe {
	return func() *engine.Recipe { return given(naohG) }
}

// dosed is the bar with one dose.
func dosed(d engine.Dose) func() *engine.Recipe {
	return edited(bar, func(r *engine.Recipe) { r.Doses = []engine.Dose{d} })
}

// oliveIs is the bar with something else in place of its olive oil.
func oliveIs(change func(*engine.FatLine)) func() *engine.Recipe {
	return edited(bar, func(r *engine.Recipe) { change(&r.Fats[0]) })
}

var inert = &engine.CustomAdditive{Name: "Rose powder", GPerTeaspoonUS: engine.Some(2)}

// triggers holds a recipe for every finding that Formulate can send.
var triggers = []trigger{
	{code: "engine/lye-heavy", severity: engine.Danger, recipe: judging(160)},
	{code: "engine/lye-heavy-likely", severity: engine.Danger, recipe: asked(0.4)},
	{code: "engine/lye-heavy-possible", severity: engine.Caution, recipe: asked(1.5)},
	{code: "engine/cleaning-bar", severity: engine.Caution, recipe: edited(asked(0.5), func(r *engine.Recipe) { r.CleaningBar = true })},
	{code: "engine/likely-slip", severity: engine.Caution, recipe: judging(205)},
	{code: "engine/likely-slip", severity: engine.Caution, recipe: judging(5)},
	{code: "engine/purity-unstated", severity: engine.Note, subjects: []string{"naoh"}, recipe: edited(judging(140), func(r *engine.Recipe) { r.Alkali.NaOH = nil })},
	{code: "engine/jug-too-strong", severity: engine.Danger, recipe: edited(judging(140), func(r *engine.Recipe) { r.Water = waterGrams(100) })},
	{code: "engine/jug-strong", severity: engine.Note, recipe: edited(bar, func(r *engine.Recipe) { r.Water = concentration(47) })},
	{code: "engine/water-missing", severity: engine.Danger, recipe: edited(judging(140), func(r *engine.Recipe) { r.Water = nil })},
	{code: "engine/liquids-exceed-water", severity: engine.Danger, recipe: edited(judging(140), func(r *engine.Recipe) {
		r.Water = waterGrams(280)
		r.Doses = []engine.Dose{{ID: "milk", Custom: &engine.CustomAdditive{Name: "Milk", WaterGPerG: 0.87}, Mass: engine.InGrams(400), Stage: engine.StageWaterBeforeLye}}
	})},
	{code: "engine/lye-crystallizes", severity: engine.Caution, recipe: edited(bar, func(r *engine.Recipe) { r.Process.LyeStorageC = engine.Some(5) })},
	{code: "engine/lye-crystallizes", severity: engine.Caution, recipe: edited(bar, func(r *engine.Recipe) {
		r.Alkali.NaOH = &engine.AlkaliStock{Solution: &engine.SolutionStrength{MassPct: engine.Some(50)}}
		r.Process.LyeStorageC = engine.Some(10)
	})},
	{code: "engine/pot-overfull", severity: engine.Caution, recipe: edited(bar, func(r *engine.Recipe) { r.Vessels.Pot = engine.Quantity{Value: 2, Unit: engine.Liter} })},
	{code: "engine/jug-overfull", severity: engine.Caution, recipe: edited(bar, func(r *engine.Recipe) { r.Vessels.Jug = engine.Quantity{Value: 500, Unit: engine.Milliliter} })},
	{code: "engine/jug-overfull", severity: engine.Caution, recipe: edited(bar, func(r *engine.Recipe) {
		r.Vessels.Jug, r.Vessels.FoamingLiquid = engine.Quantity{Value: 800, Unit: engine.Milliliter}, true
	})},
	{code: "engine/custom-additive", severity: engine.Caution, subjects: []string{"rose"}, recipe: dosed(engine.Dose{ID: "rose", Custom: inert, OfFatsPct: engine.Some(1)})},
	{code: "engine/measured-by-volume", severity: engine.Caution, subjects: []string{"olive"}, recipe: oliveIs(func(l *engine.FatLine) { l.Mass = engine.Quantity{Value: 760, Unit: engine.Milliliter} })},
	{code: "engine/measured-by-volume", severity: engine.Caution, subjects: []string{"naoh"}, recipe: edited(judging(1), func(r *engine.Recipe) {
		r.Alkali.NaOH = &engine.AlkaliStock{Solution: &engine.SolutionStrength{MassPct: engine.Some(33), TemperatureC: engine.Some(20)}}
		r.Alkali.Given.NaOH = engine.Quantity{Value: 310, Unit: engine.Milliliter}
	})},
	{code: "engine/measured-by-spoon", severity: engine.Note, subjects: []string{"rose"}, recipe: dosed(engine.Dose{ID: "rose", Custom: inert, Spoons: &engine.Spoons{TeaspoonsUS: 3}})},
	{code: "engine/alkali-absorbed", severity: engine.Note, recipe: dosed(engine.Dose{ID: "acid", Custom: citric(), OfFatsPct: engine.Some(2)})},
	{code: "engine/water-on-top", severity: engine.Note, recipe: dosed(engine.Dose{ID: "lactate", Custom: &engine.CustomAdditive{Name: "Sodium lactate solution", WaterGPerG: 0.4}, OfFatsPct: engine.Some(5), WaterSource: engine.WaterOnTop})},
	{code: "engine/water-requested", severity: engine.Note, subjects: []string{"plum"}, recipe: pulped, rules: pulp()},
	{code: "engine/balance-coarse", severity: engine.Caution, subjects: []string{"naoh"}, recipe: edited(bar, func(r *engine.Recipe) {
		r.Fats[0].Mass, r.Fats[1].Mass = engine.InGrams(70), engine.InGrams(30)
	}), balances: scales(1)},
	{code: "engine/balance-coarse", severity: engine.Note, subjects: []string{"rose"}, recipe: dosed(engine.Dose{ID: "rose", Custom: inert, OfFatsPct: engine.Some(1)}), balances: scales(1)},
	{code: "engine/sv-from-memory", severity: engine.Note, subjects: []string{"olive"}, recipe: oliveIs(func(l *engine.FatLine) { l.Fat = "camellia-oil" })},
	{code: "engine/unstated-blend", severity: engine.Caution, subjects: []string{"olive"}, recipe: oliveIs(func(l *engine.FatLine) { l.Fat = "grease" })},
	{code: "engine/wax-at-acid-value", severity: engine.Note, recipe: edited(bar, func(r *engine.Recipe) {
		r.Fats = append(r.Fats, engine.FatLine{ID: "wax", Fat: "beeswax", Mass: engine.InGrams(40)})
	})},
	{code: "engine/sv-disagrees", severity: engine.Caution, subjects: []string{"olive"}, recipe: oliveIs(func(l *engine.FatLine) { l.CertificateSV = &engine.Measured{Value: 250} })},
	{code: "engine/sv-disagrees", severity: engine.Caution, subjects: []string{"olive"}, recipe: oliveIs(func(l *engine.FatLine) {
		l.Fat, l.Custom = "", customFat("Triolein", 210, 3)
		l.Custom.FattyAcidsPct = map[string]float64{"C18:1": 100}
	})},
	{code: "engine/superfat-high", severity: engine.Note, recipe: asked(8.5)},
}

// notFromFormulate are the codes of other calls: before combining, and fitting a
// batch to molds and stock.
var notFromFormulate = []string{
	"engine/weighed-over", "engine/start-over", "engine/dose-over",
	"engine/mold-attacked", "engine/mold-material-unstated", "engine/small-batch", "engine/large-batch",
}

func TestEveryFindingHasItsRecipe(t *testing.T) {
	var triggered []string
	for _, x := range triggers {
		t.Run(x.code, func(t *testing.T) {
			f, err := engine.New(x.rules).Formulate(context.Background(), x.recipe(), engine.Options{Balances: x.balances})
			if err != nil {
				t.Fatal(err)
			}
			i := slices.IndexFunc(f.Findings, func(y engine.Finding) bool {
				return y.Code == x.code && (x.subjects == nil || slices.Equal(y.Subjects, x.subjects))
			})
			if i < 0 {
				t.Fatalf("not among %+v", f.Findings)
			}
			if got := f.Findings[i].Severity; got != x.severity {
				t.Errorf("severity %q, want %q", got, x.severity)
			}
		})
		triggered = append(triggered, x.code)
	}
	triggered = append(triggered, notFromFormulate...)
	// These speak about a change of size and come from Scale.
	triggered = append(triggered, "engine/mold-attacked", "engine/mold-material-unstated", "engine/small-batch", "engine/large-batch")
	for _, c := range engine.FindingCodes() {
		if !slices.Contains(triggered, c.Code) {
			t.Errorf("no recipe has %s", c.Code)
		}
	}
}

// A finding stays silent just short of its reason.
func TestFindingsKeepSilent(t *testing.T) {
	ml := func(v float64) engine.Quantity { return engine.Quantity{Value: v, Unit: engine.Milliliter} }
	for _, x := range []trigger{
		{code: "engine/lye-heavy-possible", recipe: asked(2.5)},
		{code: "engine/likely-slip", recipe: judging(170)},
		{code: "engine/likely-slip", recipe: judging(120)},
		{code: "engine/purity-unstated", recipe: judging(140)},
		{code: "engine/purity-unstated", recipe: edited(bar, func(r *engine.Recipe) { r.Alkali.NaOH = nil })},
		{code: "engine/jug-strong", recipe: edited(bar, func(r *engine.Recipe) { r.Water = concentration(45) })},
		{code: "engine/jug-strong", recipe: edited(bar, func(r *engine.Recipe) {
			r.Alkali.NaOH, r.Water = &engine.AlkaliStock{Solution: &engine.SolutionStrength{MassPct: engine.Some(48)}}, concentration(47)
		})},
		{code: "engine/lye-crystallizes", recipe: edited(bar, func(r *engine.Recipe) { r.Process.LyeStorageC = engine.Some(18) })},
		{code: "engine/pot-overfull", recipe: edited(bar, func(r *engine.Recipe) { r.Vessels.Pot = ml(2200) })},
		{code: "engine/jug-overfull", recipe: edited(bar, func(r *engine.Recipe) { r.Vessels.Jug = ml(700) })},
		{code: "engine/alkali-absorbed", recipe: dosed(engine.Dose{ID: "acid", Custom: citric(), OfFatsPct: engine.Some(0.1)})},
		{code: "engine/alkali-absorbed", recipe: dosed(engine.Dose{ID: "acid", Custom: citric(), OfFatsPct: engine.Some(2), Treatment: engine.TreatmentAdd})},
		{code: "engine/alkali-absorbed", recipe: bar, balances: scales(10)},
		{code: "engine/water-on-top", recipe: dosed(engine.Dose{ID: "milk", Custom: &engine.CustomAdditive{Name: "Milk", WaterGPerG: 0.9}, OfFatsPct: engine.Some(5)})},
		{code: "engine/balance-coarse", recipe: bar, balances: scales(1)},
		{code: "engine/sv-from-memory", recipe: oliveIs(func(l *engine.FatLine) {
			l.Fat, l.CertificateSV = "camellia-oil", &engine.Measured{Value: 191}
		})},
		{code: "engine/wax-at-acid-value", recipe: edited(bar, func(r *engine.Recipe) {
			r.Fats = append(r.Fats, engine.FatLine{ID: "wax", Fat: "beeswax", Mass: engine.InGrams(5)})
		})},
		{code: "engine/sv-disagrees", recipe: oliveIs(func(l *engine.FatLine) { l.CertificateSV = &engine.Measured{Value: 189} })},
		{code: "engine/superfat-high", recipe: asked(8)},
		{code: "engine/superfat-high", recipe: edited(asked(20), func(r *engine.Recipe) { r.Fats = r.Fats[1:] })},
	} {
		f := formulate(t, x.recipe(), x.balances...)
		if y := found(f, x.code); y != nil {
			t.Errorf("%s speaks up: %s", x.code, y.Text)
		}
	}
}
