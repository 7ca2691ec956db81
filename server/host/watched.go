package host

var _ interface{ WatchedFats() []string } = (*Host)(nil)

// WatchedFats are the catalog ids of fats that some plugin may watch, so that a
// recipe without doses of its own is shown to it.
func (h *Host) WatchedFats() []string {
	var out []string
	for _, s := range h.plugins {
		out = append(out, s.line.WatchesFats...)
	}
	return out
}
