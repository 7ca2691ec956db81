package sdk

import "fmt"

// Question is what Adjust is asked: the plugin's own doses and no gram of the
// batch, so that an answer holds at every size.
type Question struct {
	Doses      []Dose
	Conditions Conditions
	// FatPct holds the watched fats that the recipe uses, percent of the
	// recipe fats by catalog id.
	FatPct map[string]float64
}

// Dose is one dose of an additive, in shares.
type Dose struct {
	ID       string
	Additive string // empty: an additive with the caller's own figures (in a Batch only)
	// PortionID is the portion it goes into; empty: the whole batch.
	PortionID string
	// OfFatsPct is the dose in percent of the recipe fats, OfPortionFatsPct in
	// percent of the portion's share of them. They agree for the whole batch.
	// A factor belongs to the second: what matters is how much is in the batter.
	OfFatsPct, OfPortionFatsPct float64
	Stage                       Stage
	// Carrier is what it is wetted with: "", "water", the catalog id of a fat,
	// or "other". The engine counts the carrier; rules only speak of it.
	Carrier      string
	CarrierGPerG float64
	// Parameters holds every declared parameter, defaults filled in.
	Parameters map[string]float64
}

// Conditions are temperatures and intent. A nil temperature is not stated.
type Conditions struct {
	FatsC, LyeC, RoomC *float64
	Gel                GelIntent
	// KOHOfMolesPct is potassium hydroxide in percent of mol.
	KOHOfMolesPct float64
}

// GelIntent says what the maker wants of the gel phase.
type GelIntent string

// What may be wanted of the gel phase.
const (
	GelNotSaid GelIntent = ""
	GelAvoid   GelIntent = "avoid"
	GelLeave   GelIntent = "leave" // let it do as it likes
	GelForce   GelIntent = "force"
)

// Each asks the rule about every dose and collects what it answers: an
// Adjustment, or a Rejection when that is not nil. The dose's id is filled in.
func (q Question) Each(rule func(Dose) (Adjustment, *Rejection)) Answer {
	var out Answer
	for _, d := range q.Doses {
		a, r := rule(d)
		if r != nil {
			r.DoseID = d.ID
			out.Rejections = append(out.Rejections, *r)
			continue
		}
		a.DoseID = d.ID
		out.Adjustments = append(out.Adjustments, a)
	}
	return out
}

// Switch reads a parameter that means no (0) or yes (1). Anything between is
// the caller's mistake and answered with a Rejection.
func (d Dose) Switch(name string) (bool, *Rejection) {
	switch d.Parameters[name] {
	case 0:
		return false, nil
	case 1:
		return true, nil
	}
	return false, &Rejection{
		DoseID: d.ID, Field: "parameters." + name, Reason: "PARAMETER",
		Text: fmt.Sprintf("%s is %v. It is a switch: write 0 or 1.", name, d.Parameters[name]),
	}
}
