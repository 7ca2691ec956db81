package trace

// Estimate gives the times to trace of a batch.
func Estimate(b Batch) Times {
	factors := make([]Factor, 0, 7+len(b.Additives))
	factors = append(factors, fats(b), strength(b.StrengthPct), temperature(b), freeAcid(b.FreeAcidPct), superfat(b.SuperfatPct))
	factors = append(factors, stirring(b.HandStirred)...)
	for _, f := range b.Additives {
		factors = append(factors, additive(f))
	}
	stirred, standing := one, one
	for _, f := range factors {
		if f.Scope != StandingTime {
			stirred = stirred.times(f.Band)
		}
		if f.Scope != StirredTimes {
			standing = standing.times(f.Band)
		}
	}
	return Times{
		Thin:         referenceThin.by(stirred),
		Medium:       referenceMedium.by(stirred),
		Thick:        referenceThick.by(stirred),
		StandingThin: referenceStanding.by(standing),
		Factors:      factors,
	}
}

// additive takes a caller's factor as it is. Callers validate; one that slips
// through must still not turn minutes into nonsense, nor vanish unseen.
func additive(f Factor) Factor {
	switch {
	case f.Band == Band{}:
		f.Band = one
	case !f.usable():
		f.Band = one
		f.Name += " (its figures are not usable and do not count)"
	}
	return f
}
