package sheet

import (
	"math"
	"strconv"
	"strings"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// balanceOf finds the balance that carries a line by the name that the answer
// gives it. A balance without a name is called "0.1 g balance", by its step.
// Nil: none was named.
func (o Options) balanceOf(name string) *lixiviumv1.Balance {
	number, ofStep := strings.CutSuffix(name, " g balance")
	step, err := strconv.ParseFloat(number, 64)
	ofStep = ofStep && err == nil
	for _, b := range o.Balances {
		if b.GetName() != "" && b.GetName() == name ||
			b.GetName() == "" && ofStep && math.Abs(stepG(b)-step) < 1e-6*step {
			return b
		}
	}
	return nil
}

// stepG is the step of a balance in grams.
func stepG(b *lixiviumv1.Balance) float64 {
	switch x := b.GetStep().GetAmount().(type) {
	case *lixiviumv1.Quantity_G:
		return x.G
	case *lixiviumv1.Quantity_Kg:
		return x.Kg * 1000
	case *lixiviumv1.Quantity_Oz:
		return x.Oz * gramsPerOunce
	case *lixiviumv1.Quantity_Lb:
		return x.Lb * gramsPerPound
	}
	return 0
}

// shownInFull gives the decimals, from n on, that show a mass to weigh without
// a rounding of this program's own; at most three.
func shownInFull(v float64, n int) int {
	for ; n < 3; n++ {
		scaled := v * math.Pow10(n)
		if math.Abs(scaled-math.Round(scaled)) < 1e-6*math.Max(1, math.Abs(scaled)) {
			break
		}
	}
	return n
}
