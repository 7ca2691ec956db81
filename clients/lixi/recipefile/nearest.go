package recipefile

import (
	"slices"
	"strings"

	"github.com/agnivade/levenshtein"
)

// maxTypo bounds the names compared: longer ones are no slip of the hand.
const maxTypo = 64

// Nearest gives up to three of the names that a word may have been meant for,
// best first. None: the word resembles nothing.
func Nearest(word string, names []string) []string {
	if len(word) == 0 || len(word) > maxTypo {
		return nil
	}
	word = strings.ToLower(word)
	type candidate struct {
		name string
		far  int
	}
	var near []candidate
	for _, name := range names {
		lower := strings.ToLower(name)
		far := levenshtein.ComputeDistance(word, lower)
		if far <= max(1, len(word)/3) {
			near = append(near, candidate{name, far})
		} else if len(word) > 2 && strings.Contains(lower, word) {
			near = append(near, candidate{name, 100 + far})
		}
	}
	slices.SortStableFunc(near, func(a, b candidate) int { return a.far - b.far })
	var best []string
	for _, c := range near[:min(3, len(near))] {
		best = append(best, c.name)
	}
	return best
}

// either joins names as "a, b or c".
func either(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " or " + names[len(names)-1]
}
