package fat

import (
	"math"
	"slices"
	"testing"
)

func TestTableIsSane(t *testing.T) {
	fats := All()
	if len(fats) < 90 {
		t.Fatalf("%d fats, want at least 90", len(fats))
	}
	for i, f := range fats {
		if i > 0 && fats[i-1].ID >= f.ID {
			t.Errorf("%s stands before %s", fats[i-1].ID, f.ID)
		}
		if got, ok := ByID(f.ID); !ok || got != f {
			t.Errorf("ByID(%q) is another row", f.ID)
		}
		if !(f.SV.Min <= f.SV.Best && f.SV.Best <= f.SV.Max) || (f.SVRangeKnown && f.SV.Min == f.SV.Max) {
			t.Errorf("%s: SV %v", f.ID, f.SV)
		}
		// Between a wax and medium-chain triglycerides; only pine tar reaches 0.
		if f.ID != "pine-tar" && (f.SV.Min < 40 || f.SV.Max > 365) {
			t.Errorf("%s: SV %v is no fat's", f.ID, f.SV)
		}
		if (f.Wax() || f.ID == "pine-tar") != f.CountsAtAcidValue() {
			t.Errorf("%s: acid value %v", f.ID, f.AcidValue)
		}
		if f.CountsAtAcidValue() && f.AcidValue.Max > f.SV.Best {
			t.Errorf("%s: acid value %v above SV %v", f.ID, *f.AcidValue, f.SV)
		}
		if f.FreeAcid != (f.Kind == FattyAcid || f.ID == "rosin") {
			t.Errorf("%s: FreeAcid = %v", f.ID, f.FreeAcid)
		}
		if d := f.Density; d != nil && (d.GramsPerML < 0.84 || d.GramsPerML > 1.1 || d.HalfWidth <= 0 || d.HalfWidth > 0.03 || d.At < 15 || d.At > 60) {
			t.Errorf("%s: density %v", f.ID, *d)
		}
		if f.LiquidAt20C && f.Density == nil {
			t.Errorf("%s pours but has no density", f.ID)
		}
		if f.Status == FromMemory && !slices.ContainsFunc(f.FromMemory, func(s string) bool { return s == "SV" || s == "SV range" }) {
			t.Errorf("%s: SV from memory but not in %v", f.ID, f.FromMemory)
		}
	}
}

// The ids that recipes are written with must not go away.
func TestIDsStay(t *testing.T) {
	for _, id := range []string{
		"apricot-kernel-oil", "argan-oil", "avocado-oil", "babassu-oil", "beeswax", "candelilla-wax", "canola-oil", "carnauba-wax",
		"castor-oil", "cocoa-butter", "coconut-oil", "corn-oil", "cottonseed-oil", "flaxseed-oil", "fractionated-coconut-oil",
		"grapeseed-oil", "grease", "hazelnut-oil", "hemp-seed-oil", "hydrogenated-castor-oil", "hydrogenated-vegetable-fat",
		"illipe-butter", "jojoba-oil", "kokum-butter", "lanolin", "lard", "lauric-acid", "macadamia-oil", "mango-butter", "marula-oil",
		"milk-fat", "mustard-oil", "myristic-acid", "neem-oil", "oleic-acid", "olive-oil", "olive-pomace-oil", "palm-kernel-oil",
		"palm-kernel-olein", "palm-kernel-stearin", "palm-oil", "palm-oil-high-oleic", "palm-olein", "palm-stearin", "palmitic-acid",
		"peanut-oil", "pine-tar", "pistachio-oil", "poultry-fat", "premier-jus", "rapeseed-oil", "rendered-pork-fat", "rice-bran-oil",
		"rosin", "safflower-oil", "safflower-oil-high-oleic", "sal-butter", "sesame-oil", "shea-butter", "shortening", "soy-wax",
		"soybean-oil", "stearic-acid", "stearic-acid-95", "sunflower-oil", "sunflower-oil-high-oleic", "sunflower-oil-mid-oleic",
		"sweet-almond-oil", "tallow", "used-cooking-oil", "walnut-oil",
	} {
		if _, ok := ByID(id); !ok {
			t.Errorf("%s is gone", id)
		}
	}
}

// Values in use that carry most batches, each against its source.
func TestValuesInUse(t *testing.T) {
	for _, c := range []struct {
		id            string
		min, best, mx float64
	}{
		{"olive-oil", 190, 192.5, 195},     // USP/NF
		{"coconut-oil", 248, 256.5, 265},   // CXS 210-1999
		{"palm-oil", 190, 199.5, 209},      // CXS 210-1999
		{"castor-oil", 176, 181.5, 187},    // BP
		{"shea-butter", 160, 182, 195},     // CXS 325R-2017
		{"tallow", 190, 197.1, 202},        // 19 samples of 1908
		{"lard", 192, 195, 203},            // 33 Canadian samples
		{"canola-oil", 182, 187.5, 193},    // CXS 210-1999
		{"rapeseed-oil", 169, 173, 177},    // Agmark
		{"stearic-acid", 194, 208, 212},    // Ph. Eur. 1474
		{"beeswax", 87, 95.5, 104},         // Ph. Eur.
		{"pine-tar", 0, 60, 85},            // common practice
		{"sunflower-oil", 187, 190.5, 194}, // CXS 210-1999, 2022
	} {
		f, _ := ByID(c.id)
		if float64(f.SV.Min) != c.min || float64(f.SV.Best) != c.best || float64(f.SV.Max) != c.mx {
			t.Errorf("%s: SV %v", c.id, f.SV)
		}
	}
	bee, _ := ByID("beeswax")
	if v := *bee.AcidValue; v != (Value{17, 20.5, 24}) || bee.AcidValueStatus != Seen {
		t.Errorf("beeswax acid value %v", v)
	}
	jojoba, _ := ByID("jojoba-oil")
	if v := *jojoba.AcidValue; v != (Value{0, 1, 2}) || jojoba.AcidValueStatus != FromMemory {
		t.Errorf("jojoba acid value %v", v)
	}
	// 0.917-0.925 against water at 20 °C (0.9982 g/mL).
	corn, _ := ByID("corn-oil")
	if d := corn.Density; math.Abs(float64(d.GramsPerML)-0.921*0.9982) > 1e-4 || d.At != 20 || d.HalfWidth != 0.004 {
		t.Errorf("corn oil density %v", *d)
	}
	argan, _ := ByID("argan-oil")
	if d := argan.Density; d.GramsPerML != 0.915 || d.At != 25 || d.Basis != "derived" {
		t.Errorf("argan oil density %v", *d)
	}
	for _, id := range []string{"kokum-butter", "lanolin", "shortening"} {
		if f, _ := ByID(id); f.Density != nil || f.LiquidAt20C {
			t.Errorf("%s: a density out of nowhere", id)
		}
	}
}

func TestSources(t *testing.T) {
	for _, f := range All() {
		for _, k := range f.SourceKeys {
			if s, ok := Source(k); !ok || s.Title == "" || s.HowRead == "" {
				t.Errorf("%s: source %q", f.ID, k)
			}
		}
	}
	if _, ok := Source("no-such-source"); ok {
		t.Error("a source out of nowhere")
	}
}

func TestAnswersAreTheCallersOwn(t *testing.T) {
	All()[0] = nil
	Acids()[0].ID = "x"
	for _, tb := range Tables() {
		tb.Bytes[0] = '!'
	}
	if All()[0] == nil || Acids()[0].ID == "x" || Tables()[0].Bytes[0] == '!' {
		t.Error("a caller can write into the table")
	}
}

func TestTables(t *testing.T) {
	tables := Tables()
	if len(tables) != 5 || tables[0].Name != "fat/sources.tsv" {
		t.Fatalf("%d tables", len(tables))
	}
	for _, tb := range tables {
		b, err := files.ReadFile("data/" + tb.Name[len("fat/"):])
		if err != nil || string(b) != string(tb.Bytes) {
			t.Errorf("%s: %v, %d bytes of %d", tb.Name, err, len(tb.Bytes), len(b))
		}
	}
}

func TestByIDDoesNotAllocate(t *testing.T) {
	if n := testing.AllocsPerRun(100, func() { ByID("sunflower-oil-high-oleic") }); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

func BenchmarkByID(b *testing.B) {
	for b.Loop() {
		ByID("sunflower-oil-high-oleic")
	}
}
