package spread

import "math"

// shape is a model made ready for evaluation, everything as multiples of Fat:
// the widest rectangles kept as such, the others melted into one normal. It is
// chosen once, at the best estimate, so that all probabilities of one model
// come from one distribution and rise with the superfat asked for.
type shape struct {
	alkali    float64 // A/B
	low, high float64 // worst superfats
	kept      [maxKept]rect
	n         int      // how many of kept are in use, widest first
	rest      variance // of the rectangles that were melted
	all       variance // of all
	kurtosis  float64  // excess kurtosis of A - (1-s)B at the best estimate
}

// maxKept: every kept rectangle doubles the corners of the closed form. Four
// are enough for the interval ends to agree with sampling to 0.05 point.
const maxKept = 4

// rect is one rectangle: half-widths of alkali and fat, and of A - (1-s)B at
// the best estimate, which decides what is kept.
type rect struct{ a, b, c float64 }

// variance of A - qB as a polynomial of q = 1 - s: aa - 2 q ab + q² bb.
type variance struct{ aa, ab, bb float64 }

func (v *variance) add(r rect) {
	v.aa += float64(r.a*r.a) / 3
	v.ab += float64(r.a*r.b) / 3
	v.bb += float64(r.b*r.b) / 3
}

func (v *variance) at(q float64) float64 {
	return max(0, v.aa-float64(2*q*v.ab)+float64(q*q*v.bb))
}

// slope is the change of at with the superfat, which is minus that with q.
func (v *variance) slope(q float64) float64 {
	return 2 * (v.ab - float64(q*v.bb))
}

// wider orders rectangles; ties are broken by their parts so that the order of
// the sources never matters.
func (r *rect) wider(o *rect) bool {
	if r.c != o.c {
		return r.c > o.c
	}
	if r.a != o.a {
		return r.a > o.a
	}
	return r.b > o.b
}

// Rectangles are melted into the normal where keeping them costs more than it
// tells: those under a fifth of the normal's standard deviation (the fourth
// cumulant lost changes a probability by less than 1e-5), and those so narrow
// beside the widest that the closed form would divide rounding errors by their
// product.
const (
	narrowSq     = 0.04 // (c/sigma)² under which a rectangle is melted
	productLeast = 1e-4 // least product of c over the widest c, in preparing
)

// prepare fills s and reports whether the model has a superfat.
func (s *shape) prepare(m *Model) bool {
	if !m.sound() {
		return false
	}
	inv := 1 / m.Fat
	s.alkali = m.Alkali / m.Fat
	s.low, s.high = 1-m.ratioEnd(+1), 1-m.ratioEnd(-1)
	var fourth float64
	for i := range m.Sources {
		src := &m.Sources[i]
		r := rect{a: float64(src.Alkali * inv), b: float64(src.Fat * inv)}
		r.c = math.Abs(r.a - float64(s.alkali*r.b))
		if math.Signbit(r.a) { // the sign of a rectangle is free: make it the same for all
			r.a, r.b = -r.a, -r.b
		}
		for range int(src.times()) {
			s.all.add(r)
			fourth += float64(float64(r.c*r.c) * float64(r.c*r.c))
			s.keep(r)
		}
	}
	if v := s.all.at(s.alkali); v*v > 0 {
		s.kurtosis = -2.0 / 15 * fourth / (v * v) // fourth cumulant of a rectangle: -2/15 c^4
	}
	s.melt()
	return true
}

// keep puts r among the widest; what no longer fits goes to the rest.
func (s *shape) keep(r rect) {
	if s.n == maxKept {
		last := &s.kept[maxKept-1]
		if !r.wider(last) {
			s.rest.add(r)
			return
		}
		s.rest.add(*last)
		s.n--
	}
	i := s.n
	for ; i > 0 && r.wider(&s.kept[i-1]); i-- {
		s.kept[i] = s.kept[i-1]
	}
	s.kept[i] = r
	s.n++
}

// melt moves kept rectangles that are too narrow to the rest.
func (s *shape) melt() {
	for s.n > 0 {
		last := &s.kept[s.n-1]
		product, widest := 1.0, s.kept[0].c
		for i := range s.n {
			product *= s.kept[i].c / widest // NaN when all are 0: melted
		}
		if product >= productLeast && last.c*last.c >= narrowSq*s.rest.at(s.alkali) {
			return
		}
		s.rest.add(*last)
		s.n--
	}
}
