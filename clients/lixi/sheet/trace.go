package sheet

import (
	"fmt"
	"math"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// A factor this near to 1 is not worth a line of the sheet.
const quietFactor = 0.1

// trace writes the estimated minutes to trace and what moves them most.
func (p *page) trace(t *lixiviumv1.TraceTimes) {
	if t == nil {
		return
	}
	p.heading("TRACE, an estimate: minutes from combining")
	p.wrapf("  ", "    ", "thin %s, medium %s, thick %s; left standing, thin %s",
		minutes(t.GetThin()), minutes(t.GetMedium()), minutes(t.GetThick()), minutes(t.GetStandingThin()))
	for _, f := range t.GetFactors() {
		if math.Abs(f.GetTypical()-1) < quietFactor {
			continue
		}
		p.wrapf("  - ", "    ", "%s (time times %s)", f.GetName(), decimal(f.GetTypical(), 2))
	}
}

// minutes writes a time with its band.
func minutes(m *lixiviumv1.Minutes) string {
	return fmt.Sprintf("%s (%s to %s)", round(m.GetTypical()), round(m.GetLow()), round(m.GetHigh()))
}

// round writes minutes with no more figures than an estimate has.
func round(v float64) string {
	if v < 10 {
		return decimal(v, 1)
	}
	return decimal(v, 0)
}

// handling writes how each additive is added, as its owner says.
func (p *page) handling(doses []*lixiviumv1.DoseAnswer) {
	first := true
	for _, d := range doses {
		for _, s := range d.GetSteps() {
			if first {
				p.heading("HOW TO ADD IT")
				first = false
			}
			text := s.GetText()
			if s.MaxC != nil {
				text += fmt.Sprintf(" At most %s °C.", decimal(s.GetMaxC(), 0))
			}
			if s.WaitMinutes != nil {
				text += fmt.Sprintf(" Wait %s min.", decimal(s.GetWaitMinutes(), 0))
			}
			p.wrapf("  - ", "    ", "%s: %s", d.GetName(), text)
		}
	}
}
