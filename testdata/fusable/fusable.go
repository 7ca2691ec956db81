// Package fusable is what the engine must not hold: a product and a sum that a compiler may fuse. .ci/fused must find it
// on every machine that has a fused multiply-add, or it finds nothing anywhere. No other code uses it.
package fusable

// MulAdd rounds once or twice, as the machine likes.
func MulAdd(x, y, z float64) float64 { return x*y + z }

// Apart rounds twice everywhere.
func Apart(x, y, z float64) float64 { return float64(x*y) + z }
