package engine

import (
	"lixivium.example/engine/lye"
	"lixivium.example/engine/settle"
	"lixivium.example/engine/unit"
)

// shortOfJug is how many grams the jug lacks to dissolve its alkali.
func (w *work) shortOfJug() float64 {
	need := w.r.JugPure[settle.NaOH]/(lye.RefuseNaOHPct/100.0) + w.r.JugPure[settle.KOH]/(lye.RefuseKOHPct/100.0)
	return need - w.r.JugMass
}

// impossible refuses a batch that cannot be made. A recipe that is judged is
// never refused for it: there it is a finding.
func (w *work) impossible() error {
	if w.p.given {
		return nil
	}
	if short := w.r.Short; short > 0 {
		return &Impossible{
			Reason:  ImpossibleWater,
			Text:    "Alkali stock and liquids bring " + rounded(short, 1) + " g more water than the recipe asks for. Ask for at least " + rounded(w.r.Asked+short, 1) + " g, use less liquid, or let it count on top.",
			Numbers: []Figure{{"short_g", short, "g"}, {"asked_g", w.r.Asked, "g"}},
		}
	}
	if w.jugLoad() <= 1 {
		return nil
	}
	short := w.shortOfJug()
	return &Impossible{
		Reason:  ImpossibleLyeTooStrong,
		Text:    "The jug holds too little water to dissolve the alkali: " + rounded(short, 1) + " g short. Sodium hydroxide dissolves to 50.5 % of the lye, potassium hydroxide to 51 %. Ask for more water, or keep less of it for other liquids.",
		Numbers: []Figure{{"short_g", short, "g"}, {"jug_pure_pct", float64(unit.PercentOf(w.r.JugPure[0]+w.r.JugPure[1], w.r.JugMass)), "percent"}},
	}
}

var limitEvidence = Evidence{Basis: Derived, Source: "lowest published saturation figures: CRC Handbook, Sipos and others 2000, NIOSH Pocket Guide"}

// jug judges the strength in the jug.
func (j *judged) jug(f *Formulation) {
	w := j.w
	strength := float64(f.Water.JugPurePct)
	numbers := []Figure{{"jug_pure_pct", strength, "percent"}}
	if w.r.Short > 0 {
		j.add(Finding{
			Code: codeLiquidsExceed, Severity: Danger,
			Text:     "The liquids bring " + rounded(w.r.Short, 1) + " g more water than the recipe says. One of the figures is wrong.",
			Numbers:  []Figure{{"short_g", w.r.Short, "g"}, {"asked_g", w.r.Asked, "g"}},
			Evidence: Evidence{Basis: Derived},
		})
	}
	solid := false
	for k := range w.p.alkali {
		solid = solid || w.p.alkali[k].used && !w.p.alkali[k].solution
	}
	switch {
	case w.jugLoad() > 1 && w.r.Plain+w.r.GrantJug == 0 && solid && !w.p.wantsWater:
		j.add(Finding{
			Code: codeWaterMissing, Severity: Danger,
			Text:     "The recipe states no water to dissolve the alkali in. Undissolved alkali burns skin.",
			Numbers:  []Figure{{"short_g", w.shortOfJug(), "g"}},
			Remedies: j.enoughWater(),
			Evidence: limitEvidence,
		})
	case w.jugLoad() > 1:
		j.add(Finding{
			Code: codeJugTooStrong, Severity: Danger,
			Text:     "The lye would be " + rounded(strength, 1) + " % alkali: more than water dissolves (50.5 % of sodium, 51 % of potassium hydroxide). Grains that stay solid burn skin.",
			Numbers:  append(numbers, Figure{"short_g", w.shortOfJug(), "g"}),
			Remedies: j.enoughWater(),
			Evidence: limitEvidence,
		})
	case strength > lye.NoteAbovePct && solid:
		j.add(Finding{
			Code: codeJugStrong, Severity: Note,
			Text:     "A lye of " + rounded(strength, 1) + " % dissolves slowly, gets thick and is close to its limit. Stir until it is clear.",
			Numbers:  numbers,
			Evidence: Evidence{Basis: PublishedFromMemory, Source: "behavior of strong caustic solutions, producers' handbooks"},
		})
	}
}

// enoughWater is the asked water at which the jug holds twice the alkali, which
// dissolves at any room temperature. Water that other liquids bring later does
// not dissolve it.
//
// Where the alkali itself is out of proportion, water is no remedy.
func (j *judged) enoughWater() []Remedy {
	if s := 100 * j.w.r.Superfat; s < 0 || s > slipAbovePct {
		return nil
	}
	g := 2 * j.w.r.Weighed
	for i := range j.w.in.Doses {
		if d := &j.w.in.Doses[i]; d.FromRecipe && !d.BeforeLye {
			g += float64(d.G * d.Water)
		}
	}
	return []Remedy{{
		Text:  "Ask for " + rounded(g, 1) + " g of water, so that the jug holds twice the alkali.",
		Water: &Water{Measure: &WaterMeasure{Mass: InGrams(g)}},
	}}
}

// storageMarginC is how far above the crystallization line a stored lye should
// stay, K.
const storageMarginC = 2

// storage compares stored lye with the line at which it crystallizes. Silent
// when no storage is declared.
func (j *judged) storage(f *Formulation) {
	t, ok := j.w.p.recipe.Process.LyeStorageC.Get()
	if !ok || j.w.r.JugPure[settle.NaOH] == 0 || j.w.r.JugPure[settle.KOH] > 0 {
		return
	}
	strength := float64(f.Water.JugPurePct)
	if a := &j.w.p.alkali[settle.NaOH]; a.solution {
		strength = 100 * a.pure // the stock is what stands on the shelf
	}
	line, ok := lye.CrystallizationC(unit.Percent(strength))
	if !ok || t >= float64(line)+storageMarginC {
		return
	}
	j.add(Finding{
		Code: codeCrystallizes, Severity: Caution,
		Text:     "Lye of " + rounded(strength, 1) + " % crystallizes at " + rounded(float64(line), 0) + " °C; at " + rounded(t, 0) + " °C part of its alkali may lie on the bottom. Store it warmer, or warm and stir it until it is clear before use.",
		Numbers:  []Figure{{"lye_pct", strength, "percent"}, {"crystallization_c", float64(line), "degC"}, {"storage_c", t, "degC"}},
		Evidence: Evidence{Basis: PublishedSeen, Source: "crystallization line of NaOH and water, Wang 2008"},
	})
}

// vessels are filled to two thirds (pot), half or a third (jug) at most.
func (j *judged) vessels(f *Formulation) {
	check := func(code, name string, ml, vessel, part float64, words string) {
		if vessel == 0 || ml <= vessel*part {
			return
		}
		j.add(Finding{
			Code: code, Severity: Caution,
			Text:     "The " + name + " would hold " + rounded(ml, 0) + " mL of its " + rounded(vessel, 0) + " mL; fill it to " + words + " at most. Take one of " + rounded(ml/part, 0) + " mL or more, or a smaller batch.",
			Numbers:  []Figure{{"filled_ml", ml, "mL"}, {"vessel_ml", vessel, "mL"}, {"needed_ml", ml / part, "mL"}},
			Evidence: Evidence{Basis: CommonPractice},
		})
	}
	check(codePotOverfull, "pot", float64(f.Totals.BatterML), j.w.p.potML, 2.0/3, "two thirds")
	if j.w.p.recipe.Vessels.FoamingLiquid {
		check(codeJugOverfull, "jug", float64(f.Totals.JugML), j.w.p.jugML, 1.0/3, "a third, since the liquid foams")
	} else {
		check(codeJugOverfull, "jug", float64(f.Totals.JugML), j.w.p.jugML, 1.0/2, "half")
	}
}

// onTopPoints is the change of strength from which on-top water is said, in
// percentage points.
const onTopPoints = 1

// water says what moved away from the asked water.
func (j *judged) water(f *Formulation) {
	wa := &f.Water
	asked := float64(wa.LyeConcentrationPct)
	if d := asked - float64(wa.BatchStrengthPct); wa.OnTopG > 0 && d > onTopPoints {
		j.add(Finding{
			Code: codeWaterOnTop, Severity: Note,
			Text:     "Liquids on top bring the batter from " + rounded(asked, 1) + " to " + rounded(float64(wa.BatchStrengthPct), 1) + " % strength.",
			Numbers:  []Figure{{"on_top_g", float64(wa.OnTopG), "g"}, {"lye_concentration_pct", asked, "percent"}, {"batch_strength_pct", float64(wa.BatchStrengthPct), "percent"}},
			Evidence: Evidence{Basis: Derived},
		})
	}
	if wa.RequestedG > wa.GrantedG && j.w.p.recipe.Water != nil {
		var ids []string
		for i := range wa.Shares {
			if wa.Shares[i].RequestedG > 0 {
				ids = append(ids, wa.Shares[i].LineID)
			}
		}
		granted := *j.w.p.recipe.Water
		granted.GrantRequests = true
		j.add(Finding{
			Code: codeWaterRequested, Severity: Note, Subjects: ids,
			Text:     "Additives ask for " + rounded(float64(wa.RequestedG), 1) + " g of water beyond the recipe.",
			Numbers:  []Figure{{"requested_g", float64(wa.RequestedG), "g"}},
			Remedies: []Remedy{{Text: "Grant it.", Water: &granted}},
			Evidence: Evidence{Basis: Derived},
		})
	}
}
