package translate

import (
	lixiviumv1 "lixivium.example/proto/lixivium/v1"

	"lixivium.example/engine"
)

// fitMessage writes a size back, for the round trip of every field.
func fitMessage(f *engine.Fit) *lixiviumv1.Fit {
	m := &lixiviumv1.Fit{PotLoss: quantityMessage(f.PotLoss), TransferLoss: quantityMessage(f.TransferLoss)}
	switch {
	case f.Molds != nil:
		molds := &lixiviumv1.Molds{TextureAllowancePct: f.Molds.TextureAllowancePct}
		for i := range f.Molds.Molds {
			molds.Molds = append(molds.Molds, moldMessage(&f.Molds.Molds[i]))
		}
		m.Target = &lixiviumv1.Fit_Molds{Molds: molds}
	case f.Batter.Given():
		m.Target = &lixiviumv1.Fit_Batter{Batter: quantityMessage(f.Batter)}
	case f.Fats.Given():
		m.Target = &lixiviumv1.Fit_Fats{Fats: quantityMessage(f.Fats)}
	case f.Bars != nil:
		m.Target = &lixiviumv1.Fit_Bars{Bars: &lixiviumv1.Bars{
			Count: uint32(f.Bars.Count), Mass: quantityMessage(f.Bars.Mass), Cured: f.Bars.Cured,
			CureLossPct: optionalMessage(f.Bars.CureLossPct), Trimmings: quantityMessage(f.Bars.Trimmings),
		}}
	case f.Stock != nil:
		stock := &lixiviumv1.Stock{}
		for _, x := range f.Stock.OnHand {
			stock.OnHand = append(stock.OnHand, &lixiviumv1.OnHand{LineId: x.LineID, Mass: quantityMessage(x.Mass)})
		}
		m.Target = &lixiviumv1.Fit_Stock{Stock: stock}
	}
	return m
}

func moldMessage(x *engine.Mold) *lixiviumv1.Mold {
	m := &lixiviumv1.Mold{
		Name: x.Name, Count: uint32(x.Count), LinerMm: x.LinerMM, Material: lixiviumv1.MoldMaterial(x.Material),
		FillHeightMm: optionalMessage(x.FillHeightMM), FillPct: optionalMessage(x.FillPct),
	}
	switch {
	case x.Box != nil:
		m.Shape = &lixiviumv1.Mold_Box{Box: &lixiviumv1.Box{LengthMm: x.Box.LengthMM, WidthMm: x.Box.WidthMM, HeightMm: x.Box.HeightMM}}
	case x.TaperedBox != nil:
		b := x.TaperedBox
		m.Shape = &lixiviumv1.Mold_TaperedBox{TaperedBox: &lixiviumv1.TaperedBox{
			TopLengthMm: b.TopLengthMM, TopWidthMm: b.TopWidthMM, BottomLengthMm: b.BottomLengthMM, BottomWidthMm: b.BottomWidthMM, HeightMm: b.HeightMM,
		}}
	case x.Cylinder != nil:
		m.Shape = &lixiviumv1.Mold_Cylinder{Cylinder: &lixiviumv1.Cylinder{DiameterMm: x.Cylinder.DiameterMM, HeightMm: x.Cylinder.HeightMM}}
	case x.Cavities != nil:
		m.Shape = &lixiviumv1.Mold_Cavities{Cavities: &lixiviumv1.Cavities{Count: uint32(x.Cavities.Count), MlEach: x.Cavities.MLEach}}
	case x.Water.Given():
		m.Shape = &lixiviumv1.Mold_Water{Water: quantityMessage(x.Water)}
	case x.BatterLastTime.Given():
		m.Shape = &lixiviumv1.Mold_BatterLastTime{BatterLastTime: quantityMessage(x.BatterLastTime)}
	}
	return m
}
