package translate

import (
	"maps"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"

	"lixivium.example/engine"
)

// recipe gives nil, and a violation, when there is no recipe at all.
func (r *reader) recipe(m *lixiviumv1.Recipe) *engine.Recipe {
	at := root("recipe")
	if m == nil {
		r.add(at, engine.ReasonRequired, "The request holds no recipe. Send one.")
		return nil
	}
	out := &engine.Recipe{
		Name:        m.GetName(),
		Fats:        fatLines(m.GetFats()),
		TotalFats:   r.optionalQuantity(at.at("total_fats"), m.GetTotalFats()),
		Alkali:      r.alkali(at.at("alkali"), m.GetAlkali()),
		Water:       water(m.GetWater()),
		Process:     r.process(at.at("process"), m.GetProcess()),
		CleaningBar: m.GetCleaningBar(),
	}
	if v := m.GetVessels(); v != nil {
		in := at.at("vessels")
		out.Vessels = engine.Vessels{
			Pot:           r.optionalQuantity(in.at("pot"), v.GetPot()),
			Jug:           r.optionalQuantity(in.at("jug"), v.GetJug()),
			FoamingLiquid: v.GetFoamingLiquid(),
		}
	}
	if doses := m.GetDoses(); len(doses) > 0 {
		out.Doses = make([]engine.Dose, len(doses))
		for i, d := range doses {
			out.Doses[i] = r.dose(at.item("doses", i), d)
		}
	}
	if portions := m.GetPortions(); len(portions) > 0 {
		out.Portions = make([]engine.Portion, len(portions))
		for i, p := range portions {
			out.Portions[i] = engine.Portion{
				ID:           p.GetId(),
				Name:         p.GetName(),
				BaseSharePct: p.GetShareOfBasePct(),
				ColorSRGBHex: p.GetColorSrgbHex(),
			}
		}
	}
	return out
}

func fatLines(list []*lixiviumv1.FatLine) []engine.FatLine {
	if len(list) == 0 {
		return nil
	}
	out := make([]engine.FatLine, len(list))
	for i, m := range list {
		out[i] = fatLine(m)
	}
	return out
}

// fatLine follows premixes inside premixes as well: that they are refused is
// for the engine to say. Protobuf bounds how deep a message can nest.
func fatLine(m *lixiviumv1.FatLine) engine.FatLine {
	out := engine.FatLine{
		ID:            m.GetId(),
		Fat:           m.GetFat(),
		Custom:        customFat(m.GetCustom()),
		CertificateSV: measured(m.GetCertificateSvMgKohPerG()),
		InfusedWith:   m.GetInfusedWith(),
	}
	if p := m.GetPremix(); p != nil {
		out.Premix = &engine.Premix{Name: p.GetName(), Fats: fatLines(p.GetFats())}
	}
	switch a := m.GetAmount().(type) {
	case *lixiviumv1.FatLine_Mass:
		out.Mass = quantity(a.Mass)
	case *lixiviumv1.FatLine_ShareOfFatsPct:
		out.SharePct = engine.Some(a.ShareOfFatsPct)
	}
	return out
}

// customFat leaves a missing saponification value at 0, which is below what
// the engine takes for one.
func customFat(m *lixiviumv1.CustomFat) *engine.CustomFat {
	if m == nil {
		return nil
	}
	out := &engine.CustomFat{
		Name:          m.GetName(),
		DensityGPerML: optional(m.DensityGPerMl),
		FreeAcid:      m.GetFreeAcid(),
		FattyAcidsPct: maps.Clone(m.GetFattyAcidPct()),
	}
	if sv := measured(m.GetSvMgKohPerG()); sv != nil {
		out.SV = *sv
	}
	return out
}

func (r *reader) process(at *path, m *lixiviumv1.Process) engine.Process {
	if m == nil {
		return engine.Process{}
	}
	p := engine.Process{
		FatsC:       optional(m.FatsC),
		LyeC:        optional(m.LyeC),
		RoomC:       optional(m.RoomC),
		WaterC:      optional(m.WaterC),
		LyeStorageC: optional(m.LyeStorageC),
		HandStirred: m.GetHandStirred(),
	}
	if v := m.GetGel(); r.known(at.at("gel"), v) {
		p.Gel = engine.GelIntent(v)
	}
	return p
}

func processMessage(p *engine.Process) *lixiviumv1.Process {
	if p == nil {
		return nil
	}
	return &lixiviumv1.Process{
		FatsC:       optionalMessage(p.FatsC),
		LyeC:        optionalMessage(p.LyeC),
		RoomC:       optionalMessage(p.RoomC),
		Gel:         lixiviumv1.GelIntent(p.Gel),
		HandStirred: p.HandStirred,
		WaterC:      optionalMessage(p.WaterC),
		LyeStorageC: optionalMessage(p.LyeStorageC),
	}
}
