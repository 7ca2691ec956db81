package engine

// Severity tells how much a finding matters.
type Severity int

// The severities; the zero value means that nothing speaks against it.
const (
	Silent Severity = iota
	Note
	Caution
	Danger
)

// String gives the word.
func (s Severity) String() string {
	return [...]string{"", "note", "caution", "danger"}[s]
}

// Finding is something that speaks for care with a batch that can be
// computed. Programs use Code and Numbers; Text is for people.
type Finding struct {
	Code     string // owner, slash, name
	Severity Severity
	Subjects []string // ids; empty: the batch
	Text     string
	Numbers  []Figure
	Remedies []Remedy
	Evidence Evidence
}

// Figure is a named number.
type Figure struct {
	Name  string
	Value float64
	Unit  string
}

// Remedy is a way out: at most one typed change of the recipe, else a human
// act in Text. Effect holds the same batch worked out with the change.
type Remedy struct {
	Text         string
	Water        *Water
	SuperfatPct  Optional
	Dose         *Dose
	Process      *Process
	RemoveLineID string
	Effect       []Figure
}

// Basis is the kind of support of a figure.
type Basis int

// The bases, strongest first.
const (
	BasisUnknown Basis = iota
	PublishedSeen
	PublishedFromMemory
	Derived
	CommonPractice
	Estimate
	FromCaller
)

// Evidence is what a figure rests on.
type Evidence struct {
	Basis  Basis
	Source string
}
