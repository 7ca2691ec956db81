package fat

import (
	"fmt"
	"slices"

	"lixivium.example/engine/unit"
)

// Group is a class of fatty acids that behave alike in soap.
type Group int

// The groups by chain length and double bonds.
const (
	C6ToC10     Group = iota // saturated up to C10; butyric acid (C4) goes with it
	C12ToC14                 // lauric and myristic
	C16ToC18Sat              // saturated C15 to C18
	C18Mono                  // one double bond up to C18
	Hydroxy                  // ricinoleic and 12-hydroxystearic
	C18Di                    // two double bonds
	C18Tri                   // three double bonds
	C20Up                    // all of C20 and longer
	groupCount
)

var groupNames = [groupCount]string{"C6-C10", "C12-C14", "C16-C18 saturated", "C18:1", "hydroxy", "C18:2", "C18:3", "C20 and longer"}

// String gives the chemical label of the group, for example "C18:1".
func (g Group) String() string {
	if g < 0 || g >= groupCount {
		return fmt.Sprintf("Group(%d)", int(g))
	}
	return groupNames[g]
}

// Groups returns all groups in order.
func Groups() []Group {
	gs := make([]Group, groupCount)
	for i := range gs {
		gs[i] = Group(i)
	}
	return gs
}

// Acid is a fatty acid, or the isomers of one that analyses do not tell apart:
// C18:1 holds all octadecenoic acids, C18:3 alpha and gamma.
type Acid struct {
	ID          string // "C18:1"; hydroxy acids end in "-OH"
	Name        string
	Carbons     int
	DoubleBonds int
	Hydroxy     bool
	MolarMass   float64 // g/mol of the free acid, from C 12.011, H 1.008, O 15.999
	// Iodine value per percent of the acid, as triacylglycerol and as free
	// acid (AOCS Cd 1c-85 for the acids it lists, the others computed alike).
	IVTriglyceride, IVFreeAcid float64
	Group                      Group
	SourceKeys                 []string
}

// Share is a percentage of the total fatty acids. Acid indexes Acids.
type Share struct {
	Acid int
	Pct  unit.Percent
}

// Acids returns the fatty acids in fixed order, by chain length; the slice is
// the caller's own.
func Acids() []Acid { return slices.Clone(data.acids) }

// AcidIndex returns the place of an acid in Acids, by its id.
func AcidIndex(id string) (int, bool) {
	i, ok := data.acidIndex[id]
	return i, ok
}

func groupOf(carbons, doubleBonds int, hydroxy bool) Group {
	switch {
	case hydroxy:
		return Hydroxy
	case carbons >= 20:
		return C20Up
	case doubleBonds == 1:
		return C18Mono
	case doubleBonds == 2:
		return C18Di
	case doubleBonds == 3:
		return C18Tri
	case carbons <= 10:
		return C6ToC10
	case carbons <= 14:
		return C12ToC14
	default:
		return C16ToC18Sat
	}
}

// glycerolResidue is what joining to glycerol adds per acid, in g/mol: glycerol
// less three waters, shared by three acids.
const glycerolResidue = (unit.MolarMassGlycerol - 3*unit.MolarMassWater) / 3

// CalculatedSV gives the saponification value in mg KOH/g of pure
// triacylglycerol of these fatty acids, or the acid value of the mixture when
// they are free acids. Shares are mass percent and need not sum to 100. It
// counts by moles, in the idea of AOCS Cd 3a-94 (text not read): the mean molar
// mass of that method runs 2 % low for lauric fats. Unsaponifiable matter is
// not taken off. Without shares the answer is 0.
func CalculatedSV(shares []Share, freeAcid bool) unit.MgKOHPerG {
	return calculatedSV(data.acids, shares, freeAcid)
}

func calculatedSV(acids []Acid, shares []Share, freeAcid bool) unit.MgKOHPerG {
	var moles, mass float64
	for _, s := range shares {
		m := acids[s.Acid].MolarMass
		n := float64(s.Pct) / m
		moles += n
		mass += float64(s.Pct)
		if !freeAcid {
			mass += float64(n * glycerolResidue)
		}
	}
	if mass == 0 {
		return 0
	}
	return unit.MgKOHPerG(1000 * unit.MolarMassKOH * moles / mass)
}

// CalculatedIV gives the iodine value in g iodine per 100 g of triacylglycerol
// or of free acids (AOCS Cd 1c-85). The method runs low above 0.5 %
// unsaponifiable matter. Without shares the answer is 0.
func CalculatedIV(shares []Share, freeAcid bool) float64 {
	return calculatedIV(data.acids, shares, freeAcid)
}

func calculatedIV(acids []Acid, shares []Share, freeAcid bool) float64 {
	var sum, pct float64
	for _, s := range shares {
		factor := acids[s.Acid].IVTriglyceride
		if freeAcid {
			factor = acids[s.Acid].IVFreeAcid
		}
		sum += float64(float64(s.Pct) * factor)
		pct += float64(s.Pct)
	}
	if pct == 0 {
		return 0
	}
	return 100 * sum / pct
}
