package engine_test

import (
	"fmt"
	"testing"

	"lixivium.example/engine"
)

// TestReadPotashLyeAllowsForTables judges a batch by the density of its potash
// lye and by the strength that another published table has for that density: the
// worst of the first must not be milder than the second. Densities at 20 °C from
// the CRC Handbook, 102nd ed. (seen); the engine reads them by Laliberté 2009.
func TestReadPotashLyeAllowsForTables(t *testing.T) {
	judge := func(s engine.SolutionStrength) engine.Superfat {
		r := given(1)
		sure := engine.Measured{Value: 190, HalfWidth: engine.Some(0)}
		r.Fats = []engine.FatLine{{ID: "fat", Fat: "olive-oil", Mass: engine.InGrams(1000), CertificateSV: &sure}}
		r.Alkali = engine.Alkali{KOH: &engine.AlkaliStock{Solution: &s}, Given: &engine.GivenAlkali{KOH: engine.InGrams(400)}}
		r.Water = nil
		return formulate(t, r).Superfat
	}
	for pct, density := range map[float64]float64{10: 1.0873, 18: 1.1626, 24: 1.2210, 30: 1.2813, 36: 1.3444, 42: 1.4104, 48: 1.4791} {
		t.Run(fmt.Sprint(pct), func(t *testing.T) {
			read := judge(engine.SolutionStrength{DensityGPerML: engine.Some(density), TemperatureC: engine.Some(20)})
			known := judge(engine.SolutionStrength{MassPct: engine.Some(pct)})
			if read.WorstPct > known.Pct {
				t.Errorf("at worst %g %%, at the strength of the other table %g %%", read.WorstPct, known.Pct)
			}
			if limit := known.Pct - 2*(read.Pct-known.Pct) - 1.5; read.WorstPct < limit {
				t.Errorf("at worst %g %%, beyond %g %%: the band is too wide", read.WorstPct, limit)
			}
		})
	}
}
