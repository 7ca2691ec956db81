package engine

import (
	"maps"
	"slices"

	"lixivium.example/engine/fat"
)

// acids are the fatty acids in the order of the catalog.
var acids = fat.Acids()

// sortedKeys gives the keys of a map in order, so that no map order reaches an
// answer.
func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }
