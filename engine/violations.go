package engine

import (
	"fmt"
	"strings"
)

// Violation is one thing wrong with a request.
type Violation struct {
	// Path of the field, from the recipe or balances down, with the names of
	// the contract: "recipe.fats[2].mass.g".
	Path string
	// Reason is a stable code, upper case with underscores.
	Reason string
	// Text says what is wrong and what to do.
	Text string
	// Suggestions are valid values that may have been meant.
	Suggestions []string
}

// The reasons a violation can carry.
const (
	ReasonRequired      = "REQUIRED"
	ReasonRange         = "OUT_OF_RANGE"
	ReasonNotFinite     = "NOT_FINITE"
	ReasonLikelySlip    = "LIKELY_FRACTION"
	ReasonUnknown       = "UNKNOWN_NAME"
	ReasonAmbiguous     = "AMBIGUOUS_NAME"
	ReasonDuplicate     = "DUPLICATE_ID"
	ReasonConflict      = "CONFLICT"
	ReasonSum           = "SUM_NOT_100"
	ReasonUnit          = "WRONG_UNIT"
	ReasonTooMany       = "TOO_MANY"
	ReasonBadID         = "BAD_ID"
	ReasonParameter     = "BAD_PARAMETER"
	ReasonNotOnRecipe   = "NOT_IN_RECIPE"
	ReasonNoReference   = "DISCOUNT_WITHOUT_REFERENCE"
	ReasonAddInPortion  = "ADD_IN_PORTION"
	ReasonAddWithGiven  = "ADD_WITH_GIVEN_ALKALI"
	ReasonSolidByVolume = "SOLID_BY_VOLUME"
)

// Violations is everything wrong with a request, in order of the fields.
type Violations struct{ List []Violation }

// Error lists every violation, one a line.
func (v *Violations) Error() string {
	var b strings.Builder
	for i, x := range v.List {
		if i > 0 {
			b.WriteByte('\n')
		}
		fmt.Fprintf(&b, "%s: %s", x.Path, x.Text)
		if len(x.Suggestions) > 0 {
			fmt.Fprintf(&b, " Did you mean: %s?", strings.Join(x.Suggestions, ", "))
		}
	}
	return b.String()
}

// Impossible says why a batch cannot be made, with the numbers behind it.
type Impossible struct {
	Reason  string // stable code, such as "LYE_TOO_STRONG"
	Text    string
	Numbers []Figure
}

// Error gives the text.
func (e *Impossible) Error() string { return e.Text }

// The reasons a batch can be impossible.
const (
	ImpossibleLyeTooStrong = "LYE_TOO_STRONG"
	ImpossibleWater        = "LIQUIDS_EXCEED_WATER"
	ImpossibleHeldBack     = "HELD_BACK_EXCEEDS_FAT"
	ImpossibleRounding     = "ROUNDS_TO_ZERO"
)

// MissingOwner says that the rules of an additive are not at hand. A wrong lye
// weight burns skin, so there is no answer without them.
type MissingOwner struct {
	Additive string
	DoseID   string
	// Path of the field that names it, as in a Violation.
	Path string
	// Suggestions are owned additives that may have been meant.
	Suggestions []string
}

// Error names the additive and the ways out.
func (e *MissingOwner) Error() string {
	look := "Look at the spelling (the catalog lists the additives)"
	if len(e.Suggestions) > 0 {
		look = "Did you mean " + strings.Join(e.Suggestions, " or ") + "? Else look at the catalog of additives"
	}
	return fmt.Sprintf("dose %q: no plugin owns the additive %q here. %s, enable its plugin, or give the dose your own figures (custom), the alkali it takes included.", e.DoseID, e.Additive, look)
}

// OwnerFailed says that the owner of a dose is configured and did not answer.
type OwnerFailed struct{ Failure Failure }

// Error says what is missing and what to do, not why the owner failed: that is
// for the operator.
func (e *OwnerFailed) Error() string {
	return fmt.Sprintf("the plugin %q did not answer for dose %s, and a lye weight must not be guessed. Try again; if it stays, look at the plugin's health.", e.Failure.Plugin, strings.Join(e.Failure.DoseIDs, ", "))
}
