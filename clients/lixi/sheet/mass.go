package sheet

import (
	"math"
	"strconv"
	"strings"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

const (
	gramsPerOunce = 28.349523125
	gramsPerPound = 453.59237
)

// mass writes grams in both units: the large one and the one for brackets.
// The balance says how many decimals the large one has.
func (o Options) mass(g float64, on *lixiviumv1.Balance) (large, small string) {
	grams := decimal(g, gramDecimals(g, on.GetStep())) + " g"
	n := ounceDecimals(g/gramsPerOunce, on.GetStep())
	if o.Unit == Ounces && stepG(on) > 0 && stepG(on) < 0.28 {
		n = max(n, 3) // a hundredth of an ounce would hide steps of this balance
	}
	ounces := decimal(g/gramsPerOunce, n) + " oz"
	if o.Unit == Ounces {
		return ounces, grams
	}
	return grams, ounces
}

// inText writes grams in both units for running text.
func (o Options) inText(g float64) string {
	large, small := o.mass(g, nil)
	return large + " (" + small + ")"
}

// gramDecimals: a tenth of a gram, a hundredth below one gram; with a balance
// what its step shows.
func gramDecimals(g float64, step *lixiviumv1.Quantity) int {
	switch x := step.GetAmount().(type) {
	case *lixiviumv1.Quantity_G:
		return shownInFull(g, decimalsOf(x.G))
	case *lixiviumv1.Quantity_Kg:
		return shownInFull(g, decimalsOf(x.Kg*1000))
	}
	if math.Abs(g) < 1 {
		return 2
	}
	return 1
}

// ounceDecimals: a hundredth of an ounce, a thousandth below one ounce; with a
// balance in ounces what its step shows.
func ounceDecimals(oz float64, step *lixiviumv1.Quantity) int {
	if x, ok := step.GetAmount().(*lixiviumv1.Quantity_Oz); ok {
		return decimalsOf(x.Oz)
	}
	if math.Abs(oz) < 1 {
		return 3
	}
	return 2
}

// decimalsOf counts the decimals of a balance's step, at most four.
func decimalsOf(step float64) int {
	for n := range 4 {
		scaled := step * math.Pow10(n)
		if math.Abs(scaled-math.Round(scaled)) < 1e-6*scaled {
			return n
		}
	}
	return 4
}

// decimal writes a number with n decimals, more when it would read as zero.
func decimal(v float64, n int) string {
	if math.Abs(v) >= 1e9 { // no batch; keeps a slip of a server from tearing the columns
		return strconv.FormatFloat(v, 'g', 6, 64)
	}
	s := strconv.FormatFloat(v, 'f', n, 64)
	for v != 0 && n < 7 && strings.Trim(s, "-0.") == "" {
		n++
		s = strconv.FormatFloat(v, 'f', n, 64)
	}
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return s
}

// percent writes a share with one decimal.
func percent(v float64) string { return decimal(v, 1) + " %" }

// significant writes a number with about six digits and no exponent where it
// can be helped.
func significant(v float64) string {
	if a := math.Abs(v); v != 0 && (a < 1e-4 || a >= 1e9) {
		return strconv.FormatFloat(v, 'g', 6, 64)
	}
	digits := 6
	if v != 0 {
		digits = max(0, 5-int(math.Floor(math.Log10(math.Abs(v)))))
	}
	s := strconv.FormatFloat(v, 'f', digits, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}
