package fat

import (
	"regexp"
	"slices"
	"strings"

	"lixivium.example/engine/unit"
)

// tables is everything read from the data files.
type tables struct {
	raw       map[string][]byte
	sources   map[string]SourceInfo
	acids     []Acid
	acidIndex map[string]int
	fats      []*Fat
	byID      map[string]*Fat
	names     map[string]*nameEntry // by normalized name
	entries   []*nameEntry          // in stable order
}

// data is read once at start: a fault in an embedded table is a fault of the
// build and must stop the program, not one lookup of it.
var data = mustLoad()

func mustLoad() *tables {
	raw := make(map[string][]byte, len(tableNames))
	for _, name := range tableNames {
		b, err := files.ReadFile("data/" + name)
		if err != nil {
			panic(err)
		}
		raw[name] = b
	}
	t, err := load(raw)
	if err != nil {
		panic("fat: " + err.Error())
	}
	return t
}

func load(raw map[string][]byte) (*tables, error) {
	t := &tables{
		raw:       raw,
		sources:   map[string]SourceInfo{},
		acidIndex: map[string]int{},
		byID:      map[string]*Fat{},
		names:     map[string]*nameEntry{},
	}
	for _, step := range []func() error{t.loadSources, t.loadAcids, t.loadFats, t.loadComposition, t.loadNames} {
		if err := step(); err != nil {
			return nil, err
		}
	}
	return t, nil
}

// each reads a table and hands every record to add; it stops at the first fault.
func (t *tables) each(name string, header string, add func(*record)) error {
	records, err := readTable(name, string(t.raw[name]), strings.Fields(header)...)
	if err != nil {
		return err
	}
	for _, r := range records {
		if add(r); r.err != nil {
			return r.err
		}
	}
	return nil
}

func (t *tables) loadSources() error {
	return t.each("sources.tsv", "key title how_read", func(r *record) {
		s := SourceInfo{Key: r.needed("key"), Title: r.needed("title"), HowRead: r.needed("how_read")}
		if _, ok := t.sources[s.Key]; ok {
			r.fail("source %q stands twice", s.Key)
		}
		t.sources[s.Key] = s
	})
}

func (t *tables) sourceKeys(r *record, col string) []string {
	keys := r.list(col)
	for _, k := range keys {
		if _, ok := t.sources[k]; !ok {
			r.fail("source %q is not in sources.tsv", k)
		}
	}
	return keys
}

func (t *tables) loadAcids() error {
	const header = "fatty_acid name carbons double_bonds hydroxy molar_mass_g_per_mol iv_factor_triglyceride iv_factor_free_acid sources"
	return t.each("fatty_acid_constants.tsv", header, func(r *record) {
		a := Acid{
			ID: r.needed("fatty_acid"), Name: r.needed("name"),
			Carbons: r.whole("carbons"), DoubleBonds: r.whole("double_bonds"), Hydroxy: r.yes("hydroxy"),
			MolarMass:      r.number("molar_mass_g_per_mol"),
			IVTriglyceride: r.number("iv_factor_triglyceride"), IVFreeAcid: r.number("iv_factor_free_acid"),
			SourceKeys: t.sourceKeys(r, "sources"),
		}
		if a.MolarMass == 0 {
			r.fail("molar mass is 0")
		}
		a.Group = groupOf(a.Carbons, a.DoubleBonds, a.Hydroxy)
		if _, ok := t.acidIndex[a.ID]; ok {
			r.fail("fatty acid %q stands twice", a.ID)
		}
		t.acidIndex[a.ID] = len(t.acids)
		t.acids = append(t.acids, a)
	})
}

// titles names the works of a row.
func (t *tables) titles(keys []string) string {
	var out []string
	for _, k := range keys {
		out = append(out, t.sources[k].Title)
	}
	return strings.Join(out, "; ")
}

var idForm = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

const fatsHeader = "id name inci_fat inci_sodium_soap inci_potassium_soap inci_soap_check kind liquid_at_20c free_acid " +
	"sv_min sv_best sv_max sv_basis acid_value_min acid_value_max acid_value_status iv_min iv_max " +
	"density_g_per_ml density_c density_half_width density_basis unsaponifiable_max_pct melting_c " +
	"sources source_text status from_memory note"

func (t *tables) loadFats() error {
	err := t.each("fats.tsv", fatsHeader, func(r *record) {
		f := readFat(r)
		f.SourceKeys = t.sourceKeys(r, "sources")
		if len(f.SourceKeys) == 0 {
			r.fail("no source")
		}
		f.SourceText += ": " + t.titles(f.SourceKeys)
		if !idForm.MatchString(f.ID) {
			r.fail("id %q is not lower case with hyphens", f.ID)
		}
		if t.byID[f.ID] != nil {
			r.fail("id %q stands twice", f.ID)
		}
		t.byID[f.ID] = f
		t.fats = append(t.fats, f)
	})
	slices.SortFunc(t.fats, func(a, b *Fat) int { return strings.Compare(a.ID, b.ID) })
	return err
}

func readFat(r *record) *Fat {
	f := &Fat{
		ID: r.needed("id"), Name: r.needed("name"),
		INCI: r.text("inci_fat"), INCISodiumSoap: r.text("inci_sodium_soap"), INCIPotassiumSoap: r.text("inci_potassium_soap"),
		INCICheck:   r.oneOf("inci_soap_check", "", "seen", "seen-sodium", "known", "constructed"),
		Kind:        Kind(r.oneOf("kind", string(Oil), string(HardFat), string(Butter), string(AnimalFat), string(Wax), string(FattyAcid), string(Blend), string(Resin))),
		LiquidAt20C: r.yes("liquid_at_20c"), FreeAcid: r.yes("free_acid"),
		SVBasis:    r.needed("sv_basis"),
		MeltingC:   r.text("melting_c"),
		SourceText: r.needed("source_text"), Status: r.status("status"),
		FromMemory: r.list("from_memory"), Note: r.text("note"),
	}
	best := unit.MgKOHPerG(r.number("sv_best"))
	f.SV = Value{best, best, best}
	if f.SVRangeKnown = r.has("sv_min") || r.has("sv_max"); f.SVRangeKnown {
		f.SV = readValue(r, "sv", best)
	}
	if f.SV.Max == 0 || f.SV.Max > 400 {
		r.fail("saponification value %g outside 0-400", f.SV.Max)
	}
	if r.has("acid_value_min") {
		v := readValue(r, "acid_value", unit.MgKOHPerG((r.number("acid_value_min")+r.number("acid_value_max"))/2))
		f.AcidValue, f.AcidValueStatus = &v, r.status("acid_value_status")
	}
	f.IV = Bounds{Min: optional(r, "iv_min"), Max: optional(r, "iv_max")}
	if f.IV.Min != nil && f.IV.Max != nil && *f.IV.Min > *f.IV.Max {
		r.fail("iodine value limits are in the wrong order")
	}
	if r.has("density_g_per_ml") {
		f.Density = &Density{
			GramsPerML: unit.GramsPerML(r.number("density_g_per_ml")), At: unit.Celsius(r.number("density_c")),
			HalfWidth: unit.GramsPerML(r.number("density_half_width")),
			Basis:     r.oneOf("density_basis", "seen", "from-memory", "estimate", "temperature-assumed", "derived"),
		}
	}
	if v := optional(r, "unsaponifiable_max_pct"); v != nil {
		pct := unit.Percent(*v)
		f.UnsaponifiableMaxPct = &pct
	}
	return f
}

func readValue(r *record, col string, best unit.MgKOHPerG) Value {
	v := Value{Min: unit.MgKOHPerG(r.number(col + "_min")), Best: best, Max: unit.MgKOHPerG(r.number(col + "_max"))}
	if !(v.Min <= v.Best && v.Best <= v.Max) {
		r.fail("%s: %g is not between %g and %g", col, v.Best, v.Min, v.Max)
	}
	return v
}

func optional(r *record, col string) *float64 {
	if !r.has(col) {
		return nil
	}
	v := r.number(col)
	return &v
}
