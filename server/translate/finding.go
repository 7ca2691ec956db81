package translate

import (
	"slices"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"

	"lixivium.example/engine"
)

// each makes the messages of a list in one piece of memory.
func each[E, M any](in []E, fill func(*M, *E)) []*M {
	if len(in) == 0 {
		return nil
	}
	rows := make([]M, len(in))
	out := make([]*M, len(in))
	for i := range in {
		fill(&rows[i], &in[i])
		out[i] = &rows[i]
	}
	return out
}

func fillFinding(m *lixiviumv1.Finding, f *engine.Finding) {
	m.Code = f.Code
	m.Severity = lixiviumv1.Severity(f.Severity)
	m.SubjectIds = slices.Clone(f.Subjects)
	m.Text = f.Text
	m.Numbers = each(f.Numbers, fillFigure)
	m.Remedies = each(f.Remedies, fillRemedy)
	m.Evidence = evidence(f.Evidence)
}

func fillFigure(m *lixiviumv1.Figure, f *engine.Figure) {
	m.Name = f.Name
	m.Value = f.Value
	m.Unit = f.Unit
}

func fillRemedy(m *lixiviumv1.Remedy, r *engine.Remedy) {
	m.Text = r.Text
	m.Effect = each(r.Effect, fillFigure)
	superfat, superfatSet := r.SuperfatPct.Get()
	switch {
	case r.Water != nil:
		m.Change = &lixiviumv1.Remedy_Water{Water: waterMessage(r.Water)}
	case superfatSet:
		m.Change = &lixiviumv1.Remedy_SuperfatPct{SuperfatPct: superfat}
	case r.Dose != nil:
		m.Change = &lixiviumv1.Remedy_Dose{Dose: doseMessage(r.Dose)}
	case r.Process != nil:
		m.Change = &lixiviumv1.Remedy_Process{Process: processMessage(r.Process)}
	case r.RemoveLineID != "":
		m.Change = &lixiviumv1.Remedy_RemoveLineId{RemoveLineId: r.RemoveLineID}
	}
}

func evidence(e engine.Evidence) *lixiviumv1.Evidence {
	return &lixiviumv1.Evidence{Basis: lixiviumv1.Basis(e.Basis), Source: e.Source}
}
