package trace

// Batch is what of a batch moves its trace. A figure that is not finite or not
// possible (a strength of 0, a negative share) counts as not known, and the
// factor says so.
type Batch struct {
	// GroupPct is the fatty acids of the fats by fat.Group, in percent of all
	// fatty acids; they are scaled to 100. All zero means not known.
	GroupPct [8]float64
	// KnownPct is the percent of the fats whose fatty acids are known, 0-100.
	// The rest is taken as the reference fats, with a wider band.
	KnownPct float64
	// FreeAcidPct is free fatty acid in percent of the fats: stearic acid,
	// rosin, what a wax holds free, and what an oil brings (pomace, old or
	// unrefined fat) where it is known.
	FreeAcidPct float64
	// SuperfatPct is the superfat in percent, below 0 for a lye-heavy batch.
	SuperfatPct float64
	// StrengthPct is the batch strength: alkali in percent of alkali and free
	// water.
	StrengthPct float64
	// MixC is the temperature of fats and lye put together in °C, as
	// MixTemperature gives it. It counts only if MixKnown.
	MixC     float64
	MixKnown bool
	// HandStirred asks for spoon or whisk instead of a stick blender.
	HandStirred bool
	// Additives are the factors of the doses and of watched fats. A zero Band
	// means no effect.
	Additives []Factor
}

// Times are minutes to trace, each band at most 6 to 1.
type Times struct {
	// Thin, Medium and Thick are minutes from combining fats and lye, stirred as
	// the batch says. Thick counts on a blender kept running after medium trace.
	Thin, Medium, Thick Band
	// StandingThin is minutes to thin trace when the batter is left alone once
	// it is an emulsion.
	StandingThin Band
	// Factors are all that the times differ from the reference batch by: the
	// engine's own in fixed order, then the additives as given. Typical times
	// are typical reference minutes times the factors that act on them.
	Factors []Factor
}

// Factor multiplies times; below 1 is sooner.
type Factor struct {
	// ID is "fats", "strength", "temperature", "free-acid", "superfat",
	// "stirring", "standing", or an additive's own.
	ID   string
	Name string // in words, with its direction: "41 % palmitic and stearic: sooner"
	Band
	Scope  Scope
	Basis  Basis
	Source string
}

// Scope says which times a factor acts on.
type Scope int

// The scopes. Additives act on all times.
const (
	AllTimes     Scope = iota
	StirredTimes       // Thin, Medium and Thick
	StandingTime       // StandingThin
)

// Basis is the kind of support of a factor.
type Basis string

// The bases, strongest first.
const (
	BasisUnknown             Basis = ""
	BasisPublishedSeen       Basis = "published-seen"
	BasisPublishedFromMemory Basis = "published-from-memory"
	BasisDerived             Basis = "derived"
	BasisCommonPractice      Basis = "common-practice"
	BasisEstimate            Basis = "estimate"
	BasisFromCaller          Basis = "from-caller"
)
