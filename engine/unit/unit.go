// Package unit names the physical quantities of the engine, so that grams of
// fat, moles of alkali and percent of fats cannot be mixed up by accident.
//
// Every type is a plain float64: arithmetic is exact to the last bit of the
// machine and a conversion between types is always written out. The package
// holds conversions between units of one quantity only; what depends on a
// material (volume to mass, strength to density) belongs to packages fat and
// lye.
package unit

// Grams is a mass in grams.
type Grams float64

// Moles is an amount of substance in mol; for alkali, mol of hydroxide.
type Moles float64

// Percent is a share times 100: 5 means five in a hundred, never 0.05.
type Percent float64

// Celsius is a temperature in °C.
type Celsius float64

// MgKOHPerG is a saponification or acid value: milligrams of potassium
// hydroxide that one gram of fat takes (ISO 3657, ISO 660).
type MgKOHPerG float64

// GramsPerML is a density in g/mL.
type GramsPerML float64

// Milliliters is a volume in mL.
type Milliliters float64

// PercentOf gives part/whole times 100; 0 when the whole is 0.
func PercentOf[T ~float64](part, whole T) Percent {
	if whole == 0 {
		return 0
	}
	return Percent(100 * float64(part) / float64(whole))
}

// Exact conversion factors: international avoirdupois pound and ounce, US
// customary liquid measures (NIST Handbook 44, appendix C).
const (
	GramsPerKg  = 1000
	GramsPerOz  = 28.349523125
	GramsPerLb  = 453.59237
	MLPerL      = 1000
	MLPerFlOzUS = 29.5735295625
	MLPerCupUS  = 236.5882365
	MLPerTspUS  = 4.92892159375
)

// Molar masses in g/mol, from the CIAAW 2021 standard atomic weights
// (conventional values where an interval is given).
const (
	MolarMassNaOH     = 39.997
	MolarMassKOH      = 56.1056
	MolarMassWater    = 18.015
	MolarMassGlycerol = 92.094
)
