package engine_test

import (
	"context"
	"fmt"

	"lixivium.example/engine"
)

// The engine inside another program: a recipe in, weights and a judgement out.
func Example() {
	recipe := &engine.Recipe{
		Name: "Plain bar",
		Fats: []engine.FatLine{
			{ID: "olive", Fat: "olive-oil", Mass: engine.InGrams(700)},
			{ID: "coconut", Fat: "coconut-oil", Mass: engine.InGrams(300)},
		},
		Alkali: engine.Alkali{
			SuperfatPct: engine.Some(5),
			NaOH:        &engine.AlkaliStock{PurityPct: engine.Some(99)},
		},
		Water: &engine.Water{Measure: &engine.WaterMeasure{LyeConcentrationPct: engine.Some(33)}},
	}
	batch, err := engine.New(nil).Formulate(context.Background(), recipe, engine.Options{
		Balances: []engine.Balance{{Step: engine.InGrams(1)}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, line := range batch.WeighOut {
		fmt.Printf("%5.0f g  %s\n", line.WeighG, line.Material)
	}
	fmt.Printf("superfat %.1f %%, 95 %% interval %.1f to %.1f %%, %d findings\n",
		batch.Superfat.Pct, batch.Superfat.LowPct, batch.Superfat.HighPct, len(batch.Findings))
	// Output:
	//   292 g  Water
	//   144 g  Sodium hydroxide, solid, 99 % pure
	//   700 g  Olive oil
	//   300 g  Coconut oil
	// superfat 5.5 %, 95 % interval 3.5 to 7.5 %, 0 findings
}
