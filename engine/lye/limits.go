package lye

import (
	"math"

	"lixivium.example/engine/unit"
)

const (
	// RefuseNaOHPct is the strongest NaOH jug, wt%, that is answered: half a
	// point above the lowest published saturation at 20-25 °C (50.0, CRC
	// Handbook, from memory; 50.2, Sipos et al. 2000; 52.2 at 20 °C, Great Soviet
	// Encyclopedia), so that the common equal-weights lye and a bought 50 % lye
	// are not refused for a rounding.
	RefuseNaOHPct = 50.5
	// RefuseKOHPct is the same for KOH, just below the lowest published
	// saturation (51.7: NIOSH at 15 °C, Sipos et al. at 25 °C).
	RefuseKOHPct = 51
	// NoteAbovePct is where dissolving gets slow and the lye viscous, wt% of
	// either alkali (from memory).
	NoteAbovePct = 45
)

// JugLoad gives how much of what a jug can dissolve is in it: NaOH share /
// 50.5 + KOH share / 51, both wt% of pure alkali over everything in the jug.
// Above 1: refuse. An input that is no share (negative, NaN, above 100) gives
// +Inf, so that the comparison refuses it.
func JugLoad(naohPct, kohPct unit.Percent) float64 {
	if !inside(float64(naohPct), 0, 100) || !inside(float64(kohPct), 0, 100) {
		return math.Inf(1)
	}
	return float64(naohPct)/RefuseNaOHPct + float64(kohPct)/RefuseKOHPct
}

// CrystallizationC gives the temperature in °C below which a NaOH solution of
// this strength drops crystals or ice: 0-57 wt%, ok = false outside. The line
// is not monotonic: about -28 °C at 18.7 %, a hump of 15.7 °C near 39 %, 6 °C at
// 45.6 %. Source: Wang 2008, digitized, about ±1 °C; a producer's figure for
// 50 % lye is 2.5 °C higher, so leave a margin. No line for mixtures is known.
func CrystallizationC(naohPct unit.Percent) (t unit.Celsius, ok bool) {
	v, ok := known.naohCrystallization.at(float64(naohPct))
	return unit.Celsius(v), ok
}

// SaturationKOH gives the strongest KOH solution, wt%, that stays clear at t °C:
// 0-25 °C, ok = false outside. Of contradicting figures the lowest is used:
// between 15 and 25 °C it stays at 51.7 although 52.8 (20 °C) and 54.8 (25 °C)
// are published too. Below 49.2 % a KOH lye does not crystallize above 0 °C.
func SaturationKOH(t unit.Celsius) (kohPct unit.Percent, ok bool) {
	v, ok := known.kohSaturation.at(float64(t))
	return unit.Percent(v), ok
}
