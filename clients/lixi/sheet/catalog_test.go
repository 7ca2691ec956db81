package sheet

import (
	"testing"

	"google.golang.org/protobuf/proto"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

func TestOneFatInFull(t *testing.T) {
	got := Fats(&lixiviumv1.ListFatsResponse{Fats: []*lixiviumv1.CatalogFat{{
		Id: "beeswax", Name: "Beeswax", Synonyms: []string{"cera alba", "cera flava"}, Kind: "wax", SvMgKohPerG: 95.5,
		SvLowMgKohPerG: 87, SvHighMgKohPerG: 104, SvBasis: "midpoint", AcidValueMgKohPerG: proto.Float64(20.5),
		IodineValueLow: proto.Float64(7), IodineValueHigh: proto.Float64(16), DensityGPerMl: proto.Float64(0.96), DensityAtC: proto.Float64(20),
		UnsaponifiableMaxPct: proto.Float64(55), MeltingRangeC: "62-65", FattyAcidPct: map[string]float64{"C16:0": 20, "C18:1": 60, "C18:0": 20},
		FieldsFromMemory: []string{"density_g_per_ml"}, Note: "Mind it.",
		Evidence: &lixiviumv1.Evidence{Basis: lixiviumv1.Basis_BASIS_DERIVED, Source: "a table"},
	}}})
	want := `Beeswax
=======
  id                    beeswax
  other names           cera alba, cera flava
  kind                  wax
  saponification value  95.5 mg KOH/g, range 87-104
  chosen as             midpoint
  rests on              derived: a table
  acid value            20.5 mg KOH/g: what the alkali is reckoned with
  iodine value          7-16 g/100 g
  density               0.96 g/mL at 20 °C
  unsaponifiable        55 % at most
  melting range         62-65 °C
  fatty acids           C18:1 60.0 %, C16:0 20.0 %, C18:0 20.0 %
  from memory           density_g_per_ml
  mind                  Mind it.
`
	if got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
}

func TestSeveralFatsAndAmbiguousNames(t *testing.T) {
	got := Fats(&lixiviumv1.ListFatsResponse{
		Fats: []*lixiviumv1.CatalogFat{
			{Id: "palm-oil", Name: "Palm oil", SvMgKohPerG: 199.5, SvLowMgKohPerG: 190, SvHighMgKohPerG: 209},
			{Id: "palm-kernel-oil", Name: "Palm kernel oil", SvMgKohPerG: 242, SvLowMgKohPerG: 230, SvHighMgKohPerG: 254},
		},
		AmbiguousNames: []*lixiviumv1.AmbiguousName{{Name: "palm", FatIds: []string{"palm-oil", "palm-kernel-oil"}}},
	})
	want := `  value    range     basis  id and name (saponification value, mg KOH/g)
  199.5  190-209  not said  palm-oil Palm oil
  242.0  230-254  not said  palm-kernel-oil Palm kernel oil

NAMES TO SAY MORE EXACTLY
  palm: palm-oil, palm-kernel-oil
`
	if got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
}

func TestOtherLists(t *testing.T) {
	water := WaterReferences(&lixiviumv1.ListWaterReferencesResponse{References: []*lixiviumv1.WaterReference{{
		Name: "water_of_fats_pct", Meaning: "percent of the fats", TypicalValue: 38, ExampleWaterG: 38,
		Evidence: &lixiviumv1.Evidence{Basis: lixiviumv1.Basis_BASIS_COMMON_PRACTICE},
	}}})
	if want := "Grams of water are for 100 g of fats that need 14 g of sodium hydroxide.\n\nwater_of_fats_pct, usually 38: 38.0 g\n  percent of the fats\n  rests on: common practice\n"; water != want {
		t.Errorf("got\n%s", water)
	}
	codes := FindingCodes(&lixiviumv1.ListFindingCodesResponse{Codes: []*lixiviumv1.FindingCode{{
		Code: "engine/lye-heavy", Severity: lixiviumv1.Severity_SEVERITY_DANGER, Meaning: "Alkali is left over.",
	}}})
	if want := "engine/lye-heavy (at most danger): Alkali is left over.\n"; codes != want {
		t.Errorf("got %s", codes)
	}
	versions := Versions(&lixiviumv1.GetVersionsResponse{ServerVersion: "1", EngineVersion: "2", DataDigest: "sha256:3", GoVersion: "go4"})
	if want := "server 1\nengine 2\nbuilt with go4\ndata sha256:3\n"; versions != want {
		t.Errorf("got %s", versions)
	}
}
