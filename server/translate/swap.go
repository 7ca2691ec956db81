package translate

import (
	"slices"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"

	"lixivium.example/engine"
)

// Swapped writes a recipe with a fat replaced.
func Swapped(s *engine.Swapped) *lixiviumv1.SwapFatResponse {
	return &lixiviumv1.SwapFatResponse{
		Recipe:       recipeMessage(s.Recipe),
		Before:       Formulation(s.Before),
		After:        Formulation(s.After),
		Changes:      each(s.Changes, fillFigureChange),
		NewFindings:  slices.Clone(s.NewFindings),
		GoneFindings: slices.Clone(s.GoneFindings),
	}
}

func fillFigureChange(m *lixiviumv1.FigureChange, c *engine.FigureChange) {
	m.Name = c.Name
	m.Before = c.Before
	m.After = c.After
	m.Unit = c.Unit
}
