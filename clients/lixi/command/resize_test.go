package command

import (
	"context"
	"strings"
	"testing"

	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

func (f *fake) Scale(_ context.Context, q *lixiviumv1.ScaleRequest) (*lixiviumv1.ScaleResponse, error) {
	f.sized = q
	return f.scaled, f.err
}

func (f *fake) SwapFat(_ context.Context, q *lixiviumv1.SwapFatRequest) (*lixiviumv1.SwapFatResponse, error) {
	f.swap = q
	return f.swapped, f.err
}

// TestSizesBehindFlags: what a flag asks for, in the words of the contract.
func TestSizesBehindFlags(t *testing.T) {
	for args, want := range map[string]string{
		"--batter 1.2kg --pot-loss 15g":       `{"potLoss":{"g":15},"batter":{"kg":1.2}}`,
		"--fats 500g":                         `{"fats":{"g":500}}`,
		"--bars 10x110g":                      `{"bars":{"count":10,"mass":{"g":110}}}`,
		"--bars 12x4oz --cured":               `{"bars":{"count":12,"mass":{"oz":4},"cured":true}}`,
		"--stock olive=900g --stock naoh=1lb": `{"stock":{"onHand":[{"lineId":"olive","mass":{"g":900}},{"lineId":"naoh","mass":{"lb":1}}]}}`,
		"--mold box:240x85.5x70":              `{"molds":{"molds":[{"name":"box:240x85.5x70","count":1,"box":{"lengthMm":240,"widthMm":85.5,"heightMm":70}}]}}`,
		"--mold cylinder:75x200 --mold cavities:6x110ml --mold water:1.2l --transfer-loss 3g": `{"transferLoss":{"g":3},"molds":{"molds":[
			{"name":"cylinder:75x200","count":1,"cylinder":{"diameterMm":75,"heightMm":200}},
			{"name":"cavities:6x110ml","count":1,"cavities":{"count":6,"mlEach":110}},
			{"name":"water:1.2l","count":1,"water":{"l":1.2}}]}}`,
	} {
		s := &fake{scaled: &lixiviumv1.ScaleResponse{}}
		if code, _, err := run(t, s, bar, append([]string{"scale", "-"}, strings.Fields(args)...)...); code != ExitFine {
			t.Errorf("%s: code %d, %s", args, code, err)
			continue
		}
		fit := &lixiviumv1.Fit{}
		if err := protojson.Unmarshal([]byte(want), fit); err != nil {
			t.Fatal(err)
		}
		if !proto.Equal(s.sized.GetFit(), fit) {
			t.Errorf("%s: asked for %v, want %v", args, s.sized.GetFit(), fit)
		}
	}
}

// TestFlagsOverTheFile: a size takes the place of the file's, its losses stay.
func TestFlagsOverTheFile(t *testing.T) {
	s := &fake{scaled: &lixiviumv1.ScaleResponse{}}
	file := bar + "fit: {pot_loss: {g: 20}, bars: {count: 3, mass: {g: 90}}}\n"
	run(t, s, file, "scale", "-", "--fats", "300g")
	if f := s.sized.GetFit(); f.GetPotLoss().GetG() != 20 || f.GetFats().GetG() != 300 {
		t.Errorf("asked for %v", f)
	}
	run(t, s, file, "scale", "-", "--pot-loss", "5g")
	if f := s.sized.GetFit(); f.GetPotLoss().GetG() != 5 || f.GetBars().GetCount() != 3 {
		t.Errorf("asked for %v", f)
	}
}

func TestWrongSizes(t *testing.T) {
	for args, want := range map[string]string{
		"scale -":                            "lixi: no size: neither `fit` in the file nor a flag\n  next: add --mold, --batter, --fats, --bars or --stock; lixi scale --help shows them\n",
		"scale - --fats 5g --bars 3x5g":      "lixi: --fats and --bars exclude each other\n  next: keep one size\n",
		"scale - --batter 5":                 "lixi: --batter \"5\": \"5\" is no amount\n  next: write a number and its unit, such as 139.5g; units: g, kg, oz, lb, ml, l, fl_oz_us, cup_us, tsp_us\n",
		"scale - --batter 1,5kg":             "lixi: --batter \"1,5kg\": \"1,5kg\" has a decimal comma\n  next: write 1.5kg\n",
		"scale - --bars ten":                 "lixi: --bars \"ten\" names no count and mass\n  next: write the count, x, and the mass of one, such as --bars 10x110g\n",
		"scale - --bars 10x":                 "lixi: --bars \"10x\" names no count and mass\n  next: write the count, x, and the mass of one, such as --bars 10x110g\n",
		"scale - --cured --fats 5g":          "lixi: --cured belongs to --bars\n  next: write --bars 10x110g --cured, or cured: true in the file\n",
		"scale - --stock olive":              "lixi: --stock \"olive\" names no line and mass\n  next: write the id of a line and what is on hand, such as --stock olive-oil=900g\n",
		"scale - --mold 240x85":              "lixi: --mold \"240x85\" is no mold\n  next: " + moldAdvice + "\n",
		"scale - --mold box:240x85":          "lixi: --mold \"box:240x85\" is no mold\n  next: " + moldAdvice + "\n",
		"scale - --mold box:24,0x85x70":      "lixi: --mold \"box:24,0x85x70\" is no mold\n  next: " + moldAdvice + "\n",
		"scale - --mold cavities:110ml":      "lixi: --mold \"cavities:110ml\" is no mold\n  next: " + moldAdvice + "\n",
		"scale - --mold cavities:6x110":      "lixi: --mold \"cavities:6x110\" is no mold\n  next: " + moldAdvice + "\n",
		"scale - --unit lb --fats 5g":        "lixi: --unit \"lb\" is no unit of a sheet\n  next: write --unit g or --unit oz\n",
		"swap - olive=lard --unit lb":        "lixi: --unit \"lb\" is no unit of a sheet\n  next: write --unit g or --unit oz\n",
		"swap -":                             "lixi: an argument is missing\n  next: usage: lixi swap FILE|- LINE=FAT[,FAT:SHARE...] [flags]\n",
		"swap - olive":                       "lixi: \"olive\" names no line and fat\n  next: " + swapAdvice + "\n",
		"swap - olive=lard,":                 "lixi: \"olive=lard,\" names no fat between its commas\n  next: " + swapAdvice + "\n",
		"swap - olive=lard:half,tallow:half": "lixi: \"olive=lard:half,tallow:half\": \"half\" is no share in percent\n  next: " + swapAdvice + "\n",
	} {
		t.Run(args, func(t *testing.T) {
			code, out, err := run(t, &fake{}, bar, strings.Fields(args)...)
			if code != ExitRefused || out != "" || err != want {
				t.Errorf("code %d, output %q, error\n%s\nwant\n%s", code, out, err, want)
			}
		})
	}
}

// TestSwapAsks: fats by name become lines with ids of their own.
func TestSwapAsks(t *testing.T) {
	s := &fake{swapped: &lixiviumv1.SwapFatResponse{}}
	file := strings.Replace(bar, "  fats:\n", "  fats:\n    - {id: shea-butter, fat: shea-butter, mass: {g: 50}}\n", 1)
	if code, _, err := run(t, s, file, "swap", "-", "olive=Shea Butter:60,C18 fat:40%"); code != ExitFine {
		t.Fatalf("code %d, %s", code, err)
	}
	want := &lixiviumv1.SwapFatRequest{}
	if err := protojson.Unmarshal([]byte(`{"lineId":"olive","replacements":[
		{"id":"shea-butter-2","fat":"Shea Butter","shareOfFatsPct":60},{"id":"c18-fat","fat":"C18 fat","shareOfFatsPct":40}]}`), want); err != nil {
		t.Fatal(err)
	}
	want.Recipe = s.swap.GetRecipe()
	if !proto.Equal(s.swap, want) {
		t.Errorf("asked %v\nwant  %v", s.swap, want)
	}
}

// TestDangerOfASize: a mold that lye attacks is a danger though the recipe is
// none.
func TestDangerOfASize(t *testing.T) {
	danger := []*lixiviumv1.Finding{{Code: "engine/mold-attacked", Severity: lixiviumv1.Severity_SEVERITY_DANGER, Text: "Look."}}
	s := &fake{
		scaled:  &lixiviumv1.ScaleResponse{Recipe: &lixiviumv1.Recipe{Name: "Bar"}, Findings: danger},
		swapped: &lixiviumv1.SwapFatResponse{Recipe: &lixiviumv1.Recipe{Name: "Bar"}, After: &lixiviumv1.Formulation{Findings: danger}},
	}
	for _, args := range [][]string{
		{"scale", "-", "--fats", "5g"}, {"scale", "-", "--fats", "5g", "--json"}, {"scale", "-", "--fats", "5g", "--recipe"},
		{"swap", "-", "olive=lard"}, {"swap", "-", "olive=lard", "--json"}, {"swap", "-", "olive=lard", "--recipe"},
	} {
		if code, out, err := run(t, s, bar, args...); code != ExitDanger || err != "" || !strings.Contains(out, "Bar") {
			t.Errorf("%v: code %d, %s%s", args, code, out, err)
		}
	}
}

// TestWeighedAgainstTheRecipe: a file with a fit is not weighed against.
func TestWeighedAgainstTheRecipe(t *testing.T) {
	code, _, err := run(t, &fake{}, bar+"fit: {fats: {g: 5}}\n", "weigh", "-", "--actual", "olive=3g")
	if want := "lixi: (standard input):8:1: fit: masses are weighed"; code != ExitRefused || !strings.HasPrefix(err, want) || !strings.Contains(err, "lixi scale --recipe") {
		t.Errorf("code %d, %s", code, err)
	}
}
