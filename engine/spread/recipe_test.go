package spread

import "math/rand/v2"

// recipe is a batch as the bench knows it: the true model, of which Model is
// the linear form. Masses in g, SV in mg KOH per g, purity as a fraction.
type recipe struct {
	fats        []fatLine
	alkali      float64 // g weighed
	molar       float64 // g/mol
	purity      float64
	purityHalf  float64
	stepFat     float64 // display step of the balance, g; tare and reading both rounded
	stepAlkali  float64
	acid        float64 // mol taken by acids
	acidHalf    float64
	brought     float64 // mol of fat brought by doses
	broughtHalf float64
}

type fatLine struct{ mass, sv, svHalf float64 }

const (
	naoh = 39.997
	koh  = 56.1056
)

func (r *recipe) model() *Model {
	m := &Model{
		Alkali: r.alkali*r.purity/r.molar - r.acid,
		Fat:    r.brought,
		Sources: []Source{
			{Name: "purity", Alkali: r.alkali * r.purityHalf / r.molar},
			{Name: "weighing alkali", Alkali: r.stepAlkali / 2 * r.purity / r.molar, Twice: true},
			{Name: "acid", Alkali: r.acidHalf},
			{Name: "brought", Fat: r.broughtHalf},
		},
	}
	for _, f := range r.fats {
		m.Fat += f.mass * f.sv / 1000 / koh
		m.Sources = append(m.Sources,
			Source{Name: "sv", Fat: f.mass * f.svHalf / 1000 / koh},
			Source{Name: "weighing fat", Fat: r.stepFat / 2 * f.sv / 1000 / koh, Twice: true})
	}
	return m
}

// draw is one superfat from the products themselves.
func (r *recipe) draw(rng *rand.Rand) float64 {
	u := func() float64 { return 2*rng.Float64() - 1 }
	weighed := func(m, step float64) float64 { return m + step/2*(u()+u()) }
	a := weighed(r.alkali, r.stepAlkali)*(r.purity+r.purityHalf*u())/r.molar - r.acid - r.acidHalf*u()
	b := r.brought + r.broughtHalf*u()
	for _, f := range r.fats {
		b += weighed(f.mass, r.stepFat) * (f.sv + f.svHalf*u()) / 1000 / koh
	}
	return 1 - a/b
}

// worked is the example of the five cases: 70 % at SV 190 ± 6, 30 % at
// 256.5 ± 8.5, NaOH of 98.5 ± 0.5 %, superfat 5 %.
func worked(fats, step float64) *recipe {
	r := &recipe{
		fats:  []fatLine{{0.7 * fats, 190, 6}, {0.3 * fats, 256.5, 8.5}},
		molar: naoh, purity: 0.985, purityHalf: 0.005,
		stepFat: step, stepAlkali: step,
	}
	return r.superfat(0.05)
}

// superfat sets the alkali to weigh for a superfat s.
func (r *recipe) superfat(s float64) *recipe {
	b := r.brought
	for _, f := range r.fats {
		b += f.mass * f.sv / 1000 / koh
	}
	r.alkali = (b*(1-s) + r.acid) * r.molar / r.purity
	return r
}

// fourteen is a batch with six fats, as the benchmarks use it.
func fourteen() *recipe {
	r := &recipe{
		fats: []fatLine{
			{400, 190, 6}, {250, 257, 8.5}, {150, 199, 5}, {100, 180, 5}, {60, 188, 5}, {40, 195, 8},
		},
		molar: naoh, purity: 0.98, purityHalf: 0.02, stepFat: 1, stepAlkali: 1,
		acid: 0.05, acidHalf: 0.002,
	}
	return r.superfat(0.03)
}
