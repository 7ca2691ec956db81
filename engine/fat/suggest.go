package fat

import (
	"slices"
	"strings"

	"lixivium.example/engine/spell"
)

const maxSuggestions = 3

// common words say nothing about which fat is meant.
var common = map[string]bool{
	"oil": true, "fat": true, "butter": true, "seed": true, "acid": true, "wax": true, "kernel": true, "nut": true,
	"high": true, "low": true, "liquid": true, "refined": true, "raw": true, "virgin": true, "organic": true, "type": true, "and": true, "the": true,
}

// suggest names up to three entries near an unknown name: by spelling first,
// then by a word in common. Ties go by name, so the answer is stable.
func suggest(name, key string) []string {
	query := []rune(key)
	if len(query) == 0 || len(query) > spell.MaxRunes {
		return nil
	}
	const sharesWord = 100 // behind every spelling distance
	limit := spell.Tolerance(len(query))
	words := tellingWords(name)
	score := map[string]int{}
	var order []string
	for _, e := range data.entries {
		s := spell.Distance(query, []rune(e.key), limit)
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

func tellingWords(name string) []string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return strings.ContainsRune(" -_,()/&+", r) })
	return slices.DeleteFunc(words, func(w string) bool { return len(w) < 3 || common[w] })
}
