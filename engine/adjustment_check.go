package engine

import "fmt"

// Bounds of an adjustment per gram of dose. What lies outside breaks the
// contract and is never brought inside.
const (
	maxBoundGPerG   = 20
	maxAlkaliMolPer = 0.035
	minDensity      = 0.2
	maxDensity      = 8
	maxHeatJPerG    = 2000
	minFactor       = 0.05
	maxFactor       = 20
)

// Check tells whether an adjustment lies within the bounds of the contract. A
// density or a band of zero means that nothing is said.
func (a *Adjustment) Check() error {
	fats := 0.0
	for _, f := range a.FatGPerG {
		if !(f.GPerG >= 0 && f.GPerG <= 1) {
			return outside("fat "+f.Fat, f.GPerG, 0, 1)
		}
		fats += f.GPerG
	}
	for _, x := range []struct {
		name       string
		v, low, hi float64
	}{
		{"water_g_per_g", a.WaterGPerG, 0, 1},
		{"water and fats", a.WaterGPerG + fats, 0, 1 + 1e-9},
		{"bound_water_g_per_g", a.BoundWaterGPerG, 0, maxBoundGPerG},
		{"requested_water_g_per_g", a.RequestedWaterGPerG, 0, maxBoundGPerG},
		{"alkali_mol_per_g", a.AlkaliMolPerG, 0, maxAlkaliMolPer},
		{"alkali_half_width_mol_per_g", a.AlkaliHalfMolPerG, 0, maxAlkaliMolPer},
		{"alkali_high_mol_per_g", a.AlkaliHighMolPerG, 0, maxAlkaliMolPer},
		{"heat_j_per_g", a.HeatJPerG, -maxHeatJPerG, maxHeatJPerG},
	} {
		if !(x.v >= x.low && x.v <= x.hi) {
			return outside(x.name, x.v, x.low, x.hi)
		}
	}
	if d := float64(a.DensityGPerML); d != 0 && !(d >= minDensity && d <= maxDensity) {
		return outside("density_g_per_ml", d, minDensity, maxDensity)
	}
	if err := a.TraceTime.check("trace_time_factor"); err != nil {
		return err
	}
	return a.Firmness.check("firmness_factor")
}

// check tells whether a band is absent, or in order and within bounds.
func (b Band) check(name string) error {
	if b == (Band{}) {
		return nil
	}
	for _, v := range []float64{b.Low, b.Typical, b.High} {
		if !(v >= minFactor && v <= maxFactor) {
			return outside(name, v, minFactor, maxFactor)
		}
	}
	if b.Low > b.Typical || b.Typical > b.High {
		return fmt.Errorf("%s: %v, %v, %v are not in order", name, b.Low, b.Typical, b.High)
	}
	return nil
}

func outside(name string, v, low, high float64) error {
	return fmt.Errorf("%s is %v, outside %v to %v", name, v, low, high)
}
