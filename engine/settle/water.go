package settle

import "lixivium.example/engine/unit"

// water: plain = W - stock water - water of doses and carriers from the recipe;
// on-top water, granted requests and formed water come beyond W.
func (r *Result) water(in *Batch) {
	w := &in.Water
	r.Asked = w.grams(r.F, r.Weighed)
	t := r.tally(in)
	switch {
	case w.PlainFixed:
		r.Plain = w.Plain
	case w.Ask != NotAsked:
		r.Plain = r.Asked - r.Stock - t.fromRecipe
		// A remainder within the rounding of the sums is none.
		switch nothing := float64(1e-9 * r.Asked); {
		case r.Plain < -nothing:
			r.Short, r.Plain = -r.Plain, 0
		case r.Plain < nothing:
			r.Plain = 0
		}
	}
	r.OnTop += r.Granted
	r.formed(in, &t)
	r.Total = r.Plain + r.Stock + r.Own + r.Brought + r.Formed + r.Granted
	r.Free = max(0, r.Total-r.Bound)

	jugWater := r.Plain + r.GrantJug
	r.JugMass = r.LyeMass + jugWater + t.beforeLye
	for k := range r.JugPure {
		r.JugPure[k] = float64(r.Mol[k] * in.Alkali.Stock[k].PureGMol)
	}
	r.Base = r.F - t.held + r.LyeMass + jugWater + t.batch
	r.Surface = t.surface
	r.Mass = r.Base + t.portions + t.surface

	// Free water of a portion: its share of the base's water, and its own.
	base := r.Plain + r.GrantJug + r.Stock + r.Own + t.batchWater + float64(t.baseFormed*unit.MolarMassWater)
	for i, f := range in.Shares {
		p := &r.Portions[i]
		p.Free = max(0, float64(f*(base-t.batchBound))+p.water+float64(p.formed*unit.MolarMassWater)-p.bound)
	}
}

// tally is what the doses add up to on the way.
type tally struct {
	fromRecipe, beforeLye    float64
	held                     float64 // grams held back for portions
	batch, portions, surface float64 // grams of doses
	batchWater, batchBound   float64
	baseFormed               float64 // mol that form water
	lackingFree              float64 // mol of free acid that went to the surface
}

// tally sums grams and water of the doses, whole batch and portion by portion.
func (r *Result) tally(in *Batch) (t tally) {
	for i := range in.Doses {
		d := &in.Doses[i]
		if d.OnSurface {
			t.surface += d.G
			if d.HeldBack >= 0 {
				t.held += d.G
				t.lackingFree += float64(d.G * in.Lines[d.HeldBack].Free)
			}
			continue
		}
		if d.HeldBack >= 0 {
			if d.Portion != Whole {
				t.held += d.G
				r.Portions[d.Portion].own += d.G
				t.portions += d.G
			}
			continue
		}
		brought, bound, request := float64(d.G*d.Water), float64(d.G*d.Bound), float64(d.G*d.Requested)
		granted := d.Granted
		r.Brought += brought
		r.Bound += bound
		r.Request += request
		r.Granted += granted
		if d.FromRecipe {
			t.fromRecipe += brought
		} else {
			r.OnTop += brought
		}
		if d.BeforeLye {
			t.beforeLye += d.G
		}
		acid := d.WaterFormingMol()
		switch {
		case d.Portion != Whole:
			p := &r.Portions[d.Portion]
			p.own += d.G + granted
			p.water += brought + granted
			p.bound += bound
			p.formed += acid
			t.portions += d.G + granted
		default:
			t.batch += d.G
			t.batchWater += brought
			t.batchBound += bound
			t.baseFormed += acid
			r.GrantJug += granted
		}
	}
	return t
}

// formed: 18.015 g per mol of alkali that an acid takes, free fatty acids
// included, and never more acid than there is alkali.
func (r *Result) formed(in *Batch, t *tally) {
	var free float64
	for i := range in.Lines {
		free += float64(in.Lines[i].G * in.Lines[i].Free)
	}
	free -= t.lackingFree
	for i := range r.Portions {
		p := &r.Portions[i]
		free -= p.heldFree
		p.formed += p.heldFree
	}
	t.baseFormed += free
	all := t.baseFormed
	for i := range r.Portions {
		all += r.Portions[i].formed
	}
	if all > r.A {
		part := r.A / all
		t.baseFormed = float64(t.baseFormed * part)
		for i := range r.Portions {
			r.Portions[i].formed = float64(r.Portions[i].formed * part)
		}
		all = r.A
	}
	r.Formed = float64(all * unit.MolarMassWater)
}
