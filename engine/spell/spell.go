// Package spell compares names by their spelling, for suggestions. It knows no
// fats and no recipes: what may be suggested is the caller's to say.
package spell

import (
	"slices"
	"strings"
)

// MaxRunes is the longest text compared: a longer one is no slip of the pen,
// and its distance costs time.
const MaxRunes = 60

// Tolerance is how many slips a name of this many letters may hold and still
// look like another.
func Tolerance(runes int) int {
	switch {
	case runes < 4:
		return 0
	case runes < 6:
		return 1
	case runes < 10:
		return 2
	default:
		return 3
	}
}

// Near gives up to most of the names that a word may have been meant for, best
// first, the case ignored: those within Tolerance, then those that hold the
// word or stand in it. Names that are equally near keep their order.
func Near(word string, names []string, most int) []string {
	query := []rune(strings.ToLower(word))
	if len(query) == 0 || len(query) > MaxRunes {
		return nil
	}
	limit := Tolerance(len(query))
	const holds = 100 // behind every distance
	type candidate struct {
		name string
		far  int
	}
	var near []candidate
	for _, name := range names {
		lower := strings.ToLower(name)
		far := Distance(query, []rune(lower), limit)
		switch {
		case far <= limit:
		case min(len(query), len(lower)) > 2 && (strings.Contains(lower, string(query)) || strings.Contains(string(query), lower)):
			far = holds
		default:
			continue
		}
		if !slices.ContainsFunc(near, func(c candidate) bool { return c.name == name }) {
			near = append(near, candidate{name, far})
		}
	}
	slices.SortStableFunc(near, func(a, b candidate) int { return a.far - b.far })
	var best []string
	for _, c := range near[:min(most, len(near))] {
		best = append(best, c.name)
	}
	return best
}

// Distance is the optimal string alignment distance: insertions, deletions,
// substitutions and swaps of neighbors, each letter edited once. Above limit it
// may stop early with any figure above limit.
func Distance(a, b []rune, limit int) int {
	if len(a)-len(b) > limit || len(b)-len(a) > limit {
		return limit + 1
	}
	before, prev, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range prev {
		prev[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		least := row[0]
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(prev[j]+1, row[j-1]+1, prev[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
			least = min(least, row[j])
		}
		// A swap reaches back two rows, so both must be past the limit.
		if least > limit && slices.Min(prev) > limit {
			return limit + 1
		}
		before, prev, row = prev, row, before
	}
	return prev[len(b)]
}
