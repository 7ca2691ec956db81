package translate

import (
	lixiviumv1 "lixivium.example/proto/lixivium/v1"

	"lixivium.example/engine"
)

// quantity gives the zero Quantity for an absent one, which the engine reports
// wherever a quantity is required.
func quantity(m *lixiviumv1.Quantity) engine.Quantity {
	switch a := m.GetAmount().(type) {
	case *lixiviumv1.Quantity_G:
		return engine.Quantity{Value: a.G, Unit: engine.Gram}
	case *lixiviumv1.Quantity_Kg:
		return engine.Quantity{Value: a.Kg, Unit: engine.Kilogram}
	case *lixiviumv1.Quantity_Oz:
		return engine.Quantity{Value: a.Oz, Unit: engine.Ounce}
	case *lixiviumv1.Quantity_Lb:
		return engine.Quantity{Value: a.Lb, Unit: engine.Pound}
	case *lixiviumv1.Quantity_Ml:
		return engine.Quantity{Value: a.Ml, Unit: engine.Milliliter}
	case *lixiviumv1.Quantity_L:
		return engine.Quantity{Value: a.L, Unit: engine.Liter}
	case *lixiviumv1.Quantity_FlOzUs:
		return engine.Quantity{Value: a.FlOzUs, Unit: engine.FluidOunceUS}
	case *lixiviumv1.Quantity_CupUs:
		return engine.Quantity{Value: a.CupUs, Unit: engine.CupUS}
	case *lixiviumv1.Quantity_TspUs:
		return engine.Quantity{Value: a.TspUs, Unit: engine.TeaspoonUS}
	}
	return engine.Quantity{}
}

// optionalQuantity reads a quantity that may be left out. One that is there
// but names no unit is refused: taken as left out, "teaspoons for a pound"
// would become "teaspoons in all".
func (r *reader) optionalQuantity(at *path, m *lixiviumv1.Quantity) engine.Quantity {
	q := quantity(m)
	if m != nil && !q.Given() {
		r.add(at, engine.ReasonRequired,
			"The quantity is there but empty. Give it in one of g, kg, oz, lb, ml, l, fl_oz_us, cup_us, tsp_us, or leave the field out.")
	}
	return q
}

func quantityMessage(q engine.Quantity) *lixiviumv1.Quantity {
	switch q.Unit {
	case engine.Gram:
		return &lixiviumv1.Quantity{Amount: &lixiviumv1.Quantity_G{G: q.Value}}
	case engine.Kilogram:
		return &lixiviumv1.Quantity{Amount: &lixiviumv1.Quantity_Kg{Kg: q.Value}}
	case engine.Ounce:
		return &lixiviumv1.Quantity{Amount: &lixiviumv1.Quantity_Oz{Oz: q.Value}}
	case engine.Pound:
		return &lixiviumv1.Quantity{Amount: &lixiviumv1.Quantity_Lb{Lb: q.Value}}
	case engine.Milliliter:
		return &lixiviumv1.Quantity{Amount: &lixiviumv1.Quantity_Ml{Ml: q.Value}}
	case engine.Liter:
		return &lixiviumv1.Quantity{Amount: &lixiviumv1.Quantity_L{L: q.Value}}
	case engine.FluidOunceUS:
		return &lixiviumv1.Quantity{Amount: &lixiviumv1.Quantity_FlOzUs{FlOzUs: q.Value}}
	case engine.CupUS:
		return &lixiviumv1.Quantity{Amount: &lixiviumv1.Quantity_CupUs{CupUs: q.Value}}
	case engine.TeaspoonUS:
		return &lixiviumv1.Quantity{Amount: &lixiviumv1.Quantity_TspUs{TspUs: q.Value}}
	}
	return nil
}

func optional(v *float64) engine.Optional {
	if v == nil {
		return engine.Optional{}
	}
	return engine.Some(*v)
}

func optionalMessage(o engine.Optional) *float64 {
	v, set := o.Get()
	if !set {
		return nil
	}
	return &v
}

func measured(m *lixiviumv1.Measured) *engine.Measured {
	if m == nil {
		return nil
	}
	return &engine.Measured{Value: m.GetValue(), HalfWidth: optional(m.HalfWidth)}
}

func measuredMessage(m *engine.Measured) *lixiviumv1.Measured {
	if m == nil {
		return nil
	}
	return &lixiviumv1.Measured{Value: m.Value, HalfWidth: optionalMessage(m.HalfWidth)}
}

func (r *reader) balances(list []*lixiviumv1.Balance) []engine.Balance {
	if len(list) == 0 {
		return nil
	}
	out := make([]engine.Balance, len(list))
	for i, m := range list {
		out[i] = engine.Balance{
			Name:     m.GetName(),
			Step:     quantity(m.GetStep()),
			Capacity: r.optionalQuantity((&path{field: "balances", index: i}).at("capacity"), m.GetCapacity()),
		}
	}
	return out
}
