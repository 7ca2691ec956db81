package translate

import (
	"reflect"
	"strings"
	"testing"

	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/reflect/protoreflect"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"

	"lixivium.example/engine"
)

// TestWireFaults: what only the wire can get wrong, with its place.
func TestWireFaults(t *testing.T) {
	for name, c := range map[string]struct{ request, path, reason, text string }{
		"no recipe":             {`{}`, "recipe", engine.ReasonRequired, "no recipe"},
		"spoons for nothing":    {`{"recipe":{"doses":[{},{"spoons":{"teaspoons_us":1,"per_fats":{}}}]}}`, "recipe.doses[1].spoons.per_fats", engine.ReasonRequired, "fl_oz_us"},
		"total without unit":    {`{"recipe":{"total_fats":{}}}`, "recipe.total_fats", engine.ReasonRequired, "empty"},
		"pot without unit":      {`{"recipe":{"vessels":{"pot":{}}}}`, "recipe.vessels.pot", engine.ReasonRequired, "empty"},
		"jug without unit":      {`{"recipe":{"vessels":{"jug":{}}}}`, "recipe.vessels.jug", engine.ReasonRequired, "empty"},
		"given without unit":    {`{"recipe":{"alkali":{"given":{"naoh":{},"koh":{"g":1}}}}}`, "recipe.alkali.given.naoh", engine.ReasonRequired, "empty"},
		"capacity without unit": {`{"recipe":{},"balances":[{},{"capacity":{}}]}`, "balances[1].capacity", engine.ReasonRequired, "empty"},
		"unknown basis":         {`{"recipe":{"doses":[{"basis":77}]}}`, "recipe.doses[0].basis", engine.ReasonUnknown, "DOSE_BASIS_BATCH_FATS"},
		"unknown stage":         {`{"recipe":{"doses":[{"stage":77}]}}`, "recipe.doses[0].stage", engine.ReasonUnknown, "STAGE_TRACE"},
		"unknown treatment":     {`{"recipe":{"doses":[{"treatment":-1}]}}`, "recipe.doses[0].treatment", engine.ReasonUnknown, "ALKALI_TREATMENT_ADD"},
		"unknown water source":  {`{"recipe":{"doses":[{"water_source":77}]}}`, "recipe.doses[0].water_source", engine.ReasonUnknown, "WATER_SOURCE_ON_TOP"},
		"unknown gel":           {`{"recipe":{"process":{"gel":77}}}`, "recipe.process.gel", engine.ReasonUnknown, "GEL_INTENT_FORCE"},
	} {
		var m lixiviumv1.FormulateRequest
		if err := protojson.Unmarshal([]byte(c.request), &m); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		wrong := Formulate(&m).Wrong
		if len(wrong) != 1 || wrong[0].Path != c.path || wrong[0].Reason != c.reason || !strings.Contains(wrong[0].Text, c.text) {
			t.Errorf("%s: got %+v", name, wrong)
		}
	}
}

// TestLeftToTheEngine: what the engine can see for itself is not said twice.
func TestLeftToTheEngine(t *testing.T) {
	for _, request := range []string{
		`{"recipe":{}}`,
		`{"recipe":{"fats":[{"mass":{}},{"custom":{}},{"premix":{"fats":[{"custom":{}}]}}],"alkali":{},"water":{"measure":{"mass":{}}},"doses":[{"mass":{}}]}}`,
		`{"recipe":{"alkali":{"naoh":{"made":{}},"koh":{"solution":{}},"given":{}}}}`,
		`{"recipe":{"alkali":{"naoh":{"also_holds":[{"mass":{}}]}}},"balances":[{"step":{}}]}`,
		`{"recipe":{"doses":[{"carrier":{}},{"custom":{"alkali_mol_per_g":{}}}],"water":{"discount":{}}}}`,
	} {
		var m lixiviumv1.FormulateRequest
		if err := protojson.Unmarshal([]byte(request), &m); err != nil {
			t.Fatal(err)
		}
		if wrong := Formulate(&m).Wrong; len(wrong) > 0 {
			t.Errorf("%s: %+v", request, wrong)
		}
	}
}

// TestNilsInside: a caller in the same process can leave holes that the wire
// cannot carry; they read as empty.
func TestNilsInside(t *testing.T) {
	q := Formulate(&lixiviumv1.FormulateRequest{
		Recipe: &lixiviumv1.Recipe{
			Fats:     []*lixiviumv1.FatLine{nil, {Kind: &lixiviumv1.FatLine_Custom{}, Amount: &lixiviumv1.FatLine_Mass{}}},
			Doses:    []*lixiviumv1.Dose{nil, {Kind: &lixiviumv1.Dose_Custom{}, Amount: &lixiviumv1.Dose_Spoons{}}},
			Portions: []*lixiviumv1.Portion{nil},
			Alkali: &lixiviumv1.Alkali{
				Naoh:   &lixiviumv1.AlkaliStock{Form: &lixiviumv1.AlkaliStock_Made{}, AlsoHolds: []*lixiviumv1.StockContent{nil}},
				Koh:    &lixiviumv1.AlkaliStock{Form: &lixiviumv1.AlkaliStock_Solution{}},
				Amount: &lixiviumv1.Alkali_Given{},
			},
			Water: &lixiviumv1.Water{Ask: &lixiviumv1.Water_Discount{}},
		},
		Balances: []*lixiviumv1.Balance{nil},
	})
	if len(q.Recipe.Fats) != 2 || len(q.Recipe.Doses) != 2 || len(q.Options.Balances) != 1 || q.Recipe.Alkali.NaOH.Made == nil {
		t.Errorf("got %+v", q)
	}
	if Formulate(nil).Recipe != nil || ReconcileWeights(nil).Recipe != nil {
		t.Error("a recipe out of nothing")
	}
}

func TestOptionsAndActual(t *testing.T) {
	var m lixiviumv1.ReconcileWeightsRequest
	if err := protojson.Unmarshal([]byte(`{"recipe":{"name":"n"},"include_worksheet":true,"allow_incomplete":true,
		"balances":[{"name":"pocket","step":{"g":0.01},"capacity":{"oz":7}},{"step":{"g":1}}],
		"actual":[{"line_id":"naoh","mass":{"g":100}},{"line_id":"water"}]}`), &m); err != nil {
		t.Fatal(err)
	}
	got := ReconcileWeights(&m)
	want := Request{
		Recipe: &engine.Recipe{Name: "n"},
		Options: engine.Options{IncludeWorksheet: true, AllowIncomplete: true, Balances: []engine.Balance{
			{Name: "pocket", Step: engine.InGrams(0.01), Capacity: engine.Quantity{Value: 7, Unit: engine.Ounce}},
			{Step: engine.InGrams(1)},
		}},
		Actual: []engine.ActualWeight{{LineID: "naoh", Mass: engine.InGrams(100)}, {LineID: "water"}},
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v\nwant %+v", got, want)
	}
	formulate := Formulate(&lixiviumv1.FormulateRequest{Recipe: m.Recipe, Balances: m.Balances, IncludeWorksheet: true, AllowIncomplete: true})
	want.Actual = nil
	if !reflect.DeepEqual(formulate, want) {
		t.Errorf("got %+v\nwant %+v", formulate, want)
	}
}

// TestEnumsAgree: numbers are carried over as they are, so both sides must
// give them the same meaning, and neither may have one more.
func TestEnumsAgree(t *testing.T) {
	for _, c := range []struct {
		contract protoreflect.Enum
		engine   []any
		names    []string
	}{
		{lixiviumv1.DoseBasis(0), []any{engine.BasisNotSaid, engine.BasisPortionFats, engine.BasisBatchFats},
			[]string{"UNSPECIFIED", "PORTION_FATS", "BATCH_FATS"}},
		{lixiviumv1.Stage(0), []any{engine.StageNotSaid, engine.StageWaterBeforeLye, engine.StageAlkali, engine.StageCooledLye, engine.StageFats, engine.StageTrace, engine.StageSurface},
			[]string{"UNSPECIFIED", "WATER_BEFORE_LYE", "ALKALI", "COOLED_LYE", "FATS", "TRACE", "SURFACE"}},
		{lixiviumv1.AlkaliTreatment(0), []any{engine.TreatmentNotSaid, engine.TreatmentAdd, engine.TreatmentAbsorb},
			[]string{"UNSPECIFIED", "ADD", "ABSORB"}},
		{lixiviumv1.WaterSource(0), []any{engine.WaterSourceNotSaid, engine.WaterFromRecipe, engine.WaterOnTop},
			[]string{"UNSPECIFIED", "FROM_RECIPE", "ON_TOP"}},
		{lixiviumv1.GelIntent(0), []any{engine.GelNotSaid, engine.GelAvoid, engine.GelLeave, engine.GelForce},
			[]string{"UNSPECIFIED", "AVOID", "LEAVE", "FORCE"}},
		{lixiviumv1.Severity(0), []any{engine.Silent, engine.Note, engine.Caution, engine.Danger},
			[]string{"UNSPECIFIED", "NOTE", "CAUTION", "DANGER"}},
		{lixiviumv1.Vessel(0), []any{engine.NoVessel, engine.LyeJug, engine.FatPot, engine.BatterPot, engine.PortionCup, engine.MoldVessel},
			[]string{"UNSPECIFIED", "LYE_JUG", "FAT_POT", "BATTER", "PORTION_CUP", "MOLD"}},
		{lixiviumv1.Basis(0), []any{engine.BasisUnknown, engine.PublishedSeen, engine.PublishedFromMemory, engine.Derived, engine.CommonPractice, engine.Estimate, engine.FromCaller},
			[]string{"UNSPECIFIED", "PUBLISHED_SEEN", "PUBLISHED_FROM_MEMORY", "DERIVED", "COMMON_PRACTICE", "ESTIMATE", "CALLER"}},
	} {
		values := c.contract.Descriptor().Values()
		if values.Len() != len(c.engine) {
			t.Errorf("%s has %d values, the engine %d", c.contract.Descriptor().Name(), values.Len(), len(c.engine))
			continue
		}
		for i, name := range c.names {
			number := reflect.ValueOf(c.engine[i]).Int()
			v := values.ByNumber(protoreflect.EnumNumber(number))
			if v == nil || !strings.HasSuffix(string(v.Name()), "_"+name) {
				t.Errorf("%s: the engine's %d should be %s, the contract says %v", c.contract.Descriptor().Name(), number, name, v)
			}
		}
	}
}
