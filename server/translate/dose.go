package translate

import (
	"maps"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"

	"lixivium.example/engine"
)

func (r *reader) dose(at *path, m *lixiviumv1.Dose) engine.Dose {
	d := engine.Dose{
		ID:         m.GetId(),
		Additive:   m.GetAdditive(),
		Custom:     customAdditive(m.GetCustom()),
		PortionID:  m.GetPortionId(),
		Carrier:    carrier(m.GetCarrier()),
		Parameters: maps.Clone(m.GetParameters()),
	}
	switch a := m.GetAmount().(type) {
	case *lixiviumv1.Dose_Mass:
		d.Mass = quantity(a.Mass)
	case *lixiviumv1.Dose_OfFatsPct:
		d.OfFatsPct = engine.Some(a.OfFatsPct)
	case *lixiviumv1.Dose_OfAskedWaterPct:
		d.OfAskedWaterPct = engine.Some(a.OfAskedWaterPct)
	case *lixiviumv1.Dose_Spoons:
		d.Spoons = &engine.Spoons{
			TeaspoonsUS: a.Spoons.GetTeaspoonsUs(),
			PerFats:     r.optionalQuantity(at.at("spoons").at("per_fats"), a.Spoons.GetPerFats()),
		}
	}
	if v := m.GetBasis(); r.known(at.at("basis"), v) {
		d.Basis = engine.DoseBasis(v)
	}
	if v := m.GetStage(); r.known(at.at("stage"), v) {
		d.Stage = engine.Stage(v)
	}
	if v := m.GetTreatment(); r.known(at.at("treatment"), v) {
		d.Treatment = engine.AlkaliTreatment(v)
	}
	if v := m.GetWaterSource(); r.known(at.at("water_source"), v) {
		d.WaterSource = engine.WaterSource(v)
	}
	return d
}

func carrier(m *lixiviumv1.Carrier) *engine.Carrier {
	if m == nil {
		return nil
	}
	return &engine.Carrier{
		Water:    m.GetWater(),
		Fat:      m.GetFat(),
		Custom:   customAdditive(m.GetCustom()),
		GPerG:    m.GetGPerGDose(),
		Extra:    m.GetExtra(),
		Premixed: m.GetPremixed(),
	}
}

func customAdditive(m *lixiviumv1.CustomAdditive) *engine.CustomAdditive {
	if m == nil {
		return nil
	}
	return &engine.CustomAdditive{
		Name:               m.GetName(),
		WaterGPerG:         m.GetWaterGPerG(),
		AlkaliMolPerG:      measured(m.GetAlkaliMolPerG()),
		FatGPerG:           maps.Clone(m.GetFatGPerG()),
		BoundWaterGPerG:    m.GetBoundWaterGPerG(),
		DensityGPerML:      optional(m.DensityGPerMl),
		GPerTeaspoonUS:     optional(m.GPerTeaspoonUs),
		AlkaliFormsNoWater: m.GetAlkaliFormsNoWater(),
	}
}

func doseMessage(d *engine.Dose) *lixiviumv1.Dose {
	if d == nil {
		return nil
	}
	m := &lixiviumv1.Dose{
		Id:          d.ID,
		PortionId:   d.PortionID,
		Basis:       lixiviumv1.DoseBasis(d.Basis),
		Stage:       lixiviumv1.Stage(d.Stage),
		Carrier:     carrierMessage(d.Carrier),
		Treatment:   lixiviumv1.AlkaliTreatment(d.Treatment),
		WaterSource: lixiviumv1.WaterSource(d.WaterSource),
		Parameters:  maps.Clone(d.Parameters),
	}
	switch {
	case d.Custom != nil:
		m.Kind = &lixiviumv1.Dose_Custom{Custom: customAdditiveMessage(d.Custom)}
	case d.Additive != "":
		m.Kind = &lixiviumv1.Dose_Additive{Additive: d.Additive}
	}
	if d.Mass.Given() {
		m.Amount = &lixiviumv1.Dose_Mass{Mass: quantityMessage(d.Mass)}
	}
	if v, set := d.OfFatsPct.Get(); set {
		m.Amount = &lixiviumv1.Dose_OfFatsPct{OfFatsPct: v}
	}
	if v, set := d.OfAskedWaterPct.Get(); set {
		m.Amount = &lixiviumv1.Dose_OfAskedWaterPct{OfAskedWaterPct: v}
	}
	if d.Spoons != nil {
		m.Amount = &lixiviumv1.Dose_Spoons{Spoons: &lixiviumv1.Spoons{
			TeaspoonsUs: d.Spoons.TeaspoonsUS,
			PerFats:     quantityMessage(d.Spoons.PerFats),
		}}
	}
	return m
}

func carrierMessage(c *engine.Carrier) *lixiviumv1.Carrier {
	if c == nil {
		return nil
	}
	m := &lixiviumv1.Carrier{GPerGDose: c.GPerG, Extra: c.Extra, Premixed: c.Premixed}
	switch {
	case c.Water:
		m.Kind = &lixiviumv1.Carrier_Water{Water: true}
	case c.Custom != nil:
		m.Kind = &lixiviumv1.Carrier_Custom{Custom: customAdditiveMessage(c.Custom)}
	case c.Fat != "":
		m.Kind = &lixiviumv1.Carrier_Fat{Fat: c.Fat}
	}
	return m
}

func customAdditiveMessage(c *engine.CustomAdditive) *lixiviumv1.CustomAdditive {
	return &lixiviumv1.CustomAdditive{
		Name:               c.Name,
		WaterGPerG:         c.WaterGPerG,
		AlkaliMolPerG:      measuredMessage(c.AlkaliMolPerG),
		FatGPerG:           maps.Clone(c.FatGPerG),
		BoundWaterGPerG:    c.BoundWaterGPerG,
		DensityGPerMl:      optionalMessage(c.DensityGPerML),
		GPerTeaspoonUs:     optionalMessage(c.GPerTeaspoonUS),
		AlkaliFormsNoWater: c.AlkaliFormsNoWater,
	}
}
