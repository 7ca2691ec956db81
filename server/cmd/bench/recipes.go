package main

import (
	"google.golang.org/protobuf/encoding/protojson"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// plain has ten fats, two portions and an acid of the caller's own: no plugin.
func plain(worksheet bool) *lixiviumv1.FormulateRequest {
	q := read(`{"recipe":{"name":"bench","alkali":{"superfat_pct":5},"water":{"measure":{"lye_concentration_pct":33}},
		"total_fats":{"g":1000},"fats":[
		{"id":"f0","fat":"olive-oil","share_of_fats_pct":25},{"id":"f1","fat":"coconut-oil","share_of_fats_pct":20},
		{"id":"f2","fat":"palm-oil","share_of_fats_pct":15},{"id":"f3","fat":"shea-butter","share_of_fats_pct":8},
		{"id":"f4","fat":"castor-oil","share_of_fats_pct":7},{"id":"f5","fat":"sweet-almond-oil","share_of_fats_pct":6},
		{"id":"f6","fat":"avocado-oil","share_of_fats_pct":6},{"id":"f7","fat":"cocoa-butter","share_of_fats_pct":5},
		{"id":"f8","fat":"argan-oil","share_of_fats_pct":5},{"id":"f9","fat":"beeswax","share_of_fats_pct":3}],
		"doses":[{"id":"acid","custom":{"name":"citric acid","alkali_mol_per_g":{"value":0.015615,"half_width":0.0001}},
			"of_fats_pct":1.5,"stage":"STAGE_WATER_BEFORE_LYE","treatment":"ALKALI_TREATMENT_ADD"}],
		"portions":[{"id":"white","share_of_base_pct":40},{"id":"green","share_of_base_pct":60}]}}`)
	q.IncludeWorksheet = worksheet
	return q
}

// dosed has a dose of each of four plugins. A number of its own makes it a
// recipe that no plugin was asked about before.
func dosed(number int) *lixiviumv1.FormulateRequest {
	q := read(`{"recipe":{"name":"bench","alkali":{"superfat_pct":5},"water":{"measure":{"lye_concentration_pct":33}},
		"fats":[{"id":"olive","fat":"olive-oil","mass":{"g":700}},{"id":"coconut","fat":"coconut-oil","mass":{"g":300}}],
		"doses":[{"id":"lactate","additive":"sodium-lactate"},{"id":"white","additive":"titanium-dioxide"},
			{"id":"clay","additive":"kaolin"},{"id":"sugar","additive":"sugar"}]}}`)
	for _, d := range q.Recipe.Doses {
		d.Amount = &lixiviumv1.Dose_OfFatsPct{OfFatsPct: 1 + float64(number)*1e-7}
	}
	return q
}

// read panics: the text is this program's own.
func read(text string) *lixiviumv1.FormulateRequest {
	q := &lixiviumv1.FormulateRequest{}
	if err := protojson.Unmarshal([]byte(text), q); err != nil {
		panic(err)
	}
	return q
}
