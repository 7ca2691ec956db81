package engine

import (
	"lixivium.example/engine/lye"
	"lixivium.example/engine/settle"
	"lixivium.example/engine/unit"
)

// fatDensity is that of melted fat at 25 °C in g/mL: 925.59 - 0.41757 t kg/m³
// (Choi and Okos 1986, published and seen). The batter's density is nearly the
// same for every fat, so the table's single values are not used here.
const fatDensity = 0.91515

// volumeTemperature is the temperature of answered volumes, °C.
const volumeTemperature = 25

// lyeDensity is that of what is in the jug, without doses, at 25 °C. Mixed
// alkali is taken between the two at the same total strength: an estimate.
func (w *work) lyeDensity() float64 {
	mass := w.r.LyeMass + w.r.Plain + w.r.GrantJug
	if mass == 0 {
		return 1
	}
	n, k := w.r.JugPure[settle.NaOH], w.r.JugPure[settle.KOH]
	total := min(unit.PercentOf(n+k, mass), densestLye)
	if n+k == 0 {
		return waterDensity
	}
	rho := 0.0
	for i, g := range w.r.JugPure {
		if g == 0 {
			continue
		}
		d, err := lye.Density(kindOf[i], total, volumeTemperature)
		if err != nil {
			return waterDensity // cannot happen: the strength is inside the tables
		}
		rho += float64(float64(d) * g / (n + k))
	}
	return rho
}

// densestLye is the strongest lye of both tables in percent; what is stronger is
// refused or a danger, and its volume does not matter any more.
const densestLye = 51.5

// volumes of the jug, the base and all, mL; volumes are taken as additive.
func (w *work) volumes() (jug, base, all float64, own []float64) {
	jug = (w.r.LyeMass + w.r.Plain + w.r.GrantJug) / w.lyeDensity()
	held := 0.0
	own = make([]float64, len(w.shares))
	batch, surface := 0.0, 0.0
	for i := range w.in.Doses {
		d := &w.in.Doses[i]
		rho := float64(w.p.doses[i].adj.DensityGPerML)
		if rho == 0 {
			rho = 1
		}
		ml := d.G / rho
		switch {
		case d.OnSurface:
			surface += ml
			if d.HeldBack >= 0 {
				held += d.G
			}
		case d.Portion != settle.Whole:
			own[d.Portion] += ml
			own[d.Portion] += d.Granted
			if d.HeldBack >= 0 {
				held += d.G
			}
		case d.HeldBack >= 0:
		default:
			batch += ml
		}
	}
	base = jug + (w.r.F-held)/fatDensity + batch
	all = base + surface
	for i := range own {
		all += own[i]
	}
	return jug, base, all, own
}
