package lye

import (
	"bytes"
	"io/fs"
	"math"
	"slices"
	"strings"
	"testing"
)

func TestTablesAreWholeAndMarked(t *testing.T) {
	names, err := fs.Glob(files, "data/*.tsv")
	if err != nil || len(names) != len(Tables()) {
		t.Fatalf("%d files, %d tables, %v", len(names), len(Tables()), err)
	}
	statuses := []string{"published and seen", "published from memory", "derived", "estimate"}
	for _, table := range Tables() {
		if !slices.Contains(names, "data/"+table.Name) || table.Source == "" {
			t.Errorf("%s: no such file or no source", table.Name)
		}
		header, _, _ := strings.Cut(string(table.Bytes), "\n")
		if !strings.HasPrefix(header, "alkali\t") || !strings.HasSuffix(header, "\tsource\tstatus") || bytes.Contains(table.Bytes, []byte("\r")) {
			t.Errorf("%s: header %q", table.Name, header)
		}
		for _, r := range known.rows[table.Name] {
			if !slices.Contains(statuses, r.status) || r.source == "" {
				t.Errorf("%s: %+v", table.Name, r)
			}
		}
	}
	Tables()[0].Bytes[0] = '!'
	if Tables()[0].Bytes[0] != 'a' {
		t.Error("a caller can write into the tables")
	}
}

func TestDensitySource(t *testing.T) {
	for k, wants := range map[Kind][]string{
		NaOH: {tableNaOH20, "CRC Handbook", "International Critical Tables", tableNaOHByT, "Olsson"},
		KOH:  {tableKOH, "Laliberté"},
	} {
		for _, want := range wants {
			if got := DensitySource(k); !strings.Contains(got, want) {
				t.Errorf("%v: %q lacks %q", k, got, want)
			}
		}
	}
}

func TestKind(t *testing.T) {
	if NaOH.MolarMass() != 39.997 || KOH.MolarMass() != 56.1056 {
		t.Error("molar masses")
	}
	var none Kind
	if !math.IsNaN(none.MolarMass()) || DensitySource(none) != "" || DensityHalfWidth(none) != 0 {
		t.Error("the zero kind must be neither alkali")
	}
	if got := NaOH.String() + KOH.String() + none.String(); got != "NaOHKOHKind(0)" {
		t.Error(got)
	}
}
