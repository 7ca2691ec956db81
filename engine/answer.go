package engine

import (
	"lixivium.example/engine/lye"
	"lixivium.example/engine/settle"
	"lixivium.example/engine/unit"
)

// answer writes the settled batch out.
func (w *work) answer() *Formulation {
	f := &Formulation{Safety: safetyLines}
	f.Alkali = w.alkaliAnswer()
	f.Water = w.waterAnswer()
	f.BatchSuperfat = w.batch
	f.Superfat = w.portions[w.r.Lowest]
	f.SuperfatIf = w.superfatIf()
	f.Fats = w.fatAnswers()
	f.Doses = w.doseAnswers()
	f.Profile = w.profile()
	f.Behavior = w.behavior()
	f.WeighOut = w.weighOut()
	w.volumesInto(f)
	return f
}

// alkaliAnswer is the alkali of the batch.
func (w *work) alkaliAnswer() AlkaliAnswer {
	r := w.r
	a := AlkaliAnswer{TotalMol: unit.Moles(r.A), FatsNeedMol: unit.Moles(r.B), AcidsMol: unit.Moles(r.SumQ)}
	weighed := [settle.Kinds]*unit.Grams{&a.NaOHG, &a.KOHG}
	pure := [settle.Kinds]*unit.Grams{&a.NaOHPureG, &a.KOHPureG}
	stock := [settle.Kinds]*unit.Grams{&a.NaOHStockG, &a.KOHStockG}
	purity := [settle.Kinds]*unit.Percent{&a.NaOHPurityPct, &a.KOHPurityPct}
	for k, mol := range r.Mol {
		st := &w.in.Alkali.Stock[k]
		if !w.p.alkali[k].used {
			continue
		}
		*weighed[k] = unit.Grams(mol * st.GPerMol)
		*pure[k] = unit.Grams(mol * st.PureGMol)
		*purity[k] = pct(w.p.alkali[k].pure)
		if w.p.alkali[k].solution {
			*stock[k] = unit.Grams(mol * st.MassGMol)
		}
	}
	a.KOHOfMolesPct = unit.PercentOf(r.Mol[settle.KOH], r.A)
	a.KOHOfGramsPct = unit.PercentOf(a.KOHG, a.NaOHG+a.KOHG)
	a.LyeEndC = w.lyeEnd()
	return a
}

// lyeEnd is the temperature the lye may reach when solid alkali goes into the
// water and no heat is lost; 0 when a stock is poured.
func (w *work) lyeEnd() unit.Celsius {
	for k := range w.p.alkali {
		if w.p.alkali[k].used && w.p.alkali[k].solution {
			return 0
		}
	}
	pct := w.jugPct()
	end, ok := lye.EndC(pct[settle.NaOH], pct[settle.KOH], unit.Celsius(w.p.recipe.Process.WaterC.Or(20)))
	if !ok {
		return 0
	}
	return end
}

// waterAnswer is the water of the batch.
func (w *work) waterAnswer() WaterAnswer {
	r := w.r
	g := func(v float64) unit.Grams { return unit.Grams(v) }
	a := WaterAnswer{
		AskedG: g(r.Asked), PlainG: g(r.Plain), FromStockG: g(r.Stock), InAlkaliG: g(r.Own),
		BroughtG: g(r.Brought), FormedG: g(r.Formed), RequestedG: g(r.Request), GrantedG: g(r.Granted),
		OnTopG: g(r.OnTop), TotalG: g(r.Total), BoundG: g(r.Bound), FreeG: g(r.Free),
		JugStrengthPct:      unit.PercentOf(r.Weighed, r.JugMass),
		JugPurePct:          unit.PercentOf(r.JugPure[settle.NaOH]+r.JugPure[settle.KOH], r.JugMass),
		BatchStrengthPct:    unit.PercentOf(r.Dry, r.Dry+r.Free),
		LyeConcentrationPct: unit.PercentOf(r.Weighed, r.Weighed+r.Asked),
		OfFatsPct:           unit.PercentOf(r.Asked, r.F),
	}
	if r.Weighed > 0 {
		a.PerAlkaliRatio = r.Asked / r.Weighed
	}
	for k := range r.Mol {
		st := &w.in.Alkali.Stock[k]
		if b := float64(r.Mol[k] * (st.WaterGMol + st.OwnGMol)); b > 0 {
			a.Shares = append(a.Shares, WaterShare{LineID: alkaliField[k], BroughtG: g(b), FromRecipe: w.p.alkali[k].solution})
		}
	}
	for i := range w.in.Doses {
		d := &w.in.Doses[i]
		s := WaterShare{
			LineID: w.p.doses[i].id, BroughtG: g(d.G * d.Water), BoundG: g(d.G * d.Bound),
			RequestedG: g(d.G * d.Requested), FromRecipe: d.FromRecipe,
		}
		if d.HeldBack < 0 {
			s.FormedG = g(d.WaterFormingMol() * unit.MolarMassWater)
		}
		if s.BroughtG != 0 || s.FormedG != 0 || s.BoundG != 0 || s.RequestedG != 0 {
			a.Shares = append(a.Shares, s)
		}
	}
	return a
}

// superfatIf is the batch under other assumptions about what is unstated.
func (w *work) superfatIf() []Figure {
	var out []Figure
	if w.need() == 0 {
		return nil
	}
	if a := &w.p.alkali[settle.NaOH]; a.used && !a.stated {
		others := []float64{96, 100}
		if w.p.given {
			others = []float64{98, 96}
		}
		for _, p := range others {
			out = append(out, Figure{"naoh " + num(p) + " %", w.ifPurity(settle.NaOH, p), "percent"})
		}
	}
	if a := &w.p.alkali[settle.KOH]; a.used && !a.stated {
		others := []float64{85, 95}
		if w.p.given {
			others = []float64{95, 85}
		}
		for _, p := range others {
			out = append(out, Figure{"koh " + num(p) + " %", w.ifPurity(settle.KOH, p), "percent"})
		}
	}
	if extra := w.extraNeed(); extra > 0 {
		out = append(out, Figure{"waxes react fully", 100 - 100*(w.r.A-w.r.SumQ)/(w.need()+extra), "percent"})
	}
	return out
}

// need is what all fats of the batter need, mol.
func (w *work) need() float64 { return w.r.B - w.r.Lacking + w.r.SumB }

// ifPurity is the superfat of the batch if the alkali as weighed were of another
// purity, percent.
func (w *work) ifPurity(k int, pct float64) float64 {
	more := w.r.Mol[k] * (pct/100 - w.p.alkali[k].pure) / w.p.alkali[k].pure
	return 100 - 100*(w.r.A+more-w.r.SumQ)/w.need()
}

// extraNeed is the need of waxes beyond their acid value, mol.
func (w *work) extraNeed() float64 {
	sum := 0.0
	for i := range w.p.lines {
		for j := range w.p.lines[i].parts {
			pt := &w.p.lines[i].parts[j]
			sum += float64(float64(w.in.Lines[i].G*pt.share) * molPerG(pt.extra))
		}
	}
	return sum
}

// fatAnswers are the fats as used, premixes expanded.
func (w *work) fatAnswers() []FatAnswer {
	n := 0
	for i := range w.p.lines {
		n += len(w.p.lines[i].parts)
	}
	out := make([]FatAnswer, 0, n)
	for i := range w.p.lines {
		l := &w.p.lines[i]
		for j := range l.parts {
			pt := &l.parts[j]
			g := float64(w.in.Lines[i].G * pt.share)
			a := FatAnswer{
				LineID: pt.id, Name: pt.name, MassG: unit.Grams(g), SharePct: unit.PercentOf(g, w.r.F),
				SV: unit.MgKOHPerG(pt.sv), SVLow: unit.MgKOHPerG(pt.low), SVHigh: unit.MgKOHPerG(pt.high),
				SVUpperBoundExtra: unit.MgKOHPerG(pt.extra), Evidence: pt.evidence, NeedMol: unit.Moles(g * molPerG(pt.sv)),
			}
			if pt.row != nil {
				a.FatID = pt.row.ID
			}
			out = append(out, a)
		}
	}
	return out
}

// doseAnswers are the doses as used, carriers beside them.
func (w *work) doseAnswers() []DoseAnswer {
	var out []DoseAnswer
	for i := range w.p.doses {
		d, x := &w.p.doses[i], &w.in.Doses[i]
		if d.carrierOf >= 0 {
			out[len(out)-1].CarrierG = unit.Grams(x.G)
			continue
		}
		out = append(out, DoseAnswer{
			DoseID: d.id, Name: d.name, MassG: unit.Grams(x.G), AlkaliMol: unit.Moles(x.G * x.Acid),
			FatsNeedMol: unit.Moles(x.G * x.Need), AlkaliAdded: d.added, OfFatsPct: unit.PercentOf(x.G, w.r.F), Steps: d.adj.Steps,
		})
	}
	return out
}

// behavior collects the factors that doses bring.
func (w *work) behavior() Behavior {
	b := Behavior{TraceTimeFactor: 1}
	for i := range w.p.doses {
		d := &w.p.doses[i]
		b.AdditiveHeatJ += float64(w.in.Doses[i].G * d.adj.HeatJPerG)
		factor := func(x Band) Factor {
			return Factor{Name: d.name, LineID: d.id, Low: x.Low, Typical: x.Typical, High: x.High, Evidence: d.adj.Evidence}
		}
		if d.adj.TraceTime.Typical != 0 {
			b.TraceTime = append(b.TraceTime, factor(d.adj.TraceTime))
			b.TraceTimeFactor *= d.adj.TraceTime.Typical
		}
		if d.adj.Firmness.Typical != 0 {
			b.Firmness = append(b.Firmness, factor(d.adj.Firmness))
		}
	}
	for _, x := range w.p.fatFactors {
		factor := func(b Band) Factor {
			return Factor{Name: x.Fat, LineID: x.Fat, Low: b.Low, Typical: b.Typical, High: b.High, Evidence: x.Evidence}
		}
		if x.TraceTime.Typical != 0 {
			b.TraceTime = append(b.TraceTime, factor(x.TraceTime))
			b.TraceTimeFactor *= x.TraceTime.Typical
		}
		if x.Firmness.Typical != 0 {
			b.Firmness = append(b.Firmness, factor(x.Firmness))
		}
	}
	return b
}

// volumesInto fills totals and portions.
func (w *work) volumesInto(f *Formulation) {
	jug, base, all, own := w.volumes()
	f.Totals = Totals{
		FatsG: unit.Grams(w.r.F), BatterG: unit.Grams(w.r.Mass), BatterML: unit.Milliliters(all),
		Density: unit.GramsPerML(w.r.Mass / all), JugML: unit.Milliliters(jug),
	}
	f.Portions = make([]PortionAnswer, len(w.shares))
	for i, share := range w.shares {
		p := &w.r.Portions[i]
		f.Portions[i] = PortionAnswer{
			PortionID: w.p.portions[i].id, BaseG: unit.Grams(p.Base), BatterG: unit.Grams(p.Mass),
			BatterML: unit.Milliliters(float64(share*base) + own[i]), FreeWaterG: unit.Grams(p.Free),
			BatchStrengthPct: pct(p.Strength), Superfat: w.portions[i],
		}
	}
}
