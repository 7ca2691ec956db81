package engine

// withholdWater takes every figure out of an incomplete answer that depends on
// the water of a missing owner. Fats and alkali stay.
func (f *Formulation) withholdWater() {
	f.Water = WaterAnswer{}
	f.Totals.BatterG, f.Totals.BatterML, f.Totals.Density, f.Totals.JugML = 0, 0, 0, 0
	f.Alkali.LyeEndC = 0
	f.Behavior.Trace = nil
	for i := range f.Portions {
		p := &f.Portions[i]
		p.BaseG, p.BatterG, p.BatterML, p.FreeWaterG, p.BatchStrengthPct = 0, 0, 0, 0, 0
	}
	kept := f.WeighOut[:0]
	for _, l := range f.WeighOut {
		if l.LineID != lineWater && l.OfLineID != lineWater {
			kept = append(kept, l)
		}
	}
	f.WeighOut = kept
}
