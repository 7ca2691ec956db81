package trace

import "math"

// Band is a positive figure with its low and high end.
type Band struct{ Low, Typical, High float64 }

// maxRatio is the widest answered band, high to low.
const maxRatio = 6

// Products stay within these so that no list of factors, however long, ends at
// zero or infinity. Minutes there have long lost their meaning.
const leastProduct, mostProduct = 1e-100, 1e100

var one = Band{1, 1, 1}

func (b Band) times(o Band) Band {
	within := func(v float64) float64 { return math.Min(math.Max(v, leastProduct), mostProduct) }
	return Band{within(b.Low * o.Low), within(b.Typical * o.Typical), within(b.High * o.High)}
}

// by gives minutes of the reference batch under a product of factors.
func (b Band) by(product Band) Band {
	return Band{b.Low * product.Low, b.Typical * product.Typical, b.High * product.High}.drawnIn()
}

// drawnIn narrows a band to maxRatio around its typical value, both sides by
// the same share of their logarithms.
func (b Band) drawnIn() Band {
	if b.High <= maxRatio*b.Low {
		return b
	}
	below, above := math.Log(b.Typical/b.Low), math.Log(b.High/b.Typical)
	// a hair less than the whole, so that rounding cannot pass the ratio
	share := (math.Log(maxRatio) - 1e-12) / (below + above)
	return Band{b.Typical * math.Exp(-below*share), b.Typical, b.Typical * math.Exp(above*share)}
}

func (b Band) usable() bool {
	return b.Low > 0 && b.Low <= b.Typical && b.Typical <= b.High && !math.IsInf(b.High, 1)
}

// effect is the band of a factor whose logarithm is e, when practice leaves the
// effect between weak and strong times that. A negative weak counts evidence
// for the opposite direction. Nothing differs at e = 0, so the band closes.
func effect(e, weak, strong float64) Band {
	a, b := math.Exp(e*weak), math.Exp(e*strong)
	return Band{math.Min(a, b), math.Exp(e), math.Max(a, b)}
}

// capped keeps the logarithm of a factor between those of least and most, and
// says whether it had to.
func capped(e, least, most float64) (float64, bool) {
	c := math.Min(math.Max(e, math.Log(least)), math.Log(most))
	return c, c != e
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
