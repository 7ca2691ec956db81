// Package mold works out what a mold holds: plain geometry of insides in
// millimeters, volumes in milliliters.
//
// It takes a shape, the liner that takes room in it and the level to fill it
// to, and answers the volume to that level and to the brim, or everything that
// is wrong with the dimensions. Volumes come from + - * / alone. Batter, density
// and allowances are the caller's.
package mold

import "math"

// Shape is the inside of a mold: Box, TaperedBox, Cylinder, Cavities or Held.
type Shape interface {
	// dimensions lists the measures with their fields and ranges.
	dimensions() []dimension
	// inside is the shape that a liner of t mm leaves; false where a liner has no
	// meaning.
	inside(t float64) (Shape, bool)
	// height is how high it can be filled, mm; false where that is not known.
	height() (float64, bool)
	// volume up to a height, mL; of a shape without a height, all of it.
	volume(h float64) float64
}

// dimension is a measure of a shape, named as in the contract.
type dimension struct {
	field     string
	value     float64
	low, high float64
	unit      string
}

// Inner measures outside these bounds are slips of unit or keyboard.
const (
	leastMM = 5
	mostMM  = 5000
	leastML = 1
	mostML  = 1e7
)

// mm is a length with its usual range.
func mm(field string, v float64) dimension { return dimension{field, v, leastMM, mostMM, "mm"} }

// Box is a box, a loaf or a slab.
type Box struct{ LengthMM, WidthMM, HeightMM float64 }

func (b Box) dimensions() []dimension {
	return []dimension{mm("box.length_mm", b.LengthMM), mm("box.width_mm", b.WidthMM), mm("box.height_mm", b.HeightMM)}
}

func (b Box) inside(t float64) (Shape, bool) {
	return Box{b.LengthMM - 2*t, b.WidthMM - 2*t, b.HeightMM - t}, true
}

func (b Box) height() (float64, bool) { return b.HeightMM, true }

func (b Box) volume(h float64) float64 { return b.LengthMM * b.WidthMM * h / mm3PerML }

const mm3PerML = 1000

// TaperedBox is a box whose walls lean.
type TaperedBox struct{ TopLengthMM, TopWidthMM, BottomLengthMM, BottomWidthMM, HeightMM float64 }

func (b TaperedBox) dimensions() []dimension {
	return []dimension{
		mm("tapered_box.top_length_mm", b.TopLengthMM), mm("tapered_box.top_width_mm", b.TopWidthMM),
		mm("tapered_box.bottom_length_mm", b.BottomLengthMM), mm("tapered_box.bottom_width_mm", b.BottomWidthMM),
		mm("tapered_box.height_mm", b.HeightMM),
	}
}

func (b TaperedBox) inside(float64) (Shape, bool) { return b, false }

func (b TaperedBox) height() (float64, bool) { return b.HeightMM, true }

// volume is that of a prismatoid: height × (bottom + 4 × middle + top) / 6,
// exact for leaning plane walls.
func (b TaperedBox) volume(h float64) float64 {
	area := func(h float64) float64 {
		part := h / b.HeightMM
		length := b.BottomLengthMM + float64((b.TopLengthMM-b.BottomLengthMM)*part)
		width := b.BottomWidthMM + float64((b.TopWidthMM-b.BottomWidthMM)*part)
		return float64(length * width)
	}
	return h * (area(0) + float64(4*area(h/2)) + area(h)) / 6 / mm3PerML
}

// Cylinder is a tube or a round mold, standing.
type Cylinder struct{ DiameterMM, HeightMM float64 }

func (c Cylinder) dimensions() []dimension {
	return []dimension{mm("cylinder.diameter_mm", c.DiameterMM), mm("cylinder.height_mm", c.HeightMM)}
}

func (c Cylinder) inside(t float64) (Shape, bool) {
	return Cylinder{c.DiameterMM - 2*t, c.HeightMM - t}, true
}

func (c Cylinder) height() (float64, bool) { return c.HeightMM, true }

func (c Cylinder) volume(h float64) float64 {
	return math.Pi / 4 * c.DiameterMM * c.DiameterMM * h / mm3PerML
}

// Cavities are single cavities of one mold.
type Cavities struct {
	Count  int
	MLEach float64
}

func (c Cavities) dimensions() []dimension {
	return []dimension{
		{"cavities.count", float64(c.Count), 1, 1000, ""},
		{"cavities.ml_each", c.MLEach, leastML, mostML, "mL"},
	}
}

func (c Cavities) inside(float64) (Shape, bool) { return c, false }

func (c Cavities) height() (float64, bool) { return 0, false }

func (c Cavities) volume(float64) float64 { return float64(c.Count) * c.MLEach }

// Held is a mold whose volume is known as such, for instance by the water it
// holds. Field names what stated it.
type Held struct {
	Field string
	ML    float64
}

func (m Held) dimensions() []dimension { return []dimension{{m.Field, m.ML, leastML, mostML, "mL"}} }

func (m Held) inside(float64) (Shape, bool) { return m, false }

func (m Held) height() (float64, bool) { return 0, false }

func (m Held) volume(float64) float64 { return m.ML }
