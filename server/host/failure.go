package host

import (
	"slices"

	"lixivium.example/engine"
)

// The reasons of failures. They are stable.
const (
	ReasonCrashed     = "PLUGIN_CRASHED"     // it ended or panicked while it was asked
	ReasonTimeout     = "PLUGIN_TIMEOUT"     // it did not answer in time and was replaced
	ReasonDown        = "PLUGIN_DOWN"        // it is being restarted
	ReasonQuarantined = "PLUGIN_QUARANTINED" // it failed too often, or answered one question in two ways
	ReasonRefused     = "PLUGIN_REFUSED"     // the operator's file does not allow it
	ReasonBroken      = "CONTRACT_BROKEN"    // its answer lies outside the contract
	ReasonPoison      = "POISON_QUESTION"    // the question took it down twice
	ReasonMemory      = "PLUGIN_MEMORY"      // it held too much memory and was killed
)

// trouble is why there is no answer. The text is for the operator.
type trouble struct{ reason, text string }

func (t *trouble) Error() string { return t.reason + ": " + t.text }

// failure tells the engine. The grants decide what can be answered all the
// same: those the plugin wants, or while that is not known, all it is given.
func (s *supervised) failure(t *trouble, doses []string) engine.Failure {
	grants := s.line.Grants
	if k := s.known.Load(); k != nil {
		grants = k.manifest.Wants
	}
	return engine.Failure{Plugin: s.line.Name, Grants: slices.Clone(grants), DoseIDs: doses, Reason: t.reason, Text: t.text}
}
