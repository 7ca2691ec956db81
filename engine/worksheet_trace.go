package engine

// trace writes the minutes to trace and the factors behind them.
func (s *sheet) trace() {
	t := s.f.Behavior.Trace
	if t == nil {
		return
	}
	inputs := []WorksheetInput{s.of("strength", "water.batch_strength_pct"), s.of("superfat", "superfat.batch.superfat_pct")}
	if s.has("profile.known_of_fats_pct") {
		inputs = append(inputs, s.of("known", "profile.known_of_fats_pct"))
	}
	for _, t := range []struct {
		field string
		v     Optional
	}{{"fats_c", s.w.p.recipe.Process.FatsC}, {"lye_c", s.w.p.recipe.Process.LyeC}} {
		if v, ok := t.v.Get(); ok {
			inputs = append(inputs, request(t.field, v, "degC", "recipe.process."+t.field))
		}
	}
	band := func(id, label, unit string, b Band, e Evidence) {
		for _, end := range []struct {
			word string
			v    float64
		}{{"low", b.Low}, {"typical", b.Typical}, {"high", b.High}} {
			s.add(WorksheetLine{ID: id + "." + end.word, Label: label + ", " + end.word, Unit: unit, Value: end.v, Method: MethodTrace, Inputs: inputs, Evidence: e})
		}
	}
	for i := range t.Factors {
		x := &t.Factors[i]
		band("behavior.trace.factors."+x.LineID, x.Name, "1", Band{x.Low, x.Typical, x.High}, x.Evidence)
	}
	estimate := Evidence{Basis: Estimate, Source: "reference batch from common practice, times the factors"}
	band("behavior.trace.thin_min", "Minutes to thin trace", "min", t.Thin, estimate)
	band("behavior.trace.medium_min", "Minutes to medium trace", "min", t.Medium, estimate)
	band("behavior.trace.thick_min", "Minutes to thick trace", "min", t.Thick, estimate)
	band("behavior.trace.standing_thin_min", "Minutes to thin trace when left standing", "min", t.StandingThin, estimate)
}
