package fat

import (
	"slices"
	"strings"
)

const (
	maxSuggestions = 3
	// A longer text is no slip of the pen, and its distance costs time.
	maxSuggestRunes = 60
)

// common words say nothing about which fat is meant.
var common = map[string]bool{
	"oil": true, "fat": true, "butter": true, "seed": true, "acid": true, "wax": true, "kernel": true, "nut": true,
	"high": true, "low": true, "liquid": true, "refined": true, "raw": true, "virgin": true, "organic": true, "type": true, "and": true, "the": true,
}

// suggest names up to three entries near an unknown name: by spelling first,
// then by a word in common. Ties go by name, so the answer is stable.
func suggest(name, key string) []string {
	query := []rune(key)
	if len(query) == 0 || len(query) > maxSuggestRunes {
		return nil
	}
	const sharesWord = 100 // behind every spelling distance
	limit := tolerance(len(query))
	words := tellingWords(name)
	score := map[string]int{}
	var order []string
	for _, e := range data.entries {
		s := distance(query, []rune(e.key), limit)
		if s > limit {
			if !slices.ContainsFunc(tellingWords(e.name), func(w string) bool { return slices.Contains(words, w) }) {
				continue
			}
			s = sharesWord
		}
		label := e.name
		if e.why == "" {
			label = e.fats[0].ID
		}
		old, seen := score[label]
		if !seen {
			order = append(order, label)
		}
		if !seen || s < old {
			score[label] = s
		}
	}
	slices.SortFunc(order, func(a, b string) int {
		if score[a] != score[b] {
			return score[a] - score[b]
		}
		return strings.Compare(a, b)
	})
	return order[:min(maxSuggestions, len(order))]
}

// tolerance is how many slips a name of this many letters may hold and still
// look like another.
func tolerance(runes int) int {
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

func tellingWords(name string) []string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return strings.ContainsRune(" -_,()/&+", r) })
	return slices.DeleteFunc(words, func(w string) bool { return len(w) < 3 || common[w] })
}

// distance is the optimal string alignment distance: insertions, deletions,
// substitutions and swaps of neighbors, each letter edited once. Above limit it
// may stop early with any figure above limit.
func distance(a, b []rune, limit int) int {
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
