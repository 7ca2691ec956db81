package recipefile

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

var (
	plainNumber   = regexp.MustCompile(`^-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?(?:[eE][-+]?[0-9]+)?$`)
	decimalComma  = regexp.MustCompile(`^[-+]?[0-9]+,[0-9]+$`)
	withPercent   = regexp.MustCompile(`^([-+]?[0-9][0-9.,]*) ?(?:%|percent)$`)
	withUnit      = regexp.MustCompile(`^([-+]?[0-9][0-9.,]*) *([\pL°%][\pL°/_. ]*)$`)
	grouped       = regexp.MustCompile(`^[-+]?[0-9]{1,3}(?:[_ '’][0-9]{3})+(?:\.[0-9]+)?$`)
	fraction      = regexp.MustCompile(`^([0-9]+)/([0-9]+)$`)
	notFinite     = regexp.MustCompile(`(?i)^[-+]?\.?(?:nan|inf|infinity)$`)
	countedNumber = regexp.MustCompile(`^(?:0|[1-9][0-9]*)$`)
)

// number reads a decimal number. What is wrong and what to write instead come
// back in words; YAML's other notations (octal, hexadecimal, sexagesimal) are
// refused, because a hand that writes 010 means ten.
func number(s string, inQuotes bool) (v float64, bad, next string) {
	if inQuotes {
		if plainNumber.MatchString(s) {
			return 0, "is text because of its quotes", "write " + s + " without quotes"
		}
		return 0, "is text where a number belongs", "write a number, such as 12.5"
	}
	if plainNumber.MatchString(s) {
		return finite(s)
	}
	switch {
	case notFinite.MatchString(s):
		return 0, "is no number that can be weighed", "write a plain number, such as 12.5"
	case decimalComma.MatchString(s):
		return 0, "has a decimal comma", commaFix(s)
	case grouped.MatchString(s):
		return 0, "has its digits in groups", "write " + strings.NewReplacer("_", "", " ", "", "'", "", "’", "").Replace(s)
	}
	if m := withPercent.FindStringSubmatch(s); m != nil {
		return 0, "has a percent sign", "write " + dotted(m[1]) + ": fields that end in _pct are percent already"
	}
	if m := fraction.FindStringSubmatch(s); m != nil {
		return 0, "is a fraction", "write it as a decimal, such as 0.5"
	}
	if m := withUnit.FindStringSubmatch(s); m != nil {
		return 0, "holds a unit", "write " + dotted(m[1]) + ": the name of the field is the unit"
	}
	if x, err := strconv.ParseFloat(s, 64); err == nil && strings.Trim(s, "+-.0123456789eE") == "" {
		return 0, "is an unusual way to write a number", "write " + strconv.FormatFloat(x, 'g', -1, 64)
	}
	return 0, "is no number", "write a number with a point for decimals, such as 12.5"
}

// finite reads a number in plain notation whose size a float64 can hold.
func finite(s string) (v float64, bad, next string) {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, "is too large for any batch", "check the exponent"
	}
	mantissa, _, _ := strings.Cut(strings.ToLower(s), "e")
	if v == 0 && strings.Trim(mantissa, "-.0") != "" {
		return 0, "is too small to be told from zero", "write 0, or check the exponent"
	}
	return v + 0, "", ""
}

// commaFix says what to write for a number with one comma. Three digits after
// it may be thousands, so both readings are offered.
func commaFix(s string) string { return commaFixWithin("", s, "") }

// commaFixWithin is commaFix between the key of the number, such as "g: ", and
// its unit.
func commaFixWithin(key, s, unit string) string {
	before, after, _ := strings.Cut(s, ",")
	switch {
	case strings.Contains(before, "."):
		return "write " + key + strings.ReplaceAll(before, ".", "") + "." + after + unit + " if the points group thousands"
	case len(after) == 3 && strings.TrimLeft(before, "+-0") != "":
		return "write " + key + before + "." + after + unit + " for a decimal, " + key + before + after + unit + " for thousands"
	}
	return "write " + key + before + "." + after + unit
}

// dotted gives a number with its comma as a point.
func dotted(s string) string { return strings.Replace(s, ",", ".", 1) }

// count reads a whole number.
func count(s string, inQuotes bool) (v uint32, bad, next string) {
	if inQuotes || !countedNumber.MatchString(s) {
		return 0, "is no whole number", "write a whole number, such as 2"
	}
	wide, err := strconv.ParseUint(s, 10, 32)
	if err != nil {
		return 0, "is too large", "write a smaller whole number"
	}
	return uint32(wide), "", ""
}
