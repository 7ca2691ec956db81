//go:build mutate

package lye

import "maps"

// Replace answers from another text of one table until restore is called. It
// exists in the mutation run alone, which moves one figure after the other to
// see which published check notices; nothing else may run beside it.
func Replace(name string, table []byte) (restore func(), err error) {
	raw := maps.Clone(known.raw)
	raw[name] = table
	t, err := load(raw)
	if err != nil {
		return nil, err
	}
	before := known
	known = t
	return func() { known = before }, nil
}
