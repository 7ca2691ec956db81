package sheet

import (
	"strings"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// mostAbove is how many findings stand above the weights.
const mostAbove = 5

// findings writes findings in the order of the answer, which is that of harm.
func (p *page) findings(heading string, list []*lixiviumv1.Finding) {
	if len(list) == 0 {
		return
	}
	p.heading(heading)
	const indent = "           "
	for _, f := range list {
		p.wrap("  "+padRight(severity(f.GetSeverity()), len(indent)-2), indent, f.GetText()+" ["+f.GetCode()+"]")
		for _, r := range f.GetRemedies() {
			p.wrap(indent+"- ", indent+"  ", r.GetText()+effect(r.GetEffect()))
		}
	}
}

// effect says what a remedy would change.
func effect(figures []*lixiviumv1.Figure) string {
	if len(figures) == 0 {
		return ""
	}
	words := make([]string, len(figures))
	for i, f := range figures {
		words[i] = strings.TrimSuffix(strings.ReplaceAll(f.GetName(), "_", " "), " pct") + " " + quantityWords(f.GetValue(), f.GetUnit())
	}
	return " (then: " + strings.Join(words, ", ") + ")"
}
