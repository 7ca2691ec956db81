package sheet

import (
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// Judgement writes what a recipe comes to, without the weights.
func Judgement(f *lixiviumv1.Formulation, o Options) string {
	p := &page{}
	p.title(o.title())
	p.incomplete(f)
	p.wrap("", "  ", verdict(f))
	p.superfat(f.GetSuperfat(), o)
	p.wholeBatch(f)
	p.assumptions(f.GetSuperfatIfPct())
	p.alkali(f.GetAlkali(), o)
	p.water(f, o)
	p.findings("FINDINGS", f.GetFindings())
	p.origin(f.GetOrigin())
	return p.String()
}

// verdict is the one line that a hurried reader must not miss.
func verdict(f *lixiviumv1.Formulation) string {
	worst := f.GetSuperfat().GetVerdict()
	for _, x := range f.GetFindings() {
		worst = max(worst, x.GetSeverity())
	}
	switch worst {
	case lixiviumv1.Severity_SEVERITY_DANGER:
		return "DANGER: do not make or use this as it stands."
	case lixiviumv1.Severity_SEVERITY_CAUTION:
		return "CAUTION: look at the findings before going on."
	}
	return "No caution and no danger found. Read the numbers, and test the soap before use all the same."
}
