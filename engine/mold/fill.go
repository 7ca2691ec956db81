package mold

// MostLinerMM is the thickest liner accepted, mm.
const MostLinerMM = 20

// Level is how far a mold is filled. The zero Level is to the brim.
type Level struct {
	// HeightMM from the bottom, above a liner; used with ByHeight.
	HeightMM float64
	ByHeight bool
	// Pct of the volume, 1 to 100; used with ByPct.
	Pct   float64
	ByPct bool
}

// Filled is what a mold holds, mL.
type Filled struct{ FilledML, BrimML float64 }

// Fill gives the volume of a mold to a level, or everything that is wrong with
// its dimensions, its liner and the level.
func Fill(s Shape, linerMM float64, l Level) (Filled, []*Problem) {
	var wrong []*Problem
	inside := func(d dimension) {
		if !(d.value >= d.low && d.value <= d.high) { // NaN is outside
			wrong = append(wrong, &Problem{Kind: OutOfRange, Field: d.field, Value: d.value, Low: d.low, High: d.high, Unit: d.unit})
		}
	}
	for _, d := range s.dimensions() {
		inside(d)
	}
	inside(dimension{"liner_mm", linerMM, 0, MostLinerMM, "mm"})
	if l.ByPct {
		inside(dimension{"fill_pct", l.Pct, 1, 100, "%"})
	}
	if l.ByHeight && l.ByPct {
		wrong = append(wrong, &Problem{Kind: TwoLevels, Field: "fill_height_mm"})
	}
	if len(wrong) > 0 {
		return Filled{}, wrong
	}
	lined := s
	if linerMM > 0 {
		var ok bool
		if lined, ok = s.inside(linerMM); !ok {
			return Filled{}, []*Problem{{Kind: NoLiner, Field: "liner_mm", Value: linerMM, Unit: "mm"}}
		}
		for _, d := range lined.dimensions() {
			if d.value <= 0 {
				return Filled{}, []*Problem{{Kind: LinerTooThick, Field: "liner_mm", Value: linerMM, Unit: "mm"}}
			}
		}
	}
	return fill(lined, l)
}

// fill fills a shape whose measures are in order.
func fill(s Shape, l Level) (Filled, []*Problem) {
	h, known := s.height()
	f := Filled{BrimML: s.volume(h)}
	switch {
	case l.ByHeight && !known:
		return Filled{}, []*Problem{{Kind: NoHeight, Field: "fill_height_mm", Value: l.HeightMM, Unit: "mm"}}
	case l.ByHeight && !(l.HeightMM > 0 && l.HeightMM <= h):
		return Filled{}, []*Problem{{Kind: AboveBrim, Field: "fill_height_mm", Value: l.HeightMM, High: h, Unit: "mm"}}
	case l.ByHeight:
		f.FilledML = s.volume(l.HeightMM)
	case l.ByPct:
		f.FilledML = f.BrimML * l.Pct / 100
	default:
		f.FilledML = f.BrimML
	}
	return f, nil
}
