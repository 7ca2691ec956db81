package lye

import "lixivium.example/engine/unit"

// The end temperatures are tabled for these two starts and straight in between
// and a little beyond: the heat of solution does not depend on the start and
// the heat capacities hardly do.
const (
	coldStart, roomStart = 5, 20
	lowStart, highStart  = 0, 40
)

// HeatOfSolution gives the heat taken up when a mole of solid NaOH dissolves to
// this strength at 25 °C, kJ/mol, negative because it warms: 0-52 wt%, ok =
// false outside. Olsson et al. 1997 moved onto Parker, NSRDS-NBS 2 (1965) at
// infinite dilution; a second set agrees within 0.4 kJ/mol.
func HeatOfSolution(naohPct unit.Percent) (kJPerMol float64, ok bool) {
	return known.naohHeat.at(float64(naohPct))
}

// BoilingC gives where a NaOH solution boils at 101.325 kPa, °C: 0-52 wt%, ok =
// false outside. Olsson et al. 1997 from 20 % up, a straight line from water at
// 100 °C below.
func BoilingC(naohPct unit.Percent) (t unit.Celsius, ok bool) {
	v, ok := known.naohBoiling.at(float64(naohPct))
	return unit.Celsius(v), ok
}

// SolutionEndC is EndC for one alkali; ok = false for no valid Kind too.
func SolutionEndC(k Kind, mass unit.Percent, start unit.Celsius) (end unit.Celsius, ok bool) {
	switch k {
	case NaOH:
		return EndC(mass, 0, start)
	case KOH:
		return EndC(0, mass, start)
	}
	return 0, false
}

// EndC gives how hot a lye gets when solid alkali and water, both at start °C,
// are brought together and nothing is lost to vessel or air: an upper end that
// an open jug stays below by 10-25 °C (common practice). Shares are wt% of pure
// alkali in the jug; together 0-52, start 0-40, ok = false outside.
//
// It never exceeds BoilingC at the total strength: a lye that would get there
// boils, so an answer equal to BoilingC means that it boils.
//
// NaOH alone follows the enthalpy equation of Olsson et al. 1997, within 3 °C.
// KOH is an estimate, ±15 °C: the rise of NaOH at the same strength times heat
// per gram (1027 / 1113 J/g, Parker) times the ratio of heat capacities at
// 60 °C; commercial potash already holds water and stays cooler. A mixture is
// the mean of the two by mass of alkali, an estimate too, and KOH boils where
// NaOH of that strength does (from memory, within 5 °C).
func EndC(naohPct, kohPct unit.Percent, start unit.Celsius) (end unit.Celsius, ok bool) {
	naoh, koh, from := float64(naohPct), float64(kohPct), float64(start)
	if !(naoh >= 0) || !(koh >= 0) || !inside(from, lowStart, highStart) {
		return 0, false
	}
	w := naoh + koh
	cold, ok := known.naohEndCold.at(w)
	if !ok || w == 0 {
		return start, ok
	}
	room, _ := known.naohEndRoom.at(w)
	soda := cold + float64((room-cold)*(from-coldStart))/(roomStart-coldStart)

	sodaCapacity, _ := known.naohHeatCapacity.at(w)
	potashCapacity, _ := known.kohHeatCapacity.at(w)
	potash := from + float64((soda-from)*float64(known.kohHeatShare*sodaCapacity))/potashCapacity

	end = unit.Celsius(lerp(soda, potash, koh/w))
	boiling, _ := BoilingC(unit.Percent(w))
	return min(end, boiling), true
}
