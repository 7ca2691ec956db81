package cost

import (
	"github.com/cockroachdb/apd/v3"
)

// Precisions. Sums and products of what is stated are exact; the product of a
// price and a mass has at most 36 digits. Quotients are cut off, never rounded:
// so half a cent stays half a cent, and what lies below it stays below, when the
// quotient is rounded to a coin afterwards. Twenty digits fit two machine words.
const (
	digits         = 40
	quotientDigits = 20
)

var (
	arithmetic = rounding(apd.RoundHalfUp, digits)
	upward     = rounding(apd.RoundCeiling, digits)
	quotient   = rounding(apd.RoundDown, quotientDigits)
	zero       = apd.New(0, 0)
	one        = apd.New(1, 0)
	two        = apd.New(2, 0)
	hundred    = apd.New(100, 0)
)

func rounding(r apd.Rounder, precision uint32) *apd.Context {
	c := apd.BaseContext.WithPrecision(precision)
	c.Rounding = r
	return c
}

// done panics on what the limits of this package rule out: an overflow, a
// division by zero.
func done(_ apd.Condition, err error) {
	if err != nil {
		panic("cost: " + err.Error())
	}
}

func plus(x, y *apd.Decimal) *apd.Decimal {
	d := new(apd.Decimal)
	done(arithmetic.Add(d, x, y))
	return d
}

func minus(x, y *apd.Decimal) *apd.Decimal {
	d := new(apd.Decimal)
	done(arithmetic.Sub(d, x, y))
	return d
}

func times(x, y *apd.Decimal) *apd.Decimal {
	d := new(apd.Decimal)
	done(arithmetic.Mul(d, x, y))
	return d
}

func over(x, y *apd.Decimal) *apd.Decimal {
	d := new(apd.Decimal)
	done(quotient.Quo(d, x, y))
	return d
}

// percentOf is pct percent of x.
func percentOf(x, pct *apd.Decimal) *apd.Decimal {
	d := times(x, pct)
	d.Exponent -= 2
	return d
}

// halfUp rounds to so many decimals, half up.
func halfUp(x *apd.Decimal, decimals int32) *apd.Decimal {
	d := new(apd.Decimal)
	done(arithmetic.Quantize(d, x, -decimals))
	return d
}

// up rounds up to so many decimals.
func up(x *apd.Decimal, decimals int32) *apd.Decimal {
	d := new(apd.Decimal)
	done(upward.Quantize(d, x, -decimals))
	return d
}

func whole(n int) *apd.Decimal { return apd.New(int64(n), 0) }

// decimal is the shortest decimal that reads back as the number.
func decimal(v float64) *apd.Decimal {
	d, err := new(apd.Decimal).SetFloat64(v)
	if err != nil {
		panic("cost: " + err.Error())
	}
	return d
}

// float is the nearest number, for worksheets and percentages.
func float(d *apd.Decimal) float64 {
	v, err := d.Float64()
	if err != nil {
		panic("cost: " + err.Error())
	}
	return v
}

// plain writes a decimal without an exponent.
func plain(d *apd.Decimal) string { return d.Text('f') }
