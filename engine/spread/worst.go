package spread

import "math"

// Worst gives the lowest and the highest superfat that any combination of the
// sources can reach, fractions.
func (m *Model) Worst() (low, high float64) {
	if !m.sound() {
		return 0, 0
	}
	return 1 - m.ratioEnd(+1), 1 - m.ratioEnd(-1)
}

// ratioEnd is the greatest (side +1) or least (side -1) A/B over the box of all
// sources. The ratio of two linear forms is extreme at a corner; Dinkelbach's
// method (Management Science 13, 1967) finds it: put every source at the end
// that helps at the present ratio, take the ratio there, repeat. The ratio
// moves one way only and there are finitely many corners, two or three rounds
// in practice; the limit on rounds only stops rounding from going in circles.
func (m *Model) ratioEnd(side float64) float64 {
	inv := 1 / m.Fat
	best := m.Alkali / m.Fat // as in Best, so that without sources the ends are Best to the bit
	r := best
	for range len(m.Sources) + 2 {
		a, b := best, 1.0
		for i := range m.Sources {
			s := &m.Sources[i]
			da, db := float64(s.Alkali*inv), float64(s.Fat*inv)
			w := math.Copysign(side*s.times(), side*(da-float64(r*db)))
			a += float64(w * da)
			b += float64(w * db)
		}
		next := a / b
		if !(side*(next-r) > 0) {
			break
		}
		r = next
	}
	return r
}
