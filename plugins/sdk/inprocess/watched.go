package inprocess

// WatchedFats are the catalog ids of fats that some plugin watches.
func (s *Set) WatchedFats() []string {
	var out []string
	for _, p := range s.plugins {
		out = append(out, p.WatchesFats...)
	}
	return out
}
