package recipefile

import (
	"strings"
	"testing"

	"google.golang.org/protobuf/proto"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

const shelf = `prices_format: 1
prices:
  currency_code: EUR
  packs:
    - {material: olive-oil, size: {l: 5}, price: 42.50, price_date: 2025-01-14}
    - material: Rose clay
      size: {g: 500}
      price: 7.6
      waste_pct: 2
`

func TestReadPrices(t *testing.T) {
	got := &lixiviumv1.CostRequest{}
	places, err := ReadPrices("shelf.yaml", []byte(shelf), got)
	if err != nil {
		t.Fatal(err)
	}
	want := &lixiviumv1.PriceBook{CurrencyCode: "EUR", Packs: []*lixiviumv1.Pack{
		{Material: "olive-oil", Size: &lixiviumv1.Quantity{Amount: &lixiviumv1.Quantity_L{L: 5}}, Price: "42.50", PriceDate: "2025-01-14"},
		{Material: "Rose clay", Size: &lixiviumv1.Quantity{Amount: &lixiviumv1.Quantity_G{G: 500}}, Price: "7.6", WastePct: 2},
	}}
	if !proto.Equal(got.GetPrices(), want) {
		t.Errorf("got %v", got)
	}
	recipe, err := Read("bar.yaml", []byte(ordinary), &lixiviumv1.FormulateRequest{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	recipe.Note("recipe.water", "a flag")
	places.Take("recipes[1]", recipe)
	for path, place := range map[string]string{
		"prices.packs[1].price":                 "shelf.yaml:8:14",
		"prices.packs[0].density_g_per_ml":      "shelf.yaml:5:7",
		"recipes[1].recipe.fats[0].mass.g":      "bar.yaml:8:17",
		"recipes[1].recipe.water.measure":       "a flag",
		"recipes[1].terms.margin_pct":           "bar.yaml",
		"recipes[0].terms.margin_pct":           "shelf.yaml",
		"recipes[1].recipe.fats[1].custom.name": "bar.yaml:11:15",
	} {
		if at := places.Of(path); at != place {
			t.Errorf("%s stands at %s, want %s", path, at, place)
		}
	}
}

func TestBadPriceFiles(t *testing.T) {
	for text, want := range map[string]string{
		"":                                     "x: the file is empty; begin with `prices_format: 1` and `prices:`; lixi cost --help shows an example",
		"prices: {}":                           "x:1:1: the key prices_format is missing; put `prices_format: 1` at the top: it says how the file is to be read",
		"prices_format: 2":                     "x:1:16: prices_format: format \"2\"; this lixi understands format 1 only; write `prices_format: 1`, or use a lixi that reads this format",
		"prices_format: 1\nrecipes: []":        "x:2:1: recipes: this key does not belong here; recipes stand in files of their own; name them behind lixi cost",
		"prices_format: 1\nallow_partial: on":  "x:2:1: allow_partial: this key does not belong here; it is a matter of the moment: lixi cost --partial",
		"prices_format: 1\npacks: []":          "x:2:1: packs: no key named \"packs\" here; it belongs one level further in: prices.packs",
		"prices_format: 1\nprices: &a {}":      "x:2:9: prices: an anchor (&a); take it out; price files have no anchors and aliases",
		"prices_format: 1\n---\nx: 1":          "x:2:1: a second document begins here; keep one price book a file: take out the line `---` and what follows it",
		"prices_format: 1\x01":                 "x:1:17: the control character U+0001; take it out; a price file is plain text",
		strings.Repeat("#", MaxBytes+1):        "x: the file is larger than 1048576 bytes (1 MiB), the most a price file may hold; keep one price book a file; photographs and notes belong elsewhere",
		"prices_format: 1\nvariant_of: a.yaml": "x:2:1: variant_of: no key named \"variant_of\" here; the keys here are: prices",
		"prices_format: 1\nprices: {packs: [{price: 12,50}]}": "x:2:26: prices.packs[0].price: a decimal comma; write price: 12.50",
	} {
		_, err := ReadPrices("x", []byte(text), &lixiviumv1.CostRequest{})
		if err == nil || err.Error() != want {
			t.Errorf("%.40q: got\n%v\nwant\n%s", text, err, want)
		}
	}
}
