package settle

// Result is a settled batch. Grams and mol; superfats are fractions.
type Result struct {
	F float64 // recipe fats, g
	B float64 // their need, mol
	H float64 // need of what is held back for portions and for the surface, mol
	// Lacking is the part of H held back for the surface: no batter gets it.
	Lacking float64

	SumQBatch, SumQ float64 // acids of whole-batch doses; of all doses
	SumBBatch, SumB float64 // brought fats likewise
	SumQAdded       float64 // acids whose alkali is added
	SumBAdded       float64 // brought fats whose alkali is added

	A        float64 // alkali weighed, mol
	Mol      [Kinds]float64
	Superfat float64 // s' of the batch
	Lowest   int     // index of the portion with the lowest superfat
	Portions []Portion

	Weighed  float64 // alkali as weighed (solution: pure), g
	Dry      float64 // the same without the water a solid holds, g
	LyeMass  float64 // alkali material on the balance, stock included, g
	Asked    float64 // W, g
	Stock    float64 // stock water, g
	Own      float64 // water held by solid alkali, g
	Plain    float64 // plain water for the jug, granted requests of whole-batch doses not counted, g
	Short    float64 // grams by which liquids exceed the asked water; 0 when they fit
	Brought  float64
	Formed   float64
	OnTop    float64 // on-top liquids and granted requests
	Request  float64
	Granted  float64
	GrantJug float64 // of Granted, what goes into the jug
	Total    float64
	Bound    float64
	Free     float64
	JugMass  float64 // all that is in the jug when the alkali dissolves, g
	JugPure  [Kinds]float64
	Base     float64 // base batter, g
	Mass     float64 // everything weighed, g
	Surface  float64 // of that, on the surface, g
}

// Portion is a settled portion.
type Portion struct {
	Superfat   float64
	Need       float64 // the denominator of its superfat, mol
	Alkali     float64 // the numerator: alkali left for fats, mol
	Base, Mass float64 // base batter; with its doses, g
	Free       float64 // free water, g
	Strength   float64 // dry alkali / (dry alkali + free water)
	held       float64 // h_p, mol
	heldFree   float64
	q, b       float64
	own        float64 // grams of its doses
	water      float64 // brought and granted
	bound      float64
	formed     float64 // mol that form water in it
}

// Settle works a batch out. Superfat and strengths of an empty batch are 0.
func Settle(in *Batch) *Result {
	r := &Result{Portions: make([]Portion, len(in.Shares))}
	r.fats(in)
	r.doses(in)
	r.alkali(in)
	r.water(in)
	r.portions(in)
	return r
}

// AskedBeforeAcids gives W0: the asked water when only the recipe fats take
// alkali. A dose in percent of the asked water takes its grams from it, so that
// its own acid cannot move its own dose.
func AskedBeforeAcids(in *Batch) float64 {
	var r Result
	r.Portions = make([]Portion, len(in.Shares))
	r.fats(in)
	r.held(in)
	a := in.Alkali
	if !a.Fixed {
		r.A = float64((r.B - r.H) * (1 - a.Superfat))
		r.split(&a)
	} else {
		r.Mol = a.Mol
	}
	r.weigh(&a)
	return in.Water.grams(r.F, r.Weighed)
}

// fats sums F, its need B.
func (r *Result) fats(in *Batch) {
	for i := range in.Lines {
		l := &in.Lines[i]
		r.F += l.G
		r.B += float64(l.G * l.Need)
	}
}

// held sums h_p, the need of fat held back for portion p, and H. What is held
// back for a whole-batch dose returns to the whole and leaves nobody short;
// what goes onto the surface returns to nobody.
func (r *Result) held(in *Batch) {
	for i := range in.Doses {
		d := &in.Doses[i]
		if d.HeldBack < 0 || d.Portion == Whole && !d.OnSurface {
			continue
		}
		l := &in.Lines[d.HeldBack]
		h := float64(d.G * l.Need)
		if d.OnSurface {
			r.H += h
			r.Lacking += h
			continue
		}
		r.Portions[d.Portion].held += h
		r.Portions[d.Portion].heldFree += float64(d.G * l.Free)
		r.H += h
	}
}

// doses sums acids q and brought fats b, of the batch and of each portion.
func (r *Result) doses(in *Batch) {
	r.held(in)
	for i := range in.Doses {
		d := &in.Doses[i]
		if d.HeldBack >= 0 {
			continue // its fat is recipe fat
		}
		q, b := float64(d.G*d.Acid), float64(d.G*d.Need)
		r.SumQ += q
		r.SumB += b
		if d.Portion != Whole {
			p := &r.Portions[d.Portion]
			p.q += q
			p.b += b
			continue
		}
		r.SumQBatch += q
		r.SumBBatch += b
		if d.Added {
			r.SumQAdded += q
			r.SumBAdded += b
		}
	}
}

// alkali: A = (B - H + sum_K b)(1 - s) + sum_K q, or as stated.
func (r *Result) alkali(in *Batch) {
	a := &in.Alkali
	if a.Fixed {
		r.Mol = a.Mol
		r.A = a.Mol[NaOH] + a.Mol[KOH]
	} else {
		r.A = float64((r.B-r.H+r.SumBAdded)*(1-a.Superfat)) + r.SumQAdded
		r.split(a)
	}
	r.weigh(a)
	// s' = 1 - (A - sum q)/(B + sum b), less what the batter lacks
	r.Superfat = superfat(r.A-r.SumQ, r.B-r.Lacking+r.SumB)
}

// split shares A out by the asked mol, the acids' part in the same ratio.
func (r *Result) split(a *Alkali) {
	for k := range r.Mol {
		r.Mol[k] = float64(r.A * a.Share[k])
	}
}

// weigh turns mol into what goes on the balance.
func (r *Result) weigh(a *Alkali) {
	for k := range r.Mol {
		st := &a.Stock[k]
		r.Weighed += float64(r.Mol[k] * st.GPerMol)
		r.LyeMass += float64(r.Mol[k] * st.MassGMol)
		r.Stock += float64(r.Mol[k] * st.WaterGMol)
		r.Own += float64(r.Mol[k] * st.OwnGMol)
	}
	r.Dry = r.Weighed - r.Own
}

// superfat is 1 - alkali/need, and 0 where there is nothing to saponify.
func superfat(alkali, need float64) float64 {
	if need <= 0 {
		return 0
	}
	return 1 - alkali/need
}

// grams of asked water for fats F and alkali as weighed.
func (w *Water) grams(fats, alkali float64) float64 {
	var g float64
	switch w.Ask {
	case AskGrams:
		g = w.Value
	case AskConcentration:
		g = alkali * (1 - w.Value) / w.Value
	case AskRatio:
		g = float64(alkali * w.Value)
	case AskOfFats:
		g = float64(fats * w.Value)
	}
	return float64(g * w.Keep)
}

// portions: s_p = 1 - (f (A - sum_batch q) - sum_p q)/(f (B - H + sum_batch b) + h_p + sum_p b).
func (r *Result) portions(in *Batch) {
	for i, f := range in.Shares {
		p := &r.Portions[i]
		p.Alkali = float64(f*(r.A-r.SumQBatch)) - p.q
		p.Need = float64(f*(r.B-r.H+r.SumBBatch)) + p.held + p.b
		p.Superfat = superfat(p.Alkali, p.Need)
		p.Base = float64(f * r.Base)
		p.Mass = p.Base + p.own
		if p.Superfat < r.Portions[r.Lowest].Superfat {
			r.Lowest = i
		}
		if dry := float64(f * r.Dry); dry+p.Free > 0 {
			p.Strength = dry / (dry + p.Free)
		}
	}
}
