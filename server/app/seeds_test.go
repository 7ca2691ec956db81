package app_test

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	"lixivium.example/clients/lixi/recipefile"
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

const recipes = "../../testdata/recipes/"

// demos are the demo recipes as requests of a kind.
func demos[Q proto.Message](t testing.TB, kind Q) []Q {
	t.Helper()
	files, err := filepath.Glob(recipes + "*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	files = slices.DeleteFunc(files, func(f string) bool { return filepath.Base(f) == "prices.yaml" })
	if len(files) < 10 {
		t.Fatalf("%d demo recipes", len(files))
	}
	var all []Q
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		open := func(name string) ([]byte, error) { return os.ReadFile(recipes + name) }
		q := kind.ProtoReflect().New().Interface().(Q)
		elsewhere := map[string]string{"actual": "", "fit": "", "terms": "", "allow_incomplete": "", "include_worksheet": ""}
		if _, err := recipefile.ReadVariant(open, file, data, q, elsewhere); err != nil {
			t.Fatal(err)
		}
		if fd := q.ProtoReflect().Descriptor().Fields().ByName("include_worksheet"); fd != nil && len(all)%2 == 0 {
			q.ProtoReflect().Set(fd, protoreflect.ValueOfBool(true)) // half of them with the reckoning
		}
		all = append(all, q)
	}
	return all
}

func demoPrices(t testing.TB) *lixiviumv1.PriceBook {
	t.Helper()
	data, err := os.ReadFile(recipes + "prices.yaml")
	if err != nil {
		t.Fatal(err)
	}
	q := &lixiviumv1.CostRequest{}
	if _, err := recipefile.ReadPrices("prices.yaml", data, q); err != nil {
		t.Fatal(err)
	}
	return q.GetPrices()
}

func gram(v float64) *lixiviumv1.Quantity {
	return &lixiviumv1.Quantity{Amount: &lixiviumv1.Quantity_G{G: v}}
}

// sizes are fits of every kind.
func sizes() []*lixiviumv1.Fit {
	box := &lixiviumv1.Mold{Count: 2, Shape: &lixiviumv1.Mold_Box{Box: &lixiviumv1.Box{LengthMm: 250, WidthMm: 80, HeightMm: 60}}, LinerMm: 1, FillPct: proto.Float64(90)}
	tube := &lixiviumv1.Mold{Count: 1, Shape: &lixiviumv1.Mold_Cylinder{Cylinder: &lixiviumv1.Cylinder{DiameterMm: 70, HeightMm: 300}}, FillHeightMm: proto.Float64(250)}
	cavities := &lixiviumv1.Mold{Count: 3, Shape: &lixiviumv1.Mold_Cavities{Cavities: &lixiviumv1.Cavities{Count: 6, MlEach: 95}}}
	tapered := &lixiviumv1.Mold{Count: 1, Shape: &lixiviumv1.Mold_TaperedBox{TaperedBox: &lixiviumv1.TaperedBox{
		TopLengthMm: 260, TopWidthMm: 90, BottomLengthMm: 240, BottomWidthMm: 80, HeightMm: 70}}}
	return []*lixiviumv1.Fit{
		{Target: &lixiviumv1.Fit_Molds{Molds: &lixiviumv1.Molds{Molds: []*lixiviumv1.Mold{box, tube, cavities, tapered}, TextureAllowancePct: 3}}, PotLoss: gram(30)},
		{Target: &lixiviumv1.Fit_Batter{Batter: gram(2000)}, TransferLoss: gram(10)},
		{Target: &lixiviumv1.Fit_Fats{Fats: gram(1000)}},
		{Target: &lixiviumv1.Fit_Bars{Bars: &lixiviumv1.Bars{Count: 24, Mass: gram(100), Cured: true, Trimmings: gram(50)}}},
		{Target: &lixiviumv1.Fit_Stock{Stock: &lixiviumv1.Stock{OnHand: []*lixiviumv1.OnHand{
			{LineId: "olive-oil", Mass: gram(700)}, {LineId: "naoh", Mass: gram(200)}, {LineId: "water", Mass: gram(900)}}}}},
	}
}

var fats = []string{"olive-oil", "lard", "coconut-oil", "palm", "beeswax", "stearic-acid", "castor-oil"}

// words are texts that mean something in a request.
var words = slices.Concat(fats, []string{
	"naoh", "koh", "water", "naoh-solution", "coconut-oil/carrier", "olivee", "C18:1", "C12:0", "EUR", "JPY", "XXX", "#aabbcc", "aabbcc", "2025-01-14",
	"rose-clay", "kaolin", "citric-acid", "lactic-acid", "sodium-lactate", "sugar", "honey", "titanium-dioxide", "light", "dark", "d", "p", "q",
})
