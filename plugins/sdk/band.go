package sdk

import "math"

// AtDose is a factor at another dose, when b is the factor at the usual one:
// b raised to dose/usual, as if every usual dose multiplied by it again. The
// power stops at most usual doses, since nobody has measured beyond, and an end
// stays within 0.05 and 20. Both doses in percent of the same fats.
func (b Band) AtDose(dosePct, usualPct, most float64) Band {
	n := min(dosePct/usualPct, most)
	end := func(v float64) float64 { return max(0.05, min(math.Pow(v, n), 20)) }
	return Band{Low: end(b.Low), Typical: end(b.Typical), High: end(b.High)}
}
