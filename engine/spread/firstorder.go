package spread

import "math"

// Contribution is what one source adds to the uncertainty of the superfat.
type Contribution struct {
	Name string
	// Points is the standard uncertainty from this source alone, in superfat
	// points (1 = one percent of the fat's alkali).
	Points float64
	// Share is its share of the variance, a fraction from 0 to 1.
	Share float64
}

// Uncertainty is the standard uncertainty of the superfat, a fraction, by
// first-order propagation (GUM, JCGM 100:2008, clause 5.1.2): a rectangle of
// half-width h has the variance h²/3.
func (m *Model) Uncertainty() float64 {
	if !m.sound() {
		return 0
	}
	return math.Sqrt(m.variance())
}

func (m *Model) variance() float64 {
	best, inv := m.Alkali/m.Fat, 1/m.Fat
	var v float64
	for i := range m.Sources {
		v += m.Sources[i].variance(best, inv)
	}
	return v
}

// variance of the superfat from s alone; best is A/B and inv is 1/B.
func (s *Source) variance(best, inv float64) float64 {
	c := float64(s.Alkali*inv) - float64(best*(s.Fat*inv))
	return s.times() * float64(c*c) / 3
}

// Dominant names the source with the largest share of the variance and gives
// that share, a fraction. Equal shares go to the name that sorts first. Without
// any uncertainty the name is empty and the share 0.
func (m *Model) Dominant() (name string, shareOfVariance float64) {
	if !m.sound() {
		return "", 0
	}
	best, inv := m.Alkali/m.Fat, 1/m.Fat
	var total, most float64
	for i := range m.Sources {
		s := &m.Sources[i]
		v := s.variance(best, inv)
		total += v
		if v > most || (v == most && v > 0 && s.Name < name) {
			name, most = s.Name, v
		}
	}
	if total == 0 {
		return "", 0
	}
	return name, most / total
}

// Contributions appends one entry for each source to dst, in the order of
// Sources, and returns the extended slice. The squares of Points add up to the
// square of a hundred times Uncertainty.
func (m *Model) Contributions(dst []Contribution) []Contribution {
	if !m.sound() {
		return dst
	}
	best, inv := m.Alkali/m.Fat, 1/m.Fat
	total := m.variance()
	for i := range m.Sources {
		s := &m.Sources[i]
		v := s.variance(best, inv)
		c := Contribution{Name: s.Name, Points: 100 * math.Sqrt(v)}
		if total > 0 {
			c.Share = v / total
		}
		dst = append(dst, c)
	}
	return dst
}
