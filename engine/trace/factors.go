package trace

import "math"

// Less water is sooner by common practice, ×0.85 for each 3 points; one
// side-by-side batch of lard, coconut and olive came to trace later at 40 %
// than at 27 %. That pair counts half: the band reaches half as far to the
// other side.
func strength(pct float64) Factor {
	f := Factor{
		ID: "strength", Basis: BasisCommonPractice,
		Source: "trade tutorials; one measured pair found less water later and counts half in the range",
	}
	if !(pct > 0 && pct < 100) {
		f.Name = "batch strength not known: 27-40 % counted into the range"
		f.Band = Band{0.7, 1, 1.4}
		return f
	}
	const per3Points, weak, strong, least, most = 0.85, -0.5, 1.5, 0.5, 2
	e, limited := capped((pct-referenceStrengthPct)/3*math.Log(per3Points), least, most)
	f.Band = effect(e, weak, strong)
	f.Name = percent(pct) + " batch strength: " + direction(f.Typical) + limitInWords(limited)
	switch {
	case direction(f.Typical) == direction(1):
	case pct > referenceStrengthPct:
		f.Name = "less water, " + f.Name + "; disputed"
	default:
		f.Name = "more water, " + f.Name + "; disputed"
	}
	return f
}

// Practice gives ×0.65 for 10 °C. An activation energy of 40-65 kJ/mol, as
// measured on esters and on palm oil with ethanol, gives ×0.5-0.6; in the
// kitchen blending and melting weigh too, so the weak end is ×0.8.
func temperature(b Batch) Factor {
	f := Factor{
		ID: "temperature", Basis: BasisCommonPractice,
		Source: "common practice; strong end from an activation energy of 40-65 kJ/mol",
	}
	const per10, weak, strong, least, most = 0.65, 0.5, 1.6, 0.2, 4
	if !b.MixKnown || !possibleC(b.MixC) {
		const coolest = 27 // as far below the reference as 49 °C is above
		span := effect((coolest-referenceMixC)/10.*math.Log(per10), -1, 1)
		f.Band = Band{span.Low, 1, span.High}
		f.Name = "temperature of fats and lye not stated: 27-49 °C counted into the range"
		return f
	}
	e, limited := capped((b.MixC-referenceMixC)/10*math.Log(per10), least, most)
	f.Band = effect(e, weak, strong)
	f.Name = "fats and lye together at " + number(b.MixC, 0) + " °C: " + direction(f.Typical) + limitInWords(limited)
	return f
}

// Free acid turns to soap at once and thickens the batter: ×0.7 for each
// percent (estimate; that it is sooner, even much, is common practice).
func freeAcid(pct float64) Factor {
	f := Factor{
		ID: "free-acid", Basis: BasisEstimate,
		Source: "direction from common practice (stearic acid, rosin, pomace and old oils), size estimated",
	}
	if !(pct >= 0 && pct <= 100) {
		f.Name = "free fatty acid not known: 1 % counted into the range"
		f.Band = Band{0.7, 1, 1}
		return f
	}
	const perPoint, weak, strong, least, most = 0.7, 0.5, 1.8, 0.1, 1
	e, limited := capped(pct*math.Log(perPoint), least, most)
	f.Band = effect(e, weak, strong)
	f.Name = percent(pct) + " free fatty acid: " + direction(f.Typical) + limitInWords(limited)
	if pct == 0 {
		f.Name = "no free fatty acid counted: " + direction(1)
	}
	return f
}

// More superfat is less alkali: slightly later. 1 % a point is an estimate.
func superfat(pct float64) Factor {
	f := Factor{
		ID: "superfat", Basis: BasisEstimate,
		Source: "direction from common practice, size estimated",
	}
	if !(pct > -100 && pct < 100) {
		f.Name = "superfat not known: 0-10 % counted into the range"
		f.Band = Band{0.95, 1, 1.05}
		return f
	}
	const perPoint, weak, strong, least, most = 1.01, 0, 2, 0.9, 1.2
	e, limited := capped((pct-referenceSuperfatPct)*math.Log(perPoint), least, most)
	f.Band = effect(e, weak, strong)
	f.Name = percent(pct) + " superfat: " + direction(f.Typical) + limitInWords(limited)
	return f
}

// By hand, mixed oils were seen to take about 30 minutes (20-60) where a
// blender takes 1-5. Left standing, an emulsion made by hand starts with less
// soap to help it on: with dX/dt ~ (X + s)(1 - X), s = 0.01 instead of 0.05,
// a first 2 % of soap takes three times as long (estimate).
func stirring(byHand bool) []Factor {
	const source = "trade tutorials: mixed oils 1-5 minutes by blender, 20-60 by spoon or whisk"
	if !byHand {
		return []Factor{{
			ID: "stirring", Name: "stick blender in short bursts: " + direction(1), Band: one, Scope: StirredTimes,
			Basis: BasisCommonPractice, Source: source,
		}}
	}
	return []Factor{{
		ID: "stirring", Name: "stirred by hand, no blender: much later", Band: Band{5, 10, 20}, Scope: StirredTimes,
		Basis: BasisCommonPractice, Source: source,
	}, {
		ID: "standing", Name: "left standing, emulsion made by hand: much later", Band: Band{1.5, 3, 6}, Scope: StandingTime,
		Basis: BasisEstimate, Source: "a coarser emulsion starts with less soap to help it on; size estimated",
	}}
}
