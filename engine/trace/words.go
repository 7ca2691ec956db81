package trace

import (
	"math"
	"strconv"
	"strings"
)

// direction says in words what a factor does.
func direction(factor float64) string {
	switch {
	case factor < 0.6:
		return "much sooner"
	case factor < 0.9:
		return "sooner"
	case factor < 0.97:
		return "slightly sooner"
	case factor <= 1/0.97:
		return "as the reference batch"
	case factor <= 1/0.9:
		return "slightly later"
	case factor <= 1/0.6:
		return "later"
	}
	return "much later"
}

func limitInWords(limited bool) string {
	if limited {
		return ", no further effect counted"
	}
	return ""
}

// fatsInWords names the one or two classes that do most in the direction that
// the fats take together; sum is the sum of all and not zero.
func fatsInWords(parts [classCount]part, sum float64) string {
	first, second := -1, -1
	for i := range parts {
		switch along := parts[i].e * sum; {
		case along <= 0:
		case first < 0 || along > parts[first].e*sum:
			first, second = i, first
		case second < 0 || along > parts[second].e*sum:
			second = i
		}
	}
	text := parts[first].inWords()
	if second >= 0 && math.Abs(parts[second].e) >= math.Abs(parts[first].e)/2 {
		text += ", " + parts[second].inWords()
	}
	return text
}

func (p part) inWords() string {
	switch share := number(p.pct, 0); {
	case p.more:
		return share + " % " + p.class.name
	case share == "0":
		return "no " + p.class.name
	default:
		return "only " + share + " % " + p.class.name
	}
}

func percent(v float64) string { return number(v, 1) + " %" }

// number writes a figure with so many decimals at most.
func number(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if decimals > 0 {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}
