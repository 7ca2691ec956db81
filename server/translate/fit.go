package translate

import (
	lixiviumv1 "lixivium.example/proto/lixivium/v1"

	"lixivium.example/engine"
	"lixivium.example/engine/mold"
)

// fit gives nil for an absent size, which the engine reports.
func (r *reader) fit(m *lixiviumv1.Fit) *engine.Fit {
	if m == nil {
		return nil
	}
	at := root("fit")
	f := &engine.Fit{
		PotLoss:      r.optionalQuantity(at.at("pot_loss"), m.GetPotLoss()),
		TransferLoss: r.optionalQuantity(at.at("transfer_loss"), m.GetTransferLoss()),
	}
	switch t := m.GetTarget().(type) {
	case *lixiviumv1.Fit_Molds:
		f.Molds = r.molds(at.at("molds"), t.Molds)
	case *lixiviumv1.Fit_Batter:
		f.Batter = r.optionalQuantity(at.at("batter"), t.Batter)
	case *lixiviumv1.Fit_Fats:
		f.Fats = r.optionalQuantity(at.at("fats"), t.Fats)
	case *lixiviumv1.Fit_Bars:
		f.Bars = &engine.Bars{
			Count: int(t.Bars.GetCount()), Mass: quantity(t.Bars.GetMass()), Cured: t.Bars.GetCured(),
			Trimmings: r.optionalQuantity(at.at("bars").at("trimmings"), t.Bars.GetTrimmings()),
		}
		if t.Bars != nil {
			f.Bars.CureLossPct = optional(t.Bars.CureLossPct)
		}
	case *lixiviumv1.Fit_Stock:
		f.Stock = &engine.Stock{}
		for _, x := range t.Stock.GetOnHand() {
			f.Stock.OnHand = append(f.Stock.OnHand, engine.OnHand{LineID: x.GetLineId(), Mass: quantity(x.GetMass())})
		}
	}
	return f
}

func (r *reader) molds(at *path, m *lixiviumv1.Molds) *engine.Molds {
	out := &engine.Molds{TextureAllowancePct: m.GetTextureAllowancePct()}
	for i, x := range m.GetMolds() {
		out.Molds = append(out.Molds, r.mold(at.item("molds", i), x))
	}
	return out
}

func (r *reader) mold(at *path, m *lixiviumv1.Mold) engine.Mold {
	out := engine.Mold{Name: m.GetName(), Count: int(m.GetCount()), LinerMM: m.GetLinerMm()}
	if m != nil {
		out.FillHeightMM, out.FillPct = optional(m.FillHeightMm), optional(m.FillPct)
	}
	switch s := m.GetShape().(type) {
	case *lixiviumv1.Mold_Box:
		out.Box = &mold.Box{LengthMM: s.Box.GetLengthMm(), WidthMM: s.Box.GetWidthMm(), HeightMM: s.Box.GetHeightMm()}
	case *lixiviumv1.Mold_TaperedBox:
		out.TaperedBox = &mold.TaperedBox{
			TopLengthMM: s.TaperedBox.GetTopLengthMm(), TopWidthMM: s.TaperedBox.GetTopWidthMm(),
			BottomLengthMM: s.TaperedBox.GetBottomLengthMm(), BottomWidthMM: s.TaperedBox.GetBottomWidthMm(),
			HeightMM: s.TaperedBox.GetHeightMm(),
		}
	case *lixiviumv1.Mold_Cylinder:
		out.Cylinder = &mold.Cylinder{DiameterMM: s.Cylinder.GetDiameterMm(), HeightMM: s.Cylinder.GetHeightMm()}
	case *lixiviumv1.Mold_Cavities:
		out.Cavities = &mold.Cavities{Count: int(s.Cavities.GetCount()), MLEach: s.Cavities.GetMlEach()}
	case *lixiviumv1.Mold_Water:
		out.Water = r.optionalQuantity(at.at("water"), s.Water)
	case *lixiviumv1.Mold_BatterLastTime:
		out.BatterLastTime = r.optionalQuantity(at.at("batter_last_time"), s.BatterLastTime)
	}
	if v := m.GetMaterial(); r.known(at.at("material"), v) {
		out.Material = engine.MoldMaterial(v)
	}
	return out
}

// Scaled writes a recipe brought to a size.
func Scaled(s *engine.Scaled) *lixiviumv1.ScaleResponse {
	m := &lixiviumv1.ScaleResponse{
		Recipe:        recipeMessage(s.Recipe),
		Balances:      each(s.Balances, fillBalance),
		Formulation:   Formulation(s.Formulation),
		Factor:        s.Factor,
		WantedBatterG: float64(s.WantedBatterG),
		Molds:         each(s.Molds, fillMoldFill),
		Stock:         each(s.Stock, fillStockLeft),
		Findings:      each(s.Findings, fillFinding),
	}
	if b := s.Bar; b != nil {
		m.Bar = &lixiviumv1.BarAnswer{
			FreshG: float64(b.FreshG), CuredG: float64(b.CuredG), CureLossPct: float64(b.CureLossPct), Evidence: evidence(b.Evidence),
		}
	}
	return m
}

func fillBalance(m *lixiviumv1.Balance, b *engine.Balance) {
	m.Name = b.Name
	m.Step = quantityMessage(b.Step)
	m.Capacity = quantityMessage(b.Capacity)
}

func fillMoldFill(m *lixiviumv1.MoldFill, f *engine.MoldFill) {
	m.Name = f.Name
	m.Count = uint32(f.Count)
	m.FilledMl = float64(f.FilledML)
	m.BatterG = float64(f.BatterG)
	m.BrimMl = float64(f.BrimML)
}

func fillStockLeft(m *lixiviumv1.StockLeft, s *engine.StockLeft) {
	m.LineId = s.LineID
	m.OnHandG = float64(s.OnHandG)
	m.UsedG = float64(s.UsedG)
	m.LeftG = float64(s.LeftG)
	m.Scarcest = s.Scarcest
}
