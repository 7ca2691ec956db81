package fat

import (
	"math"
	"testing"
)

func shareOf(t *testing.T, id string) []Share {
	t.Helper()
	i, ok := AcidIndex(id)
	if !ok {
		t.Fatalf("no acid %s", id)
	}
	return []Share{{i, 100}}
}

// Stoichiometry: 3 x 56 105.6 / molar mass of the triacylglycerol (885.45 and
// 639.01 g/mol), and 56 105.6 / molar mass of the acid.
func TestPureSubstances(t *testing.T) {
	for _, c := range []struct {
		acid   string
		free   bool
		sv, iv float64
	}{
		{"C18:1", false, 190.1, 86.0},
		{"C12:0", false, 263.4, 0},
		{"C18:1", true, 198.6, 89.9},
		{"C12:0", true, 280.1, 0},
		{"C18:2", true, 200.1, 181.0},
	} {
		s := shareOf(t, c.acid)
		if got := CalculatedSV(s, c.free); math.Abs(float64(got)-c.sv) > 0.05 {
			t.Errorf("%s free=%v: SV %.3f, want %.1f", c.acid, c.free, got, c.sv)
		}
		if got := CalculatedIV(s, c.free); math.Abs(got-c.iv) > 0.05 {
			t.Errorf("%s free=%v: IV %.3f, want %.1f", c.acid, c.free, got, c.iv)
		}
	}
	if CalculatedSV(nil, false) != 0 || CalculatedIV(nil, true) != 0 {
		t.Error("no shares, yet a figure")
	}
}

// Molar masses and iodine factors follow from the formula CnH(2n-2d)O2, one
// oxygen more for a hydroxy acid. AOCS Cd 1c-85 rounds its own factors.
func TestAcidConstants(t *testing.T) {
	for _, a := range Acids() {
		oxygens := 2.0
		if a.Hydroxy {
			oxygens = 3
		}
		m := 12.011*float64(a.Carbons) + 1.008*float64(2*a.Carbons-2*a.DoubleBonds) + 15.999*oxygens
		if math.Abs(m-a.MolarMass) > 0.002 {
			t.Errorf("%s: molar mass %.3f, formula %.3f", a.ID, a.MolarMass, m)
		}
		iodine := 2 * 126.904 * float64(a.DoubleBonds)
		if want := iodine / (m + 12.68); math.Abs(a.IVTriglyceride-want) > 0.003 {
			t.Errorf("%s: IV factor %.4f, formula %.4f", a.ID, a.IVTriglyceride, want)
		}
		if want := iodine / m; math.Abs(a.IVFreeAcid-want) > 0.003 {
			t.Errorf("%s: free acid IV factor %.4f, formula %.4f", a.ID, a.IVFreeAcid, want)
		}
	}
}

func TestGroups(t *testing.T) {
	for id, want := range map[string]string{
		"C4:0": "C6-C10", "C10:0": "C6-C10", "C12:0": "C12-C14", "C14:0": "C12-C14", "C15:0": "C16-C18 saturated", "C18:0": "C16-C18 saturated",
		"C14:1": "C18:1", "C16:1": "C18:1", "C18:1": "C18:1", "C18:1-OH": "hydroxy", "C18:0-OH": "hydroxy", "C18:2": "C18:2", "C18:3": "C18:3",
		"C20:0": "C20 and longer", "C22:1": "C20 and longer", "C20:4": "C20 and longer",
	} {
		i, ok := AcidIndex(id)
		if !ok || Acids()[i].Group.String() != want {
			t.Errorf("%s: group %v, want %s", id, Acids()[i].Group, want)
		}
	}
	if len(Groups()) != 8 || Group(8).String() != "Group(8)" {
		t.Error("groups are not the eight of the field")
	}
}

func TestCompositions(t *testing.T) {
	with := 0
	for _, f := range All() {
		if f.Composition == nil {
			if f.CompositionStatus != "" {
				t.Errorf("%s: status %s of no composition", f.ID, f.CompositionStatus)
			}
			continue
		}
		with++
		sum, last := 0.0, -1
		for _, s := range f.Composition {
			if s.Acid <= last || s.Pct <= 0 {
				t.Errorf("%s: share %v out of order or empty", f.ID, s)
			}
			last = s.Acid
			sum += float64(s.Pct)
		}
		if math.Abs(sum-100) > 1e-9 {
			t.Errorf("%s: composition sums to %.12f", f.ID, sum)
		}
	}
	if with < 80 {
		t.Errorf("%d fats with a composition", with)
	}
	for _, id := range []string{"shortening", "used-cooking-oil", "grease", "soy-wax", "beeswax", "rosin", "pine-tar"} {
		if f, _ := ByID(id); f.Composition != nil {
			t.Errorf("%s: nobody knows its acids", id)
		}
	}
}

// exceptions are the rows whose composition and range disagree, with how far
// outside (percent of the nearer limit) and why. The test fails when one is no
// longer needed.
var exceptions = map[string]struct {
	outPct float64
	why    string
}{
	"babassu-oil SV":        {0.3, "midpoints of wide acid limits; a measured composition gives 250.6"},
	"babassu-oil IV":        {0.8, "same; measured 13.7"},
	"rapeseed-oil SV":       {0.3, "acids and SV come from different sources; about 1 % unsaponifiable"},
	"kokum-butter IV":       {0.5, "acids are one analysis of three figures"},
	"apricot-kernel-oil SV": {0.4, "the range is two site means, no stearic acid given"},
	"apricot-kernel-oil IV": {3.2, "the range is two site means, no stearic acid given"},
	"neem-oil IV":           {14.5, "acid ranges add up to 91.5 %, scaling inflates the saturated ones; two samples"},
	"marula-oil IV":         {7.8, "acids and IV come from different places"},
	"poultry-fat IV":        {3, "the analysis adds up to 93.3 %"},
}

// Every row with acids against its own range: SV in the mole form, IV by AOCS
// Cd 1c-85. Limits are printed to one decimal, so 0.05 is rounding.
func TestCompositionAgreesWithRange(t *testing.T) {
	const rounding = 0.05
	needed := map[string]bool{}
	check := func(name string, got, lo, hi float64) {
		out := 0.0
		if got < lo-rounding {
			out = 100 * (lo - got) / lo
		} else if got > hi+rounding {
			out = 100 * (got - hi) / hi
		}
		if out == 0 {
			return
		}
		needed[name] = true
		if e, ok := exceptions[name]; !ok || out > e.outPct {
			t.Errorf("%s: calculated %.1f outside %g-%g by %.1f %%", name, got, lo, hi, out)
		}
	}
	for _, f := range All() {
		if f.Composition == nil {
			continue
		}
		if f.SVRangeKnown {
			check(f.ID+" SV", float64(CalculatedSV(f.Composition, f.FreeAcid)), float64(f.SV.Min), float64(f.SV.Max))
		}
		lo, hi := 0.0, math.Inf(1)
		if f.IV.Min != nil {
			lo = *f.IV.Min
		}
		if f.IV.Max != nil {
			hi = *f.IV.Max
		}
		check(f.ID+" IV", CalculatedIV(f.Composition, f.FreeAcid), lo, hi)
	}
	for name, e := range exceptions {
		if !needed[name] {
			t.Errorf("%s: exception no longer needed (%s)", name, e.why)
		}
	}
}

// Figures worked out apart from this code, from the midpoints of the limits in
// the standards named in the table.
func TestCalculatedFigures(t *testing.T) {
	for _, c := range []struct {
		id     string
		sv, iv float64
	}{
		{"coconut-oil", 254.4, 9.5}, {"palm-oil", 198.7, 52.8}, {"olive-oil", 193.0, 83.0}, {"castor-oil", 181.7, 85.1},
		{"shea-butter", 191.2, 56.9}, {"tallow", 198.0, 43.5}, {"milk-fat", 223.0, 30.8}, {"rapeseed-oil", 177.3, 103.1},
		{"stearic-acid", 208.0, 0}, {"oleic-acid", 198.6, 89.9}, {"palm-kernel-oil", 246.3, 17.1},
	} {
		f, _ := ByID(c.id)
		if sv := float64(CalculatedSV(f.Composition, f.FreeAcid)); math.Abs(sv-c.sv) > 0.06 {
			t.Errorf("%s: SV %.2f, want %.1f", c.id, sv, c.sv)
		}
		if iv := CalculatedIV(f.Composition, f.FreeAcid); math.Abs(iv-c.iv) > 0.06 {
			t.Errorf("%s: IV %.2f, want %.1f", c.id, iv, c.iv)
		}
	}
}
