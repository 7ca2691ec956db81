package sheet

import (
	"fmt"
	"slices"
	"strings"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// Fats lists the fats of the catalog; a single one in full.
func Fats(r *lixiviumv1.ListFatsResponse) string {
	p := &page{}
	if fats := r.GetFats(); len(fats) == 1 {
		p.fat(fats[0])
	} else if len(fats) > 0 {
		cells := [][]string{{"value", "range", "basis", "id and name (saponification value, mg KOH/g)"}}
		for _, f := range fats {
			cells = append(cells, []string{decimal(f.GetSvMgKohPerG(), 1), span(f.GetSvLowMgKohPerG(), f.GetSvHighMgKohPerG()),
				basis(f.GetEvidence()), f.GetId() + "  " + f.GetName()})
		}
		p.table(cells)
	}
	if names := r.GetAmbiguousNames(); len(names) > 0 {
		p.heading("NAMES TO SAY MORE EXACTLY")
		for _, n := range names {
			p.wrapf("  ", "    ", "%s: %s", n.GetName(), strings.Join(n.GetFatIds(), ", "))
		}
	}
	return p.String()
}

func span(low, high float64) string { return significant(low) + "-" + significant(high) }

// fat writes everything known of one fat.
func (p *page) fat(f *lixiviumv1.CatalogFat) {
	p.title(f.GetName())
	say := func(what, value string) {
		if value != "" {
			p.wrap("  "+padRight(what, 22), strings.Repeat(" ", 24), value)
		}
	}
	optional := func(what string, v *float64, unit string) {
		if v != nil {
			say(what, significant(*v)+" "+unit)
		}
	}
	say("id", f.GetId())
	say("other names", strings.Join(f.GetSynonyms(), ", "))
	say("kind", f.GetKind())
	say("INCI name", f.GetInciName())
	say("saponification value", fmt.Sprintf("%s mg KOH/g, range %s", decimal(f.GetSvMgKohPerG(), 1), span(f.GetSvLowMgKohPerG(), f.GetSvHighMgKohPerG())))
	say("chosen as", f.GetSvBasis())
	say("rests on", evidence(f.GetEvidence()))
	optional("acid value", f.AcidValueMgKohPerG, "mg KOH/g: what the alkali is reckoned with")
	if f.IodineValueLow != nil && f.IodineValueHigh != nil {
		say("iodine value", span(f.GetIodineValueLow(), f.GetIodineValueHigh())+" g/100 g")
	}
	if f.DensityGPerMl != nil {
		say("density", fmt.Sprintf("%s g/mL at %s", significant(f.GetDensityGPerMl()), quantityWords(f.GetDensityAtC(), "degC")))
	}
	optional("unsaponifiable", f.UnsaponifiableMaxPct, "% at most")
	if f.GetMeltingRangeC() != "" {
		say("melting range", f.GetMeltingRangeC()+" °C")
	}
	optional("calculated value", f.CalculatedSvMgKohPerG, "mg KOH/g, from the fatty acids")
	say("fatty acids", fattyAcids(f.GetFattyAcidPct()))
	say("from memory", strings.Join(f.GetFieldsFromMemory(), ", "))
	say("mind", f.GetNote())
}

// fattyAcids writes acids by share, largest first.
func fattyAcids(pct map[string]float64) string {
	acids := make([]string, 0, len(pct))
	for acid := range pct {
		acids = append(acids, acid)
	}
	slices.SortFunc(acids, func(a, b string) int {
		if pct[a] != pct[b] {
			if pct[a] > pct[b] {
				return -1
			}
			return 1
		}
		return strings.Compare(a, b)
	})
	for i, acid := range acids {
		acids[i] = acid + " " + percent(pct[acid])
	}
	return strings.Join(acids, ", ")
}

// WaterReferences lists the ways to ask for water.
func WaterReferences(r *lixiviumv1.ListWaterReferencesResponse) string {
	p := &page{}
	p.wrap("", "", "Grams of water are for 100 g of fats that need 14 g of sodium hydroxide.")
	for _, x := range r.GetReferences() {
		p.blank()
		p.wrapf("", "  ", "%s, usually %s: %s g", x.GetName(), significant(x.GetTypicalValue()), decimal(x.GetExampleWaterG(), 1))
		p.wrap("  ", "  ", x.GetMeaning())
		if e := evidence(x.GetEvidence()); e != "" {
			p.wrap("  ", "  ", "rests on: "+e)
		}
	}
	return p.String()
}

// FindingCodes lists the findings of the engine.
func FindingCodes(r *lixiviumv1.ListFindingCodesResponse) string {
	p := &page{}
	for _, x := range r.GetCodes() {
		p.wrapf("", "    ", "%s (at most %s): %s", x.GetCode(), strings.ToLower(severity(x.GetSeverity())), x.GetMeaning())
	}
	return p.String()
}

// Versions writes what answers.
func Versions(r *lixiviumv1.GetVersionsResponse) string {
	p := &page{}
	for _, x := range [][2]string{{"server", r.GetServerVersion()}, {"engine", r.GetEngineVersion()}, {"built with", r.GetGoVersion()}, {"data", r.GetDataDigest()}} {
		p.wrap("", "  ", x[0]+" "+x[1])
	}
	return p.String()
}
