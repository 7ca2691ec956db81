package cost

import (
	"strconv"
	"strings"
	"unicode"

	"github.com/cockroachdb/apd/v3"
)

// Digits that a sum of money may have. Six decimals leave room for the price of
// a label that is bought by the thousand.
const (
	mostWhole    = 12
	mostDecimals = 6
)

// parse reads a sum of money of at least zero. What is wrong comes back in
// words.
func parse(s string) (d *apd.Decimal, wrong string) {
	before, after, point := strings.Cut(s, ".")
	if !allDigits(before) || point && !allDigits(after) {
		return nil, notMoney(s)
	}
	if len(strings.TrimLeft(before, "0")) > mostWhole || len(after) > mostDecimals {
		return nil, quoted(s) + " has more digits than money needs: at most " + strconv.Itoa(mostWhole) + " before the point and " + strconv.Itoa(mostDecimals) + " after it."
	}
	d, _, err := apd.NewFromString(s)
	if err != nil {
		return nil, notMoney(s)
	}
	return d, ""
}

func allDigits(s string) bool {
	return s != "" && strings.Trim(s, "0123456789") == ""
}

// quoted shows a text of the caller, shortened.
func quoted(s string) string {
	const most = 40
	if r := []rune(s); len(r) > most {
		s = string(r[:most]) + "..."
	}
	return strconv.Quote(s)
}

// notMoney says what is wrong with a text that is no plain sum of money, and
// what to write instead.
func notMoney(s string) string {
	short := strings.TrimSpace(s)
	if strings.HasPrefix(short, "-") || strings.HasPrefix(short, "−") {
		return quoted(s) + " is negative. Write what is paid, or leave it out if nothing is."
	}
	const plain = "Write plain digits with a point for decimals, such as 12.50."
	if len(short) > 60 {
		return quoted(s) + " is no sum of money. " + plain
	}
	bare := strings.TrimFunc(short, func(r rune) bool {
		return unicode.IsLetter(r) || unicode.Is(unicode.Sc, r) || unicode.IsSpace(r) || r == '+'
	})
	bare = strings.NewReplacer(" ", "", "\u00a0", "", "\u202f", "", "'", "", "’", "", "_", "").Replace(bare)
	commas, points := strings.Count(bare, ","), strings.Count(bare, ".")
	before, after, _ := strings.Cut(bare, ",")
	switch {
	case strings.Trim(bare, "0123456789.,") != "" || strings.Trim(bare, ".,") == "":
		return quoted(s) + " is no sum of money. " + plain
	case commas == 1 && points == 0 && len(after) == 3 && strings.Trim(before, "0") != "":
		return quoted(s) + " has a comma. Write " + before + "." + after + " for a decimal, " + before + after + " for thousands."
	case commas == 1 && points == 0:
		return quoted(s) + " has a decimal comma. Write " + pointed(before, after) + "."
	case commas+points > 1:
		return quoted(s) + " has its digits in groups. Write " + ungrouped(bare) + "."
	}
	before, after, _ = strings.Cut(bare, ".")
	if bare != short {
		return quoted(s) + " is more than digits. Write " + pointed(before, after) + "; currency_code says the currency."
	}
	return quoted(s) + " lacks a digit beside its point. Write " + pointed(before, after) + "."
}

// pointed writes a number with a point, with a digit on either side of it.
func pointed(before, after string) string {
	if before == "" {
		before = "0"
	}
	if after == "" {
		return before
	}
	return before + "." + after
}

// ungrouped takes the separators of thousands out. The last separator is the
// decimal one where it differs from the others.
func ungrouped(s string) string {
	last := strings.LastIndexAny(s, ".,")
	if strings.Count(s, s[last:last+1]) > 1 {
		return strings.NewReplacer(".", "", ",", "").Replace(s)
	}
	return pointed(strings.NewReplacer(".", "", ",", "").Replace(s[:last]), s[last+1:])
}

// minorDigits are the decimals of currencies that have not two, from ISO 4217
// (from memory).
var minorDigits = map[string]int32{
	"BIF": 0, "CLP": 0, "DJF": 0, "GNF": 0, "ISK": 0, "JPY": 0, "KMF": 0, "KRW": 0, "PYG": 0,
	"RWF": 0, "UGX": 0, "UYI": 0, "VND": 0, "VUV": 0, "XAF": 0, "XOF": 0, "XPF": 0,
	"BHD": 3, "IQD": 3, "JOD": 3, "KWD": 3, "LYD": 3, "OMR": 3, "TND": 3,
	"CLF": 4, "UYW": 4,
}

// minor gives the decimals of a currency.
func minor(code string) int32 {
	if n, ok := minorDigits[code]; ok {
		return n
	}
	return 2
}
