package inprocess_test

import (
	"strings"
	"testing"

	"lixivium.example/engine"
)

// loud are the additives that deserve a caution at any dose.
var loud = map[string]bool{"alkali-unstable": true}

// An ordinary dose, wetted as it should be, in an ordinary batch gets no caution.
func TestOrdinaryDosesAreSilent(t *testing.T) {
	set := five(t)
	e := engine.New(set)
	for _, info := range set.Additives() {
		d := engine.Dose{ID: "dose", Additive: info.ID, OfFatsPct: engine.Some((info.LowOfFatsPct + info.HighOfFatsPct) / 3)}
		if info.UsualStage == engine.StageTrace {
			d.Carrier = &engine.Carrier{Fat: "olive-oil", GPerG: 2}
		}
		r := design()
		r.Doses, r.Portions, r.Process = []engine.Dose{d}, nil, engine.Process{FatsC: engine.Some(38), LyeC: engine.Some(38)}
		f, err := e.Formulate(t.Context(), r, engine.Options{})
		if err != nil {
			t.Errorf("%s: %v", info.ID, err)
			continue
		}
		cautioned := false
		for _, x := range f.Findings {
			if !strings.HasPrefix(x.Code, "engine/") && x.Severity >= engine.Caution {
				cautioned = true
				if !loud[info.ID] {
					t.Errorf("%s at %v %%: %s: %s", info.ID, f.Doses[0].OfFatsPct, x.Code, x.Text)
				}
			}
		}
		if loud[info.ID] && !cautioned {
			t.Errorf("%s gets no caution", info.ID)
		}
	}
}
