package engine

import "slices"

// Codes of the engine's findings. A code is never used again for another
// meaning.
const (
	codeLyeHeavy         = "engine/lye-heavy"
	codeLyeHeavyLikely   = "engine/lye-heavy-likely"
	codeLyeHeavyPossible = "engine/lye-heavy-possible"
	codeCleaningBar      = "engine/cleaning-bar"
	codeLikelySlip       = "engine/likely-slip"
	codePurityUnstated   = "engine/purity-unstated"
	codeJugTooStrong     = "engine/jug-too-strong"
	codeJugStrong        = "engine/jug-strong"
	codeWaterMissing     = "engine/water-missing"
	codeLiquidsExceed    = "engine/liquids-exceed-water"
	codeCrystallizes     = "engine/lye-crystallizes"
	codePotOverfull      = "engine/pot-overfull"
	codeJugOverfull      = "engine/jug-overfull"
	codeCustomAdditive   = "engine/custom-additive"
	codeByVolume         = "engine/measured-by-volume"
	codeBySpoon          = "engine/measured-by-spoon"
	codeAbsorbed         = "engine/alkali-absorbed"
	codeWaterOnTop       = "engine/water-on-top"
	codeWaterRequested   = "engine/water-requested"
	codeCoarseBalance    = "engine/balance-coarse"
	codeSVFromMemory     = "engine/sv-from-memory"
	codeUnstatedBlend    = "engine/unstated-blend"
	codeWaxAtAcidValue   = "engine/wax-at-acid-value"
	codeSVDisagrees      = "engine/sv-disagrees"
	codeSuperfatHigh     = "engine/superfat-high"
	codeWeighedOver      = "engine/weighed-over"
	codeStartOver        = "engine/start-over"
	codeDoseOver         = "engine/dose-over"
	codeMoldAttacked     = "engine/mold-attacked"
	codeMoldMaterial     = "engine/mold-material-unstated"
	codeSmallBatch       = "engine/small-batch"
	codeLargeBatch       = "engine/large-batch"
)

var findingCodes = []FindingCode{
	{codeLyeHeavy, Danger, "The best estimate leaves alkali over."},
	{codeLyeHeavyLikely, Danger, "Alkali is left over with a probability of 25 % or more, or more than 0.05 % of free caustic with one of 10 % or more."},
	{codeLyeHeavyPossible, Caution, "Alkali is left over with a probability of 2.5 to 25 %."},
	{codeCleaningBar, Caution, "A cleaning bar has little superfat on purpose: each batch is tested before use."},
	{codeLikelySlip, Caution, "The superfat that given alkali implies is below -15 % or above 25 %; a likely slip is named where one explains it."},
	{codePurityUnstated, Note, "The purity of the alkali is not stated and matters here."},
	{codeJugTooStrong, Danger, "A judged recipe has more alkali than its water dissolves."},
	{codeJugStrong, Note, "The lye is stronger than 45 %: slow to dissolve, thick, close to its limit."},
	{codeWaterMissing, Danger, "A judged recipe has solid alkali and no water."},
	{codeLiquidsExceed, Danger, "A judged recipe's liquids bring more water than it asks for."},
	{codeCrystallizes, Caution, "Stored lye may crystallize at the declared temperature."},
	{codePotOverfull, Caution, "The batter fills more than two thirds of the pot."},
	{codeJugOverfull, Caution, "The lye fills more than half of the jug, or a third with foaming liquids."},
	{codeCustomAdditive, Caution, "An additive is reckoned with the caller's own figures."},
	{codeByVolume, Caution, "A fat or a lye is measured by volume."},
	{codeBySpoon, Note, "A dose is measured by the spoon."},
	{codeAbsorbed, Note, "Doses take alkali that is not added, so the superfat is higher than asked."},
	{codeWaterOnTop, Note, "Water beyond the asked water makes the batter weaker than asked."},
	{codeWaterRequested, Note, "Additives ask for more water than the recipe gives."},
	{codeCoarseBalance, Caution, "A line is under 20 divisions of the balance that carries it."},
	{codeSVFromMemory, Note, "The saponification value of a fat is written down from memory."},
	{codeUnstatedBlend, Caution, "A fat is an unstated blend with a wide range."},
	{codeWaxAtAcidValue, Note, "Waxes count at their acid value; what more they may take is an upper bound."},
	{codeSVDisagrees, Caution, "A stated saponification value disagrees with the fatty acids of that fat."},
	{codeSuperfatHigh, Note, "A superfat above 8 % keeps less well."},
	{codeWeighedOver, Caution, "The weighed masses are not the plan; every line can be brought to the plan, or to the same factor of it."},
	{codeStartOver, Danger, "What was weighed is lye-heavy, or so far over the plan that starting again is better."},
	{codeDoseOver, Note, "More of an additive was weighed than planned."},
	{codeMoldAttacked, Danger, "A mold to fill is of a metal that lye attacks."},
	{codeMoldMaterial, Note, "What a mold is made of is not stated."},
	{codeSmallBatch, Caution, "A batch is scaled to so little that heat, gel and minutes do not carry over."},
	{codeLargeBatch, Note, "A batch is scaled up so far that its heat and minutes are others."},
}

// FindingCodes lists every finding the engine can answer, by code.
func FindingCodes() []FindingCode {
	out := slices.Clone(findingCodes)
	slices.SortFunc(out, func(a, b FindingCode) int {
		switch {
		case a.Code < b.Code:
			return -1
		case a.Code > b.Code:
			return 1
		}
		return 0
	})
	return out
}
