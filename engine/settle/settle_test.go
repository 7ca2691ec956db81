package settle

import (
	"math"
	"math/rand/v2"
	"testing"
)

// random makes a batch of the shapes the rules must stand: acids and brought
// fats of the whole and of portions, fat held back for colors, mixed alkali,
// stock, waxes at a low need.
func random(rng *rand.Rand, heldBack bool) *Batch {
	in := &Batch{Shares: []float64{1}}
	for range 1 + rng.IntN(8) {
		need := (60 + 220*rng.Float64()) / 56105.6
		free := 0.0
		if rng.IntN(5) == 0 {
			free = need
		}
		in.Lines = append(in.Lines, Line{G: 20 + 800*rng.Float64(), Need: need, Free: free})
	}
	if n := rng.IntN(5); n > 1 {
		in.Shares = in.Shares[:0]
		sum := 0.0
		for range n {
			f := 0.05 + rng.Float64()
			in.Shares = append(in.Shares, f)
			sum += f
		}
		for i := range in.Shares {
			in.Shares[i] /= sum
		}
	}
	for range rng.IntN(6) {
		d := Dose{G: 20 * rng.Float64(), Portion: Whole, HeldBack: -1, Added: rng.IntN(2) == 0}
		if len(in.Shares) > 1 && rng.IntN(2) == 0 {
			d.Portion, d.Added = rng.IntN(len(in.Shares)), false
		}
		switch rng.IntN(4) {
		case 0:
			d.Acid, d.Dry = 0.02*rng.Float64(), rng.IntN(2) == 0
		case 1:
			d.Need = 0.004 * rng.Float64()
		case 2:
			d.Water, d.FromRecipe = rng.Float64(), rng.IntN(2) == 0
			d.Bound, d.Requested = rng.Float64(), rng.Float64()
			d.Granted = float64(rng.IntN(2)) * d.G * d.Requested
		case 3:
			if heldBack {
				d.HeldBack, d.Added = rng.IntN(len(in.Lines)), false
				d.G = min(d.G, in.Lines[d.HeldBack].G/8)
			}
		}
		in.Doses = append(in.Doses, d)
	}
	x := float64(rng.IntN(2)) * rng.Float64()
	p := 0.9 + 0.1*rng.Float64()
	in.Alkali = Alkali{
		Superfat: 0.2 * rng.Float64(),
		Share:    [Kinds]float64{1 - x, x},
		Stock: [Kinds]Stock{
			{GPerMol: 39.997 / p, PureGMol: 39.997, MassGMol: 39.997 / p},
			{GPerMol: 56.1056 / p, PureGMol: 56.1056, MassGMol: 56.1056 / p, OwnGMol: 56.1056/p - 56.1056},
		},
	}
	in.Water = Water{Ask: AskConcentration, Value: 0.2 + 0.2*rng.Float64(), Keep: 1}
	return in
}

// TestNoPortionBelowAsked tries the rules on 40,000 random batches: acids,
// brought and held-back fats and portions included, no portion falls below the
// asked superfat.
func TestNoPortionBelowAsked(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	held := 0
	for i := range 40000 {
		in := random(rng, true)
		r := Settle(in)
		if r.H > 0 {
			held++
		}
		for p, got := range r.Portions {
			if got.Superfat < in.Alkali.Superfat-1e-12 {
				t.Fatalf("batch %d portion %d: superfat %v below the asked %v\n%+v", i, p, got.Superfat, in.Alkali.Superfat, in)
			}
		}
	}
	if held < 5000 {
		t.Fatalf("only %d batches held fat back; the trial is empty", held)
	}
}

// TestAskedShown: without held-back fat and with every acid added, the asked
// superfat is the shown one, and giving the alkali it worked out gives it back.
func TestAskedShown(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	inverted := 0
	for range 40000 {
		in := random(rng, false)
		absorbs := false
		for _, d := range in.Doses {
			absorbs = absorbs || (!d.Added && d.Acid+d.Need > 0)
		}
		r := Settle(in)
		if !absorbs {
			inverted++
			if math.Abs(r.Superfat-in.Alkali.Superfat) > 1e-12 {
				t.Fatalf("asked %v, shown %v", in.Alkali.Superfat, r.Superfat)
			}
		} else if r.Superfat < in.Alkali.Superfat-1e-12 {
			t.Fatalf("absorbing doses lowered the superfat: asked %v, shown %v", in.Alkali.Superfat, r.Superfat)
		}
		in.Alkali.Fixed, in.Alkali.Mol = true, r.Mol
		if back := Settle(in); math.Abs(back.Superfat-r.Superfat) > 1e-12 || math.Abs(back.Total-r.Total) > 1e-9*r.Total {
			t.Fatalf("given alkali does not invert: %v, %v", back.Superfat, r.Superfat)
		}
	}
	if inverted < 5000 {
		t.Fatalf("only %d batches added everything", inverted)
	}
}

// TestScalingLinear: every mass of a batch k times as large is k times as
// large, every share the same.
func TestScalingLinear(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for range 5000 {
		in := random(rng, true)
		r := Settle(in)
		k := math.Exp(6*rng.Float64() - 3)
		for i := range in.Lines {
			in.Lines[i].G *= k
		}
		for i := range in.Doses {
			in.Doses[i].G *= k
			in.Doses[i].Granted *= k
		}
		s := Settle(in)
		for name, pair := range map[string][2]float64{
			"alkali": {r.A, s.A}, "mass": {r.Mass, s.Mass}, "plain": {r.Plain, s.Plain},
			"total": {r.Total, s.Total}, "free": {r.Free, s.Free}, "jug": {r.JugMass, s.JugMass},
		} {
			if math.Abs(pair[0]*k-pair[1]) > 1e-9*(math.Abs(pair[1])+1) {
				t.Fatalf("%s: %v times %v is not %v", name, pair[0], k, pair[1])
			}
		}
		for p := range r.Portions {
			if math.Abs(r.Portions[p].Superfat-s.Portions[p].Superfat) > 1e-9 {
				t.Fatalf("superfat moved with size")
			}
		}
	}
}

// TestMassesAddUp: portions and surface make up the batch, and their free water
// the free water of the batch where nothing binds more than there is.
func TestMassesAddUp(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for range 5000 {
		in := random(rng, true)
		for i := range in.Doses {
			in.Doses[i].Bound = 0
		}
		r := Settle(in)
		mass, free := r.Surface, 0.0
		for _, p := range r.Portions {
			mass += p.Mass
			free += p.Free
		}
		if math.Abs(mass-r.Mass) > 1e-9*r.Mass || math.Abs(free-r.Free) > 1e-9*r.Free {
			t.Fatalf("portions %v g of %v, free water %v of %v", mass, r.Mass, free, r.Free)
		}
	}
}

// TestAskedWaterDose: W0 is the asked water of the same batch without acids.
func TestAskedWaterDose(t *testing.T) {
	in := &Batch{
		Lines:  []Line{{G: 1000, Need: 192.0 / 56105.6}},
		Shares: []float64{1},
		Doses:  []Dose{{G: 30, Portion: Whole, HeldBack: -1, Acid: 0.0156, Added: true}},
		Alkali: Alkali{Superfat: 0.05, Share: [Kinds]float64{1, 0}, Stock: [Kinds]Stock{{GPerMol: 39.997, PureGMol: 39.997, MassGMol: 39.997}}},
		Water:  Water{Ask: AskRatio, Value: 2, Keep: 1},
	}
	w0 := AskedBeforeAcids(in)
	in.Doses = nil
	if want := Settle(in).Asked; math.Abs(w0-want) > 1e-12*want {
		t.Fatalf("W0 = %v, want %v", w0, want)
	}
}

func BenchmarkSettle(b *testing.B) {
	in := random(rand.New(rand.NewPCG(9, 9)), true)
	b.ReportAllocs()
	for b.Loop() {
		Settle(in)
	}
}
