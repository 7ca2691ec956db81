package sdk

// Batch is a settled batch with everybody's doses. Masses are exact grams,
// before rounding to a balance.
type Batch struct {
	FatsG float64
	// FatG holds the recipe fats by catalog id, FattyAcidPct their fatty acids
	// in percent by id.
	FatG, FattyAcidPct map[string]float64
	NaOHG, KOHG        float64 // pure alkali
	// SuperfatPct is that of the portion that has least.
	SuperfatPct             float64
	TotalWaterG, FreeWaterG float64
	// JugStrengthPct is pure alkali over all that is in the lye vessel when the
	// alkali dissolves.
	JugStrengthPct  float64
	TraceTimeFactor float64 // product of the typical factors of all additives
	AdditiveHeatJ   float64
	Doses           []Dose
	// Portions has at least one entry; without portions in the recipe it is
	// the whole batch under the empty id.
	Portions   []PortionView
	Conditions Conditions
}

// PortionView is a settled portion.
type PortionView struct {
	ID                  string
	BatterG, FreeWaterG float64
	// BatchStrengthPct is alkali over alkali and free water.
	BatchStrengthPct float64
}

// StrengthPct is alkali over alkali and free water of the whole batch, percent;
// 0 when the batch holds no alkali.
func (b *Batch) StrengthPct() float64 {
	alkali := b.NaOHG + b.KOHG
	if alkali <= 0 {
		return 0
	}
	return 100 * alkali / (alkali + b.FreeWaterG)
}

// DoseG is the mass of a dose, g.
func (b *Batch) DoseG(d Dose) float64 { return b.FatsG * d.OfFatsPct / 100 }

// Severity tells how much a finding matters.
type Severity string

// The severities. Danger is for harm to people, caution for a batch that is
// likely spoiled, note for what is good to know. An ordinary dose gets no
// finding at all.
const (
	Note    Severity = "note"
	Caution Severity = "caution"
	Danger  Severity = "danger"
)

// Finding is something that speaks for care.
type Finding struct {
	Code     string // the plugin's name, slash, name of the finding; never reused
	Severity Severity
	Subjects []string // dose or portion ids; empty: the batch
	Text     string   // for people; programs use Code and Numbers
	// Numbers by name, each name ending in its unit.
	Numbers  map[string]float64
	Remedies []Suggestion
	Basis    Basis
	Source   string
}

// Suggestion is a way out: at most one change of the recipe, else something a
// person does.
type Suggestion struct {
	Text string
	// SetLyeConcentrationPct asks for that lye concentration, percent.
	SetLyeConcentrationPct *float64
	// AddWaterG adds to the asked water, g.
	AddWaterG *float64
	// SetDoseOfFatsPct sets the dose of the finding's first subject, percent
	// of the recipe fats.
	SetDoseOfFatsPct *float64
	// Gel sets what is wanted of the gel phase.
	Gel GelIntent
}
