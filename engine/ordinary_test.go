package engine_test

import (
	"testing"

	"lixivium.example/engine"
)

// TestOrdinaryBatchesAreQuiet: what shops make every day carries no finding at all
// beyond the fixed safety lines.
func TestOrdinaryBatchesAreQuiet(t *testing.T) {
	fats := func(lines ...engine.FatLine) []engine.FatLine { return lines }
	line := func(id string, g float64) engine.FatLine {
		return engine.FatLine{ID: id, Fat: id, Mass: engine.InGrams(g)}
	}
	for name, x := range map[string]struct {
		recipe   engine.Recipe
		balances []engine.Balance
	}{
		"olive, coconut and castor, purity not stated": {recipe: engine.Recipe{
			Fats:   fats(line("olive-oil", 650), line("coconut-oil", 300), line("castor-oil", 50)),
			Alkali: engine.Alkali{SuperfatPct: engine.Some(5)}, Water: concentration(33),
		}, balances: scales(1)},
		"castile with little water": {recipe: engine.Recipe{
			Fats:   fats(line("olive-oil", 1000)),
			Alkali: engine.Alkali{SuperfatPct: engine.Some(4), NaOH: purity(99)}, Water: concentration(38),
			Process: engine.Process{FatsC: engine.Some(35), LyeC: engine.Some(35), RoomC: engine.Some(20), Gel: engine.GelAvoid},
		}, balances: scales(0.1)},
		"lard and tallow, 38 % water of the fats": {recipe: engine.Recipe{
			Fats:   fats(line("lard", 500), line("tallow", 250), line("coconut-oil", 250)),
			Alkali: engine.Alkali{SuperfatPct: engine.Some(6), NaOH: purity(98)},
			Water:  &engine.Water{Measure: &engine.WaterMeasure{OfFatsPct: engine.Some(38)}},
		}, balances: scales(1, 0.1)},
		// Of 20 % superfat nothing is said: nearly all of the fat is coconut.
		"salt bar": {recipe: engine.Recipe{
			Fats:   fats(line("coconut-oil", 900), line("castor-oil", 100)),
			Alkali: engine.Alkali{SuperfatPct: engine.Some(20), NaOH: purity(99)}, Water: concentration(29),
			Vessels: engine.Vessels{Pot: engine.Quantity{Value: 4, Unit: engine.Liter}, Jug: engine.Quantity{Value: 1.5, Unit: engine.Liter}},
		}},
		"firm paste of two alkalis from a premade lye": {recipe: engine.Recipe{
			Fats: fats(line("palm-oil", 400), line("olive-oil", 350), line("sunflower-oil-high-oleic", 150), line("shea-butter", 100)),
			Alkali: engine.Alkali{
				SuperfatPct: engine.Some(7), KOHOfMolesPct: engine.Some(10),
				NaOH: &engine.AlkaliStock{Solution: &engine.SolutionStrength{MassPct: engine.Some(50)}},
				KOH:  purity(90),
			},
			Water:   &engine.Water{Measure: &engine.WaterMeasure{WaterPerAlkali: engine.Some(2)}},
			Process: engine.Process{LyeStorageC: engine.Some(20)},
		}, balances: scales(1)},
	} {
		t.Run(name, func(t *testing.T) {
			f := formulate(t, &x.recipe, x.balances...)
			if f.Superfat.Verdict != engine.Silent {
				t.Errorf("verdict %s on %+v", f.Superfat.Verdict, f.Superfat)
			}
			for _, y := range f.Findings {
				t.Errorf("%s %s: %s", y.Severity, y.Code, y.Text)
			}
			if len(f.Safety) != 13 {
				t.Errorf("%d safety lines", len(f.Safety))
			}
		})
	}
}
