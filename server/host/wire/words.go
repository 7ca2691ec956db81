package wire

import (
	"regexp"

	"lixivium.example/engine"
)

// The closed lists of the contract.
var (
	stages = words[engine.Stage]{
		{"water-before-lye", engine.StageWaterBeforeLye},
		{"cooled-lye", engine.StageCooledLye},
		{"fats", engine.StageFats},
		{"trace", engine.StageTrace},
		{"surface", engine.StageSurface},
	}
	bases = words[engine.Basis]{
		{"published-seen", engine.PublishedSeen},
		{"published-from-memory", engine.PublishedFromMemory},
		{"derived", engine.Derived},
		{"common-practice", engine.CommonPractice},
		{"estimate", engine.Estimate},
	}
	severities = words[engine.Severity]{
		{"note", engine.Note}, {"caution", engine.Caution}, {"danger", engine.Danger},
	}
	gelIntents = words[engine.GelIntent]{
		{"", engine.GelNotSaid}, {"avoid", engine.GelAvoid}, {"leave", engine.GelLeave}, {"force", engine.GelForce},
	}
	grants = words[engine.Grant]{
		{"alkali", engine.GrantAlkali}, {"fats", engine.GrantFats}, {"water", engine.GrantWater},
		{"trace", engine.GrantTrace}, {"heat", engine.GrantHeat}, {"firmness", engine.GrantFirmness},
		{"findings", engine.GrantFindings},
	}
)

// words pairs the words of the wire with the engine's values. The lists are
// short, so they are walked.
type words[T comparable] []struct {
	word  string
	value T
}

func (w words[T]) read(word string) (T, bool) {
	for i := range w {
		if w[i].word == word {
			return w[i].value, true
		}
	}
	var none T
	return none, false
}

func (w words[T]) write(value T) string {
	for i := range w {
		if w[i].value == value {
			return w[i].word
		}
	}
	return ""
}

// The forms of names.
var (
	hyphenated  = regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+)*$`)
	underscored = regexp.MustCompile(`^[a-z][a-z0-9]*(_[a-z0-9]+)*$`)
	upperCase   = regexp.MustCompile(`^[A-Z][A-Z0-9]*(_[A-Z0-9]+)*$`)
	fieldPath   = regexp.MustCompile(`^[a-z][a-z0-9_]*(\.[a-z][a-z0-9_]*)*$`)
)

// IsID tells whether a name has the form of plugin and additive ids: lower
// case with hyphens.
func IsID(name string) bool { return len(name) <= maxNameBytes && hyphenated.MatchString(name) }

// IsGrant tells whether a right is one of the closed list.
func IsGrant(name string) bool {
	_, ok := grants.read(name)
	return ok
}

// Limits on what one answer may hold, far above what honest answers hold and
// far below what would hurt the host.
const (
	maxNameBytes      = 64
	maxTextBytes      = 2000
	maxAdditives      = 500
	maxParameters     = 32
	maxWatchedFats    = 200
	maxFatsBrought    = 16
	maxSteps          = 16
	maxFindings       = 200
	maxNumbers        = 32
	maxSubjects       = 400
	maxRemedies       = 8
	maxCapabilities   = 32
	maxVersionBytes   = 64
	maxUnitBytes      = 120
	maxParameterValue = 1e9
)
