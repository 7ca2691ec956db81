package engine

import (
	"cmp"
	"slices"
)

// judged gathers findings about a settled batch.
type judged struct {
	w    *work
	list []Finding
}

// add notes a finding.
func (j *judged) add(f Finding) { j.list = append(j.list, f) }

// findings looks at everything that can speak against the batch.
func (w *work) findings(f *Formulation) []Finding {
	j := &judged{w: w}
	j.superfat(f)
	j.slips(f)
	j.purity(f)
	if !w.p.waterUnknown {
		j.jug(f)
		j.storage(f)
		j.vessels(f)
		j.water(f)
	}
	j.measures(f)
	j.materials(f)
	return byHarm(j.list)
}

// byHarm orders findings by severity, ties by code and subject.
func byHarm(list []Finding) []Finding {
	slices.SortStableFunc(list, func(a, b Finding) int {
		return cmp.Or(-cmp.Compare(a.Severity, b.Severity), cmp.Compare(a.Code, b.Code), slices.Compare(a.Subjects, b.Subjects))
	})
	return list
}

// subjects names ids, leaving out the empty one that means the batch.
func subjects(ids ...string) []string {
	return slices.DeleteFunc(ids, func(id string) bool { return id == "" })
}
