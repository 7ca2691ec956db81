package recipefile

import (
	"strings"
	"testing"

	"google.golang.org/protobuf/proto"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

const ordinary = `# a comment
recipe_format: 1
recipe:
  name: 2024 bar            # text may look like a number
  fats:
    - id: olive-oil
      fat: olive oil
      mass: {g: 400}
    - id: own
      custom:
        name: "House: fat"
        sv_mg_koh_per_g: {value: 192, half_width: 4}
        fatty_acid_pct:
          C18:1: 60.5
      mass: {oz: -0}
  alkali:
    superfat_pct: 5
  process: {gel: avoid, fats_c: -1.5e1, hand_stirred: true}
  doses:
    - id: d
      stage: water_before_lye
balances:
  - step: {g: 0.1}
include_worksheet: false
`

func want() *lixiviumv1.FormulateRequest {
	grams := func(v float64) *lixiviumv1.Quantity {
		return &lixiviumv1.Quantity{Amount: &lixiviumv1.Quantity_G{G: v}}
	}
	return &lixiviumv1.FormulateRequest{
		Recipe: &lixiviumv1.Recipe{
			Name: "2024 bar",
			Fats: []*lixiviumv1.FatLine{
				{Id: "olive-oil", Kind: &lixiviumv1.FatLine_Fat{Fat: "olive oil"}, Amount: &lixiviumv1.FatLine_Mass{Mass: grams(400)}},
				{Id: "own", Kind: &lixiviumv1.FatLine_Custom{Custom: &lixiviumv1.CustomFat{
					Name: "House: fat", SvMgKohPerG: &lixiviumv1.Measured{Value: 192, HalfWidth: proto.Float64(4)},
					FattyAcidPct: map[string]float64{"C18:1": 60.5},
				}}, Amount: &lixiviumv1.FatLine_Mass{Mass: &lixiviumv1.Quantity{Amount: &lixiviumv1.Quantity_Oz{Oz: 0}}}},
			},
			Alkali: &lixiviumv1.Alkali{Amount: &lixiviumv1.Alkali_SuperfatPct{SuperfatPct: 5}},
			Process: &lixiviumv1.Process{
				Gel: lixiviumv1.GelIntent_GEL_INTENT_AVOID, FatsC: proto.Float64(-15), HandStirred: true,
			},
			Doses: []*lixiviumv1.Dose{{Id: "d", Stage: lixiviumv1.Stage_STAGE_WATER_BEFORE_LYE}},
		},
		Balances: []*lixiviumv1.Balance{{Step: grams(0.1)}},
	}
}

func TestReadGivesTheRequest(t *testing.T) {
	for name, text := range map[string]string{
		"plain":           ordinary,
		"byte order mark": "\ufeff" + ordinary,
		"CRLF":            strings.ReplaceAll(ordinary, "\n", "\r\n"),
		"CR":              strings.ReplaceAll(ordinary, "\n", "\r"),
	} {
		t.Run(name, func(t *testing.T) {
			got := &lixiviumv1.FormulateRequest{}
			places, err := Read("bar.yaml", []byte(text), got, nil)
			if err != nil {
				t.Fatal(err)
			}
			if !proto.Equal(got, want()) {
				t.Errorf("got %v", got)
			}
			for path, place := range map[string]string{
				"recipe.fats[0].mass.g":                      "bar.yaml:8:17",
				"recipe.fats[0].mass":                        "bar.yaml:8:7",
				"recipe.fats[1]":                             "bar.yaml:9:7",
				"recipe.fats[1].custom.fatty_acid_pct.C18:1": "bar.yaml:14:18",
				"recipe.fats[1].custom.density_g_per_ml":     "bar.yaml:10:7",
				"recipe.fats[7].mass.g":                      "bar.yaml:5:3",
				"recipe.water":                               "bar.yaml:3:1",
				"balances[0].step.g":                         "bar.yaml:23:15",
				"actual":                                     "bar.yaml",
				"":                                           "bar.yaml",
			} {
				if got := places.Of(path); got != place {
					t.Errorf("%q stands at %s, want %s", path, got, place)
				}
			}
		})
	}
}

func TestNotedPlacesComeFirst(t *testing.T) {
	places, err := Read("bar.yaml", []byte(ordinary), &lixiviumv1.FormulateRequest{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	places.Note("actual[0]", "--actual naoh=1g")
	if got := places.Of("actual[0].mass.g"); got != "--actual naoh=1g" {
		t.Errorf("got %s", got)
	}
	if line, ok := places.Line("recipe.alkali.superfat_pct"); line != 17 || !ok {
		t.Errorf("line %d, %v", line, ok)
	}
	if _, ok := places.Line("recipe.water"); ok {
		t.Error("a field that is not in the file has a line")
	}
}

// TestWholeNumbers uses an answer's message: no request holds such a field yet.
func TestWholeNumbers(t *testing.T) {
	line := &lixiviumv1.WeighLine{}
	if _, err := Read("x", []byte("recipe_format: 1\nparts: 12\n"), line, nil); err != nil || line.Parts != 12 {
		t.Errorf("%v, %v", line, err)
	}
	for text, want := range map[string]string{
		"1.5":         `x:2:8: parts: "1.5" is no whole number; write a whole number, such as 2`,
		"-1":          `x:2:8: parts: "-1" is no whole number; write a whole number, such as 2`,
		"99999999999": `x:2:8: parts: "99999999999" is too large; write a smaller whole number`,
	} {
		_, err := Read("x", []byte("recipe_format: 1\nparts: "+text+"\n"), line, nil)
		if err == nil || err.Error() != want {
			t.Errorf("%s: %v", text, err)
		}
	}
}

func TestParseQuantity(t *testing.T) {
	for text, want := range map[string]*lixiviumv1.Quantity{
		"139.5g":    {Amount: &lixiviumv1.Quantity_G{G: 139.5}},
		"4.9 oz":    {Amount: &lixiviumv1.Quantity_Oz{Oz: 4.9}},
		"1 Pound":   {Amount: &lixiviumv1.Quantity_Lb{Lb: 1}},
		"0 grams":   {Amount: &lixiviumv1.Quantity_G{G: 0}},
		"2 fl oz":   {Amount: &lixiviumv1.Quantity_FlOzUs{FlOzUs: 2}},
		"0.25 kg":   {Amount: &lixiviumv1.Quantity_Kg{Kg: 0.25}},
		"3 tsp.":    {Amount: &lixiviumv1.Quantity_TspUs{TspUs: 3}},
		"12 tsp_us": {Amount: &lixiviumv1.Quantity_TspUs{TspUs: 12}},
	} {
		got, bad, _ := ParseQuantity(text)
		if bad != "" || !proto.Equal(got, want) {
			t.Errorf("%s: %v, %s", text, got, bad)
		}
	}
	for text, want := range map[string]string{
		"":        `"" is no amount`,
		"139":     `"139" is no amount`,
		"139,5g":  `"139,5g" has a decimal comma`,
		"-3g":     `"-3g" is no amount`,
		"3 stone": `"3 stone" is no amount`,
		"010g":    `"010g" is an unusual way to write a number`,
		"g":       `"g" is no amount`,
	} {
		got, bad, next := ParseQuantity(text)
		if got != nil || bad != want || next == "" {
			t.Errorf("%s: %v, %q, %q", text, got, bad, next)
		}
	}
}

func TestNearest(t *testing.T) {
	names := []string{"mass", "share_of_fats_pct", "fat", "custom"}
	for word, want := range map[string]string{
		"mas": "mass", "Mass": "mass", "share": "share_of_fats_pct", "fats": "fat share_of_fats_pct", "zzz": "", "": "",
		strings.Repeat("mass", 100): "",
	} {
		if got := strings.Join(Nearest(word, names), " "); got != want {
			t.Errorf("%s: %q, want %q", word, got, want)
		}
	}
}
