package sheet

import (
	"strings"
	"testing"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// batch is a hand-made answer that holds one of everything a sheet can show.
func batch() *lixiviumv1.Formulation {
	line := func(id, material string, s lixiviumv1.Stage, v lixiviumv1.Vessel, portion string, g float64) *lixiviumv1.WeighLine {
		return &lixiviumv1.WeighLine{LineId: id, Material: material, Stage: s, Vessel: v, PortionId: portion, ExactG: g, WeighG: g, Parts: 1}
	}
	const (
		jug, pot, batter, cup, mold = lixiviumv1.Vessel_VESSEL_LYE_JUG, lixiviumv1.Vessel_VESSEL_FAT_POT,
			lixiviumv1.Vessel_VESSEL_BATTER, lixiviumv1.Vessel_VESSEL_PORTION_CUP, lixiviumv1.Vessel_VESSEL_MOLD
	)
	f := &lixiviumv1.Formulation{
		WeighOut: []*lixiviumv1.WeighLine{
			line("water", "Water", lixiviumv1.Stage_STAGE_WATER_BEFORE_LYE, jug, "", 264),
			line("naoh", "Sodium hydroxide, solid", lixiviumv1.Stage_STAGE_ALKALI, jug, "", 138.2),
			line("lactate", "Lactate", lixiviumv1.Stage_STAGE_COOLED_LYE, jug, "", 0.42),
			line("olive", "Olive oil", lixiviumv1.Stage_STAGE_FATS, pot, "", 12400),
			line("scent", "Scent", lixiviumv1.Stage_STAGE_TRACE, batter, "", 30),
			line("pigment", "White pigment", lixiviumv1.Stage_STAGE_TRACE, cup, "white", 4),
			line("pigment/carrier", "Olive oil for white pigment", lixiviumv1.Stage_STAGE_TRACE, cup, "white", 8),
			line("petals", "Petals", lixiviumv1.Stage_STAGE_SURFACE, mold, "", 2),
			line("odd", "Something new", 99, 99, "", 1),
		},
		Superfat: &lixiviumv1.Superfat{PortionId: "white", SuperfatPct: 5, Low95Pct: 3.14, High95Pct: 6.86,
			LyeExcessProbabilityPct: 2.5, DominatedBy: "saponification value of olive oil"},
		BatchSuperfat: &lixiviumv1.Superfat{SuperfatPct: 5.6},
		SuperfatIfPct: []*lixiviumv1.Figure{{Name: "naoh 98 %", Value: 6.94, Unit: "percent"}},
		Water: &lixiviumv1.WaterAnswer{AskedG: 280, LyeConcentrationPct: 33.04, WaterPerAlkaliRatio: 2.026, WaterOfFatsPct: 28,
			JugStrengthPct: 34, BatchStrengthPct: 33, BroughtG: 16, TotalG: 280, FreeG: 280},
		Portions: []*lixiviumv1.PortionAnswer{
			{PortionId: "white", BaseG: 500, BatterG: 512, BatterMl: 505, BatchStrengthPct: 33, Superfat: &lixiviumv1.Superfat{SuperfatPct: 5}},
			{PortionId: "rest", BaseG: 900, BatterG: 900, BatterMl: 890, BatchStrengthPct: 33, Superfat: &lixiviumv1.Superfat{SuperfatPct: 5.9}},
		},
		Fats:   []*lixiviumv1.FatAnswer{{Name: "Olive oil", ShareOfFatsPct: 100, SvMgKohPerG: 190, SvLowMgKohPerG: 184, SvHighMgKohPerG: 196}},
		Alkali: &lixiviumv1.AlkaliAnswer{NaohG: 138.2, NaohPurityPct: 98, LyeEndC: 92.4},
		Totals: &lixiviumv1.BatchTotals{FatsG: 12400, BatterG: 12848, BatterMl: 12600, DensityGPerMl: 1.0153, JugMl: 300},
		Safety: []*lixiviumv1.SafetyLine{{Code: "safety/gloves", Text: "Wear gloves."}},
		Origin: &lixiviumv1.Origin{EngineVersion: "1.2.3", DataDigest: "sha256:00"},
	}
	f.WeighOut[3].Parts, f.WeighOut[3].Balance = 2, "floor scale"
	f.WeighOut[4].TeaspoonsUs, f.WeighOut[4].Balance = 6.04, "1 g balance"
	f.WeighOut[6].OfLineId = "olive"
	for i, s := range []lixiviumv1.Severity{3, 2, 2, 2, 1, 1, 1} {
		f.Findings = append(f.Findings, &lixiviumv1.Finding{Code: "engine/" + string(rune('a'+i)), Severity: s, Text: "Finding " + string(rune('A'+i)) + "."})
	}
	f.Findings[0].Remedies = []*lixiviumv1.Remedy{{Text: "Use less.", Effect: []*lixiviumv1.Figure{{Name: "superfat_pct", Value: 5.04, Unit: "percent"}}}}
	return f
}

func options() Options {
	grams := func(v float64) *lixiviumv1.Quantity {
		return &lixiviumv1.Quantity{Amount: &lixiviumv1.Quantity_G{G: v}}
	}
	return Options{
		Recipe: &lixiviumv1.Recipe{Name: "Tide bar", Portions: []*lixiviumv1.Portion{{Id: "white", Name: "White foam"}}},
		Balances: []*lixiviumv1.Balance{
			{Name: "floor scale", Step: &lixiviumv1.Quantity{Amount: &lixiviumv1.Quantity_Kg{Kg: 0.005}}},
			{Step: grams(1)},
		},
	}
}

// inOrder tells which of the texts is missing or stands before the one above
// it; empty: none.
func inOrder(sheet string, texts ...string) string {
	for _, text := range texts {
		_, rest, ok := strings.Cut(sheet, text)
		if !ok {
			return text
		}
		sheet = rest
	}
	return ""
}

func TestFormulationIsInTheOrderOfUse(t *testing.T) {
	got := Formulation(batch(), options())
	if text := inOrder(got,
		"Tide bar\n========\nDANGER: do not make or use this as it stands.\n",
		`Superfat 5.0 % in the portion "White foam", which has least.`,
		"Of 20 such batches 19 lie between 3.1 % and 6.9 %.",
		"Chance that alkali is left over: about 1 in 40.",
		"The batch as a whole has 5.6 %.",
		"If naoh 98 %: the batch would have 6.9 %.",
		"Water 280.0 g (9.88 oz): 33.0 % lye, 2.03 g for each g of alkali, 28.0 % of the",
		"LOOK FIRST\n  DANGER   Finding A. [engine/a]\n           - Use less. (then: superfat 5.0 %)\n  CAUTION  Finding B.",
		"  NOTE     Finding E.",
		"LYE JUG\n  [ ]   264.0  g    (9.31 oz)  Water\n",
		"Alkali into the cold water", "The lye may reach 92 °C.",
		"  [ ]   138.2  g    (4.87 oz)  Sodium hydroxide, solid\n",
		"Once the lye has cooled:\n  [ ]     0.42 g   (0.015 oz)  Lactate\n",
		"FAT POT\n  [ ] 12400    g  (437.40 oz)  Olive oil in 2 weighings of 6200 g [floor scale]\n",
		"AT EMULSION", "  [ ]    30    g    (1.06 oz)  Scent (about 6.0 level teaspoons) [1 g balance]\n",
		"PORTION \"White foam\"\n  [ ]   500.0  g   (17.64 oz)  base batter, poured off\n", "White pigment",
		"Olive oil for white pigment (already left out in\n", "the fat pot)",
		"PORTION \"rest\"\n", "base batter",
		"IN THE MOLD, later\n", "Petals",
		"ELSEWHERE\n", "Something new",
		"ALSO\n  NOTE     Finding F.", "Finding G.",
		"SAFETY\n  - Wear gloves.\n",
		"BATCH\n", "reckoned with a purity of 98.0 %",
		"PORTIONS\n  with doses   mL  strength  superfat  portion\n     512.0 g  505    33.0 %     5.0 %  White foam\n",
		"100.0 %  190.0  184-196  not said  Olive oil\n",
		"Lixivium engine 1.2.3, no plugins,\ndata sha256:00\n",
	); text != "" {
		t.Errorf("missing or out of order: %q in\n%s", text, got)
	}
}

func TestOuncesLarge(t *testing.T) {
	o := options()
	o.Unit = Ounces
	got := Formulation(batch(), o)
	if text := inOrder(got, "  [ ]   4.87  oz  (138.2 g)  Sodium hydroxide", "  [ ]   0.015 oz   (0.42 g)  Lactate", "in 2 weighings of 218.70 oz"); text != "" {
		t.Errorf("missing: %q in\n%s", text, got)
	}
}

func TestNoTalkOfSafetyBeyondTheLines(t *testing.T) {
	f := batch()
	f.Findings = nil
	f.Superfat.Verdict = 0
	for _, got := range []string{Formulation(f, options()), Judgement(f, options())} {
		for _, word := range []string{"safe ", "safe.", "safely", "harmless", "compliant", "approved"} {
			if strings.Contains(strings.ToLower(got), word) {
				t.Errorf("the sheet says %q", word)
			}
		}
	}
}

func TestIncompleteStandsFirst(t *testing.T) {
	f := batch()
	f.MissingPlugins, f.Water = []string{"salts"}, nil
	for _, got := range []string{Formulation(f, options()), Judgement(f, options())} {
		if text := inOrder(got, "INCOMPLETE: no answer from salts.", "Superfat", "Water: withheld"); text != "" {
			t.Errorf("missing: %q in\n%s", text, got)
		}
	}
}

func TestVerdictOfAJudgement(t *testing.T) {
	f := batch()
	if got := Judgement(f, options()); inOrder(got, "DANGER: do not make or use this", "Superfat 5.0 %", "FINDINGS", "Finding G.") != "" || strings.Contains(got, "[ ]") {
		t.Errorf("got\n%s", got)
	}
	f.Findings = f.Findings[1:]
	if got := Judgement(f, options()); inOrder(got, "CAUTION: look at the findings") != "" {
		t.Errorf("got\n%s", got)
	}
	f.Findings = f.Findings[3:]
	if got := Judgement(f, options()); inOrder(got, "No caution and no danger found.") != "" {
		t.Errorf("got\n%s", got)
	}
	f.Superfat.SuperfatPct, f.Superfat.Verdict = -3, lixiviumv1.Severity_SEVERITY_DANGER
	if got := Judgement(f, options()); inOrder(got, "DANGER", "Superfat -3.0 %: more alkali than the fats can take") != "" {
		t.Errorf("got\n%s", got)
	}
}

func TestReconciliation(t *testing.T) {
	r := &lixiviumv1.ReconcileWeightsResponse{
		Superfat: &lixiviumv1.Superfat{SuperfatPct: 2.1, Low95Pct: 0.3, High95Pct: 4}, PlannedSuperfat: &lixiviumv1.Superfat{SuperfatPct: 5},
		Factor: 1.02, CorrectedSuperfatPct: 5.04, Plan: batch(),
		Corrections: []*lixiviumv1.WeightCorrection{
			{LineId: "olive", Material: "Olive oil", PlannedG: 12400, ActualG: 12400, TargetG: 12648, AddG: 248},
			{LineId: "naoh", Material: "Sodium hydroxide", PlannedG: 138.2, ActualG: 141, TargetG: 141, AddG: 0},
			{LineId: "water", Material: "Water", PlannedG: 264, ActualG: 264, TargetG: 269.3, AddG: 5.3},
		},
	}
	got := Reconciliation(r, options())
	if text := inOrder(got, "Tide bar, before combining", "STOP: put the masses right", "Superfat 2.1 %", "Planned: 5.0 %.",
		"Every line is brought to 1.0200 times the plan; the batch then has a superfat", "LYE JUG",
		"  [ ]   5.3 g  (0.187 oz)  more Water: 264.0 g weighed, 264.0 g planned, to\n", "269.3 g\n",
		"      Sodium hydroxide: nothing to add (141.0 g weighed, 138.2 g planned)\n",
		"FAT POT", "  [ ] 248.0 g   (8.75 oz)  more Olive oil: 12400.0 g weighed"); text != "" {
		t.Errorf("missing or out of order: %q in\n%s", text, got)
	}
	r.GoOn = true
	if got := Reconciliation(r, options()); inOrder(got, "Go on: ") != "" || strings.Contains(got, "[ ]") {
		t.Errorf("got\n%s", got)
	}
	r.GoOn, r.Corrections = false, nil
	if got := Reconciliation(r, options()); inOrder(got, "STOP: do not combine.") != "" {
		t.Errorf("got\n%s", got)
	}
}
