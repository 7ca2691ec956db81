package sdk

import "context"

// Plugin is what an author writes: what it owns, which rights it wants, and
// two pure functions. The same question must always get the same answer:
// answers are remembered, asked again now and then, and a plugin that answers
// differently is taken out of service.
type Plugin struct {
	// Name is lower case with hyphens, such as "lactate". It begins the code
	// of every finding.
	Name string
	// Version is for people.
	Version string
	// Wants are the rights that the answers use. The operator grants them; an
	// answer beyond the grants is refused whole.
	Wants []Grant
	// Owns are the additives this plugin answers for. Third parties begin ids
	// with a prefix of their own, such as "acme-oat-milk".
	Owns []Additive
	// WatchesFats are catalog ids of fats whose share the plugin wants to see,
	// and about which it may answer factors.
	WatchesFats []string
	// RulesDigest covers every file the rules are read from at run time. Empty
	// when the rules are in the executable.
	RulesDigest string

	// Adjust answers every dose of the question with an Adjustment or a
	// Rejection. It may be called by many goroutines at once. Required unless
	// the plugin owns nothing and watches fats only.
	Adjust func(context.Context, Question) Answer
	// Review looks at the settled batch. It cannot move a gram. Nil: no
	// findings.
	Review func(context.Context, Batch) []Finding
}

// Grant is a right to move a figure.
type Grant string

// The grants. Steps of handling and densities need none.
const (
	GrantAlkali   Grant = "alkali"   // alkali taken and its half-width; an upper bound needs no grant
	GrantFats     Grant = "fats"     // fats brought
	GrantWater    Grant = "water"    // water brought, bound and requested
	GrantTrace    Grant = "trace"    // factors on trace time
	GrantHeat     Grant = "heat"     // heat beyond neutralization
	GrantFirmness Grant = "firmness" // factors on firmness
	GrantFindings Grant = "findings" // findings on the settled batch
)

// Additive describes an additive that a plugin owns.
type Additive struct {
	ID   string // lower case with hyphens
	Name string // for people
	// Parameters that a dose may set. The engine checks the range and fills in
	// defaults, so rules never see a missing or impossible value.
	Parameters []Parameter
	// LowOfFatsPct and HighOfFatsPct are the usual dose, percent of the fats.
	LowOfFatsPct, HighOfFatsPct float64
	// GPerTeaspoonUS is the mass of one level US teaspoon, g; 0: not known.
	GPerTeaspoonUS float64
	// UsualStage is when it goes in unless the recipe says otherwise.
	UsualStage Stage
	// WaterOnTop: its water counts beyond the water asked for, as with a
	// solution that is poured in without taking water off.
	WaterOnTop bool
	// AlkaliFormsNoWater: the alkali it takes forms no water, as with
	// magnesium and calcium salts.
	AlkaliFormsNoWater bool
}

// Parameter is a number that a dose may set.
type Parameter struct {
	Name              string // lower case with underscores, ending in its unit: "strength_pct"
	Unit              string // "percent", or what the values mean
	Min, Max, Default float64
}

// Stage is the moment of use.
type Stage string

// The moments of use, in order.
const (
	StageWaterBeforeLye Stage = "water-before-lye"
	StageCooledLye      Stage = "cooled-lye"
	StageFats           Stage = "fats"
	StageTrace          Stage = "trace"
	StageSurface        Stage = "surface"
)

// Basis is the kind of support that a figure has.
type Basis string

// The bases, strongest first.
const (
	PublishedSeen       Basis = "published-seen"        // a source that was read
	PublishedFromMemory Basis = "published-from-memory" // a source that was not looked up again
	Derived             Basis = "derived"               // worked out, from atomic masses for instance
	CommonPractice      Basis = "common-practice"       // what the trade does, without a source
	Estimate            Basis = "estimate"              // the author's own
)

// Handshake of the plugin protocol, version 1: an executable that is started
// without the cookie in its environment says so and leaves.
const (
	ProtocolVersion = 1
	CookieKey       = "LIXIVIUM_PLUGIN"
	CookieValue     = "additive"
)
