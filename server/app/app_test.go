package app

import (
	"context"
	"reflect"
	"runtime"
	"slices"
	"testing"

	"google.golang.org/grpc/codes"

	"lixivium.example/engine"
	"lixivium.example/engine/fat"
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// fake is an engine that remembers what it was asked.
type fake struct {
	recipe  *engine.Recipe
	options engine.Options
	actual  []engine.ActualWeight
	fit     *engine.Fit
	line    string
	with    []engine.FatLine
	err     error
}

func (f *fake) Formulate(_ context.Context, r *engine.Recipe, o engine.Options) (*engine.Formulation, error) {
	f.recipe, f.options = r, o
	if f.err != nil {
		return nil, f.err
	}
	return &engine.Formulation{MissingPlugins: []string{"from the fake"}}, nil
}

func (f *fake) Reconcile(_ context.Context, r *engine.Recipe, o engine.Options, a []engine.ActualWeight) (*engine.Reconciliation, error) {
	f.recipe, f.options, f.actual = r, o, a
	if f.err != nil {
		return nil, f.err
	}
	return &engine.Reconciliation{Factor: 1.25, Plan: &engine.Formulation{}}, nil
}

func gram(v float64) *lixiviumv1.Quantity {
	return &lixiviumv1.Quantity{Amount: &lixiviumv1.Quantity_G{G: v}}
}

func TestFormulateAsksTheEngine(t *testing.T) {
	f := &fake{}
	answer, err := (&service{engine: f}).Formulate(t.Context(), &lixiviumv1.FormulateRequest{
		Recipe:           &lixiviumv1.Recipe{Name: "n"},
		Balances:         []*lixiviumv1.Balance{{Step: gram(1)}},
		IncludeWorksheet: true,
	})
	if err != nil || answer.GetFormulation().GetMissingPlugins()[0] != "from the fake" {
		t.Fatalf("%v, %v", answer, err)
	}
	want := engine.Options{Balances: []engine.Balance{{Step: engine.InGrams(1)}}, IncludeWorksheet: true}
	if f.recipe.Name != "n" || !reflect.DeepEqual(f.options, want) {
		t.Errorf("asked %+v %+v", f.recipe, f.options)
	}
}

func TestReconcileAsksTheEngine(t *testing.T) {
	f := &fake{}
	answer, err := (&service{engine: f}).ReconcileWeights(t.Context(), &lixiviumv1.ReconcileWeightsRequest{
		Recipe: &lixiviumv1.Recipe{Name: "n"},
		Actual: []*lixiviumv1.ActualWeight{{LineId: "naoh", Mass: gram(3)}},
	})
	if err != nil || answer.GetFactor() != 1.25 {
		t.Fatalf("%v, %v", answer, err)
	}
	if f.recipe.Name != "n" || !reflect.DeepEqual(f.actual, []engine.ActualWeight{{LineID: "naoh", Mass: engine.InGrams(3)}}) {
		t.Errorf("asked %+v %+v", f.recipe, f.actual)
	}
}

// TestEverythingWrongAtOnce: faults of the wire and of the engine come in one
// answer, and a wire fault alone refuses although the engine was content.
func TestEverythingWrongAtOnce(t *testing.T) {
	q := &lixiviumv1.FormulateRequest{Recipe: &lixiviumv1.Recipe{TotalFats: &lixiviumv1.Quantity{}}}
	for _, c := range []struct {
		engineErr error
		want      []string
	}{
		{&engine.Violations{List: []engine.Violation{{Path: "recipe.alkali", Reason: engine.ReasonRequired}}}, []string{"recipe.total_fats", "recipe.alkali"}},
		{nil, []string{"recipe.total_fats"}},
		{&engine.Impossible{Reason: engine.ImpossibleWater}, []string{"recipe.total_fats"}},
	} {
		_, err := (&service{engine: &fake{err: c.engineErr}}).Formulate(t.Context(), q)
		read := ReadRefusal(err)
		var paths []string
		for _, v := range read.Violations {
			paths = append(paths, v.Path)
		}
		if read.Code != codes.InvalidArgument || !slices.Equal(paths, c.want) {
			t.Errorf("with %v: %+v", c.engineErr, read)
		}
	}
}

func TestNoRecipe(t *testing.T) {
	f := &fake{}
	s := &service{engine: f}
	_, err1 := s.Formulate(t.Context(), nil)
	_, err2 := s.ReconcileWeights(t.Context(), &lixiviumv1.ReconcileWeightsRequest{})
	for _, err := range []error{err1, err2} {
		read := ReadRefusal(err)
		if read.Code != codes.InvalidArgument || len(read.Violations) != 1 || read.Violations[0].Path != "recipe" {
			t.Errorf("got %+v", read)
		}
	}
	if f.recipe != nil {
		t.Error("the engine was asked without a recipe")
	}
}

func TestOwnerMissing(t *testing.T) {
	_, err := (&service{engine: &fake{err: &engine.MissingOwner{Additive: "a", DoseID: "d"}}}).
		Formulate(t.Context(), &lixiviumv1.FormulateRequest{Recipe: &lixiviumv1.Recipe{}, AllowIncomplete: true})
	if read := ReadRefusal(err); read.Code != codes.Unavailable || read.Reason != "ADDITIVE_OWNER_MISSING" {
		t.Errorf("got %+v", read)
	}
}

func TestVersions(t *testing.T) {
	s, err := New(Options{})
	if err != nil {
		t.Fatal(err)
	}
	v, err := s.GetVersions(t.Context(), &lixiviumv1.GetVersionsRequest{})
	if err != nil || v.GetServerVersion() != Version || v.GetEngineVersion() != engine.Version ||
		v.GetDataDigest() != engine.DataDigest() || v.GetGoVersion() != runtime.Version() {
		t.Errorf("%v, %v", v, err)
	}
}

// TestFatNames: every name the catalog lists means to the engine what the
// catalog says.
func TestFatNames(t *testing.T) {
	s, err := New(Options{})
	if err != nil {
		t.Fatal(err)
	}
	list, err := s.ListFats(t.Context(), &lixiviumv1.ListFatsRequest{})
	if err != nil {
		t.Fatal(err)
	}
	synonyms := 0
	for _, f := range list.GetFats() {
		for _, name := range f.GetSynonyms() {
			synonyms++
			if found, err := fat.Resolve(name); err != nil || found.ID != f.GetId() {
				t.Errorf("%q is listed for %s and means %v, %v", name, f.GetId(), found, err)
			}
		}
	}
	for _, a := range list.GetAmbiguousNames() {
		if _, err := fat.Resolve(a.GetName()); err == nil {
			t.Errorf("%q is listed as ambiguous and is not", a.GetName())
		}
		for _, id := range a.GetFatIds() {
			if _, ok := fat.ByID(id); !ok {
				t.Errorf("%q may mean %q, which is no fat", a.GetName(), id)
			}
		}
	}
	if len(list.GetFats()) == 0 || synonyms == 0 || len(list.GetAmbiguousNames()) == 0 {
		t.Errorf("%d fats, %d synonyms, %d ambiguous names", len(list.GetFats()), synonyms, len(list.GetAmbiguousNames()))
	}
}

func TestLists(t *testing.T) {
	s, err := New(Options{})
	if err != nil {
		t.Fatal(err)
	}
	water, err := s.ListWaterReferences(t.Context(), &lixiviumv1.ListWaterReferencesRequest{})
	if err != nil || len(water.GetReferences()) != len(engine.WaterReferences()) {
		t.Errorf("%v, %v", water, err)
	}
	codes, err := s.ListFindingCodes(t.Context(), &lixiviumv1.ListFindingCodesRequest{})
	if err != nil || len(codes.GetCodes()) != len(engine.FindingCodes()) {
		t.Errorf("%v, %v", codes, err)
	}
}
