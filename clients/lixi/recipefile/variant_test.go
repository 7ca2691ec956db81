package recipefile

import (
	"errors"
	"io/fs"
	"strings"
	"testing"

	"google.golang.org/protobuf/proto"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

const base = `recipe_format: 1
recipe:
  name: Base
  fats:
    - {id: olive, fat: olive-oil, mass: {g: 700}}
    - {id: coconut, fat: coconut-oil, mass: {g: 300}}
  alkali:
    superfat_pct: 5
    naoh: {purity_pct: 99}
  water: {measure: {lye_concentration_pct: 33}}
  doses:
    - {id: salt, additive: table-salt, of_fats_pct: 2, parameters: {grain_mm: 0.3, iodine: 1}}
balances:
  - {step: {g: 1}}
  - {step: {g: 0.1}}
`

// folder opens files of a test by name.
func folder(files map[string]string) Opener {
	return func(name string) ([]byte, error) {
		text, ok := files[name]
		if !ok {
			return nil, fs.ErrNotExist
		}
		return []byte(text), nil
	}
}

func readVariant(text string, files map[string]string) (*lixiviumv1.FormulateRequest, *Places, error) {
	m := &lixiviumv1.FormulateRequest{}
	places, err := ReadVariant(folder(files), "shop/variant.yaml", []byte(text), m, nil)
	return m, places, err
}

// TestVariant: fields, alternatives, entries of lists and of maps are laid over;
// every other list is replaced; places tell which file a field stands in.
func TestVariant(t *testing.T) {
	got, places, err := readVariant(`recipe_format: 1
variant_of: base.yaml
changes:
  recipe:
    name: Variant
    fats:
      - {id: coconut, remove: true}
      - {id: olive, mass: {oz: 20}}
      - {id: lard, fat: lard, mass: {g: 300}}
    alkali: {given: {naoh: {g: 140}}}
    water: {measure: {water_per_alkali_ratio: 2}}
    doses:
      - {id: salt, parameters: {grain_mm: 0.5}}
    process: {room_c: 18}
  balances:
    - {step: {g: 0.5}}
`, map[string]string{"base.yaml": base})
	if err != nil {
		t.Fatal(err)
	}
	want := &lixiviumv1.FormulateRequest{}
	if _, err := Read("x", []byte(`recipe_format: 1
recipe:
  name: Variant
  fats:
    - {id: olive, fat: olive-oil, mass: {oz: 20}}
    - {id: lard, fat: lard, mass: {g: 300}}
  alkali:
    naoh: {purity_pct: 99}
    given: {naoh: {g: 140}}
  water: {measure: {water_per_alkali_ratio: 2}}
  doses:
    - {id: salt, additive: table-salt, of_fats_pct: 2, parameters: {grain_mm: 0.5, iodine: 1}}
  process: {room_c: 18}
balances:
  - {step: {g: 0.5}}
`), want, nil); err != nil {
		t.Fatal(err)
	}
	if !proto.Equal(got, want) {
		t.Errorf("got  %v\nwant %v", got, want)
	}
	for path, at := range map[string]string{
		"recipe.fats[0].fat":                  "shop/base.yaml:5:24",
		"recipe.fats[0].mass.oz":              "shop/variant.yaml:8:32",
		"recipe.fats[1].fat":                  "shop/variant.yaml:9:25",
		"recipe.alkali.naoh.purity_pct":       "shop/base.yaml:9:24",
		"recipe.doses[0].parameters.iodine":   "shop/base.yaml:12:92",
		"recipe.doses[0].parameters.grain_mm": "shop/variant.yaml:13:43",
	} {
		if got := places.Of(path); got != at {
			t.Errorf("%s stands at %s, want %s", path, got, at)
		}
	}
}

func TestBadVariants(t *testing.T) {
	const head = "recipe_format: 1\nvariant_of: base.yaml\n"
	files := map[string]string{
		"base.yaml":    base,
		"second.yaml":  "recipe_format: 1\nvariant_of: base.yaml\nchanges: {recipe: {name: x}}\n",
		"broken.yaml":  "recipe_format: 1\nrecipe: {name: x, fats: [{id: a, mass: 400}]}\n",
		"old.yaml":     "recipe: {name: x}\n",
		"nothing.yaml": "",
	}
	for name, x := range map[string]struct{ text, want string }{
		"no changes":            {head, "shop/variant.yaml:2:1: variant_of: a variant without changes"},
		"something beside":      {head + "changes: {recipe: {name: x}}\nbalances: []\n", "shop/variant.yaml:4:1: balances: this key stands beside variant_of"},
		"changes of nothing":    {"recipe_format: 1\nchanges: {recipe: {name: x}}\n", "shop/variant.yaml:2:1: changes: changes of what?"},
		"changes are a list":    {head + "changes: [1]\n", "shop/variant.yaml:3:10: changes: a list where a map belongs"},
		"base is not there":     {"recipe_format: 1\nvariant_of: none.yaml\nchanges: {recipe: {name: x}}\n", `shop/variant.yaml:2:13: variant_of: the base "none.yaml" cannot be read`},
		"base is elsewhere":     {"recipe_format: 1\nvariant_of: ../base.yaml\nchanges: {recipe: {name: x}}\n", `shop/variant.yaml:2:13: variant_of: "../base.yaml" is no file beside this one`},
		"base is a list":        {"recipe_format: 1\nvariant_of: [base.yaml]\nchanges: {recipe: {name: x}}\n", "shop/variant.yaml:2:13: variant_of: a list is no file beside this one"},
		"base is a variant":     {"recipe_format: 1\nvariant_of: second.yaml\nchanges: {recipe: {name: x}}\n", `shop/variant.yaml:2:13: variant_of: the base "second.yaml" is itself a variant`},
		"base is broken":        {"recipe_format: 1\nvariant_of: broken.yaml\nchanges: {recipe: {name: x}}\n", `shop/broken.yaml:2:40: recipe.fats[0].mass: "400" has no unit`},
		"base without a format": {"recipe_format: 1\nvariant_of: old.yaml\nchanges: {recipe: {name: x}}\n", "shop/old.yaml:1:1: the key recipe_format is missing"},
		"base is empty":         {"recipe_format: 1\nvariant_of: nothing.yaml\nchanges: {recipe: {name: x}}\n", "shop/nothing.yaml: the file is empty"},
		"removes what is not":   {head + "changes: {recipe: {fats: [{id: lard, remove: true}]}}\n", "shop/variant.yaml:3:46: recipe.fats[0].remove: this takes out nothing of the base"},
		"removes and changes":   {head + "changes: {recipe: {fats: [{id: olive, fat: lard, remove: true}]}}\n", "recipe.fats[0].remove: this takes out nothing of the base"},
		"unknown key":           {head + "changes: {recipe: {nam: x}}\n", `shop/variant.yaml:3:20: recipe.nam: no key named "nam" here`},
		"a comma":               {head + "changes: {recipe: {alkali: {superfat_pct: '5'}}}\n", `shop/variant.yaml:3:43: recipe.alkali.superfat_pct: "5" is text because of its quotes`},
		"twice":                 {head + "changes: {recipe: {name: x, name: y}}\n", "shop/variant.yaml:3:29: recipe.name: this key stands twice"},
		"an anchor":             {head + "changes: {recipe: &a {name: x}}\n", "shop/variant.yaml:3:19: recipe: an anchor (&a)"},
		"two ways in one":       {head + "changes: {recipe: {alkali: {superfat_pct: 5, given: {naoh: {g: 1}}}}}\n", "exclude each other"},
	} {
		t.Run(name, func(t *testing.T) {
			_, _, err := readVariant(x.text, files)
			var bad *Problems
			if !errors.As(err, &bad) {
				t.Fatalf("no problems, but %v", err)
			}
			if !strings.Contains(bad.What(0), x.want) || bad.List[0].Next == "" {
				t.Errorf("got %s; %s\nwant %s", bad.What(0), bad.List[0].Next, x.want)
			}
		})
	}
	if _, err := Read("x", []byte(head+"changes: {recipe: {name: x}}\n"), &lixiviumv1.FormulateRequest{}, nil); err == nil || !strings.Contains(err.Error(), "cannot be read here") {
		t.Errorf("got %v", err)
	}
}

// TestKeysLeftUnread: a key of another request, named without a text, is passed
// over and told.
func TestKeysLeftUnread(t *testing.T) {
	places, err := Read("x", []byte(base+"fit: {batter: {g: 1200}}\n"), &lixiviumv1.FormulateRequest{}, map[string]string{"fit": ""})
	if err != nil || !places.Has("fit") || places.Has("actual") {
		t.Errorf("%v", err)
	}
}
