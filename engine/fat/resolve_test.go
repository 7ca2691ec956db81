package fat

import (
	"errors"
	"slices"
	"strings"
	"testing"
)

func ids(fats []*Fat) []string {
	var out []string
	for _, f := range fats {
		out = append(out, f.ID)
	}
	return out
}

func TestResolve(t *testing.T) {
	for name, want := range map[string]string{
		"olive-oil": "olive-oil", "Olive Oil": "olive-oil", "OLIVE_OIL": "olive-oil", " olive  oil ": "olive-oil", "palm kernel oil": "palm-kernel-oil",
		"PKO": "palm-kernel-oil", "ghee": "milk-fat", "Chicken fat": "poultry-fat", "linseed oil": "flaxseed-oil", "low-erucic rapeseed oil": "canola-oil",
		"rapeseed-oil": "rapeseed-oil", "Rapeseed-Oil": "rapeseed-oil", "sunflower-oil": "sunflower-oil", "stearic-acid": "stearic-acid",
		"High oleic sunflower": "sunflower-oil-high-oleic", "grease": "grease", "shortening": "shortening", "Cupuaçu butter": "cupuacu-butter",
		"karité": "shea-butter", "Rapeseed oil, high erucic": "rapeseed-oil", "coconut oil": "coconut-oil", "MCT oil": "fractionated-coconut-oil",
		"lard": "lard", "shea": "shea-butter", "used oil": "used-cooking-oil", "stearic_acid_95": "stearic-acid-95",
	} {
		f, err := Resolve(name)
		if err != nil || f.ID != want {
			t.Errorf("Resolve(%q) = %v, %v, want %s", name, f, err, want)
		}
	}
	for _, f := range All() {
		for _, own := range []string{f.ID, f.Name, strings.ToUpper(f.ID)} {
			if got, err := Resolve(own); err != nil || got != f {
				t.Errorf("Resolve(%q) = %v, %v, want %s", own, got, err, f.ID)
			}
		}
	}
}

func TestEveryListedNameAnswers(t *testing.T) {
	ambiguous := 0
	for _, e := range data.entries {
		if e.why == "" {
			if f, err := Resolve(e.name); err != nil || f != e.fats[0] {
				t.Errorf("Resolve(%q) = %v, %v", e.name, f, err)
			}
			continue
		}
		ambiguous++
		f, err := Resolve(e.name)
		var amb *AmbiguousError
		if f != nil || !errors.As(err, &amb) || len(amb.Candidates) == 0 || amb.Why == "" || amb.Name != e.name {
			t.Errorf("Resolve(%q) = %v, %v", e.name, f, err)
			continue
		}
		for _, c := range amb.Candidates {
			if !strings.Contains(err.Error(), c.ID) {
				t.Errorf("%q: message does not name %s: %s", e.name, c.ID, err)
			}
		}
	}
	if ambiguous < 50 {
		t.Errorf("%d ambiguous names", ambiguous)
	}
}

func TestAmbiguous(t *testing.T) {
	for name, want := range map[string][]string{
		"palm":                 {"palm-oil", "palm-kernel-oil", "palm-olein", "palm-stearin"},
		"palm kernel":          {"palm-kernel-oil", "palm-kernel-olein", "palm-kernel-stearin"},
		"rapeseed":             {"canola-oil", "rapeseed-oil"},
		"Rapeseed Oil":         {"canola-oil", "rapeseed-oil"},
		"rapeseed_oil":         {"canola-oil", "rapeseed-oil"},
		"coconut, liquid":      {"fractionated-coconut-oil", "coconut-oil"},
		"liquid coconut":       {"fractionated-coconut-oil", "coconut-oil"},
		"stearin":              {"palm-stearin", "palm-kernel-stearin", "stearic-acid"},
		"stearic":              {"stearic-acid", "stearic-acid-95"},
		"butter":               {"milk-fat", "cocoa-butter", "shea-butter"},
		"sunflower":            {"sunflower-oil", "sunflower-oil-high-oleic", "sunflower-oil-mid-oleic"},
		"Sunflower oil":        {"sunflower-oil", "sunflower-oil-high-oleic", "sunflower-oil-mid-oleic"},
		"safflower":            {"safflower-oil", "safflower-oil-high-oleic"},
		"vegetable shortening": {"shortening", "hydrogenated-vegetable-fat"},
		"vegetable oil":        {"soybean-oil", "canola-oil"},
		"olive":                {"olive-oil", "olive-pomace-oil"},
		"almond":               {"sweet-almond-oil"},
		"castor":               {"castor-oil", "hydrogenated-castor-oil"},
		"suet":                 {"premier-jus", "tallow"},
		"sea buckthorn oil":    {"sea-buckthorn-seed-oil", "sea-buckthorn-fruit-oil"},
	} {
		_, err := Resolve(name)
		var amb *AmbiguousError
		if !errors.As(err, &amb) {
			t.Errorf("Resolve(%q): %v", name, err)
			continue
		}
		got := ids(amb.Candidates)
		for _, id := range want {
			if !slices.Contains(got, id) {
				t.Errorf("%q: %s missing in %v", name, id, got)
			}
		}
	}
}

func TestUnknownNames(t *testing.T) {
	for name, want := range map[string]string{
		"olvie oil": "olive-oil", "coconut-oli": "coconut-oil", "soyben oil": "soybean-oil", "shea buter": "shea-butter", "plam": "palm",
		"castorr oil": "castor-oil", "hazlenut oil": "hazelnut-oil", "sunflwoer oil": "sunflower oil", "cocoa mass": "cocoa-butter", "lrad": "lard",
	} {
		f, err := Resolve(name)
		var unknown *UnknownError
		if f != nil || !errors.As(err, &unknown) {
			t.Errorf("Resolve(%q) = %v, %v", name, f, err)
			continue
		}
		if !slices.Contains(unknown.Suggestions, want) || len(unknown.Suggestions) > 3 {
			t.Errorf("%q: suggestions %v, want %s among them", name, unknown.Suggestions, want)
		}
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %s", name, err)
		}
	}
	for _, name := range []string{"", "honey", "oil", "fat", "palm & olein", "xyzzy", strings.Repeat("olive", 1000), "\xff\xfe"} {
		f, err := Resolve(name)
		var unknown *UnknownError
		if f != nil || !errors.As(err, &unknown) || unknown.Name != name {
			t.Errorf("Resolve(%.20q) = %v, %v", name, f, err)
		}
	}
	if _, err := Resolve("xyzzy"); !strings.Contains(err.Error(), "declare it") {
		t.Errorf("no way out: %v", err)
	}
}

// A slip of the pen must never turn one fat into another: an id with two
// neighboring letters swapped is unknown, and the id meant is suggested.
func TestTyposNeverResolve(t *testing.T) {
	tried := 0
	for _, f := range All() {
		r := []rune(f.ID)
		for i := 1; i < len(r); i++ {
			typo := string(r[:i-1]) + string([]rune{r[i], r[i-1]}) + string(r[i+1:])
			if normalize(typo) == normalize(f.ID) || r[i] == '-' || r[i-1] == '-' {
				continue // hyphens do not tell names apart
			}
			tried++
			got, err := Resolve(typo)
			var unknown *UnknownError
			if got != nil || !errors.As(err, &unknown) {
				t.Errorf("Resolve(%q) = %v, %v", typo, got, err)
				continue
			}
			meant := func(s string) bool { return normalize(s) == normalize(f.ID) }
			if len(unknown.Suggestions) > 3 || (len(r) > 3 && !slices.ContainsFunc(unknown.Suggestions, meant)) {
				t.Errorf("%q: suggestions %v, want %s among them", typo, unknown.Suggestions, f.ID)
			}
		}
	}
	if tried < 500 {
		t.Errorf("only %d typos tried", tried)
	}
}

func BenchmarkResolveSynonym(b *testing.B) {
	for b.Loop() {
		Resolve("Extra virgin olive oil")
	}
}

func BenchmarkSuggest(b *testing.B) {
	for b.Loop() {
		Resolve("sunflwoer oil")
	}
}
