package wire

import (
	"slices"
	"testing"
	"unicode/utf8"

	"google.golang.org/protobuf/proto"

	"lixivium.example/engine"
	additivev1 "lixivium.example/proto/lixivium/additive/v1"
	"lixivium.example/proto/mutate"
)

// What plugins answer, whatever they send: bytes that the fuzzer changes, then
// edits of a tape (see package mutate). What is accepted lies within bounds and
// rights; what is not is told in words that can be logged.

var spoken = []string{
	"a", "b", "p", "kaolin", "clays", "clays/too-much", "other/code", "olive-oil", "palm-oil", "trace", "surface", "derived", "estimate", "hearsay",
	"note", "caution", "danger", "water", "alkali", "findings", "avoid", "force", "stir-in", "STAGE", "parameters.wet_pct", "wet_pct", "of_fats_pct",
}

func add(f *testing.F, m proto.Message) {
	bytes, err := proto.Marshal(m)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(bytes, []byte{})
	f.Add(bytes, []byte("0123456789abcdefghijklmnopqrstuvwxyz"))
}

func read(m proto.Message, bytes, tape []byte) bool {
	if len(bytes) > 16<<10 || proto.Unmarshal(bytes, m) != nil {
		return false
	}
	mutate.Apply(m, tape, spoken)
	return true
}

// told checks the words of a breach.
func told(t *testing.T, err error) {
	t.Helper()
	if text := err.Error(); text == "" || !utf8.ValidString(text) || hasControl(withoutLineEnds(text)) {
		t.Errorf("the breach is told as %q", text)
	}
}

func withoutLineEnds(s string) string {
	return string(slices.DeleteFunc([]rune(s), func(r rune) bool { return r == '\n' }))
}

func FuzzDescribeResponse(f *testing.F) {
	add(f, manifest())
	if _, err := ReadManifest(manifest()); err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, bytes, tape []byte) {
		m := &additivev1.DescribeResponse{}
		if !read(m, bytes, tape) {
			return
		}
		x, err := ReadManifest(m)
		if err != nil {
			told(t, err)
			return
		}
		if !IsID(x.Name) || x.Version == "" || len(x.Owns)+len(x.WatchesFats) == 0 || len(x.Owns) > maxAdditives {
			t.Errorf("accepted %+v", x)
		}
		for _, a := range x.Owns {
			if !IsID(a.ID) || a.Name == "" || !(a.LowOfFatsPct >= 0 && a.LowOfFatsPct <= a.HighOfFatsPct && a.HighOfFatsPct <= 200) || a.UsualStage == engine.StageNotSaid {
				t.Errorf("accepted %+v", a)
			}
			for _, q := range a.Parameters {
				if !finite(q.Min, q.Max, q.Default) || q.Default < q.Min || q.Default > q.Max || q.Unit == "" {
					t.Errorf("accepted %+v", q)
				}
			}
		}
	})
}

func goodAnswer() *additivev1.AdjustResponse {
	return &additivev1.AdjustResponse{
		Adjustments: []*additivev1.Adjustment{{
			DoseId: "a", WaterGPerG: 0.4, DensityGPerMl: 1.2, BoundWaterGPerG: 2, AlkaliHighMolPerG: 0.01,
			TraceTimeFactor: &additivev1.Band{Low: 0.5, Typical: 0.7, High: 1}, Basis: "derived", Source: "s",
			Fats:  []*additivev1.FatBrought{{Fat: "olive-oil", GPerG: 0.5}},
			Steps: []*additivev1.Step{{Stage: "trace", Code: "stir-in", Text: "t", MaxC: new(40.0)}},
		}},
		Rejections: []*additivev1.Rejection{{DoseId: "b", Field: "stage", Reason: "STAGE", Text: "t"}},
		FatFactors: []*additivev1.FatFactor{{Fat: "olive-oil", Basis: "estimate", Source: "s"}},
	}
}

func FuzzAdjustResponse(f *testing.F) {
	add(f, goodAnswer())
	add(f, &additivev1.AdjustResponse{Adjustments: []*additivev1.Adjustment{
		{DoseId: "a", DensityGPerMl: 1, Basis: "derived", Source: "s"}, {DoseId: "b", DensityGPerMl: 1, Basis: "derived", Source: "s"},
	}})
	q := Question(question(), []int{0, 1}, []string{"olive-oil"})
	granted := []engine.Grant{engine.GrantWater, engine.GrantFats, engine.GrantTrace}
	if _, err := ReadAnswer(q, goodAnswer(), granted); err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, bytes, tape []byte) {
		m := &additivev1.AdjustResponse{}
		if !read(m, bytes, tape) {
			return
		}
		a, err := ReadAnswer(q, m, granted)
		if err != nil {
			told(t, err)
			return
		}
		if len(a.Adjustments)+len(a.Rejections) != 2 {
			t.Errorf("%d and %d answers for two doses", len(a.Adjustments), len(a.Rejections))
		}
		for i := range a.Adjustments {
			x := &a.Adjustments[i]
			if err := x.Check(); err != nil {
				t.Error(err)
			}
			if x.AlkaliMolPerG != 0 || x.AlkaliHalfMolPerG != 0 || x.HeatJPerG != 0 || x.Firmness != (engine.Band{}) {
				t.Errorf("beyond the grants: %+v", x)
			}
		}
		for _, r := range a.Rejections {
			if r.Reason == "" || r.Text == "" {
				t.Errorf("accepted %+v", r)
			}
		}
	})
}

// reviewed is a batch as it is shown to a plugin, and as the engine knows it.
func reviewed() (*additivev1.ReviewRequest, *engine.ReviewBatch) {
	b := &engine.ReviewBatch{
		Formulation: &engine.Formulation{Portions: []engine.PortionAnswer{{PortionID: "p"}}},
		Doses:       question().Doses,
	}
	return Batch(b), b
}

func FuzzReviewResponse(f *testing.F) {
	good := &additivev1.ReviewResponse{Findings: []*additivev1.Finding{{
		Code: "clays/too-much", Severity: "caution", SubjectIds: []string{"a", "p"}, Text: "t", Basis: "estimate", Source: "s",
		Numbers: map[string]float64{"of_fats_pct": 4},
		Remedies: []*additivev1.Suggestion{
			{Text: "less", Change: &additivev1.Suggestion_SetDoseOfFatsPct{SetDoseOfFatsPct: 2}},
			{Text: "more water", Change: &additivev1.Suggestion_AddWaterG{AddWaterG: 20}},
			{Text: "weaker", Change: &additivev1.Suggestion_SetLyeConcentrationPct{SetLyeConcentrationPct: 30}},
			{Text: "no gel", Change: &additivev1.Suggestion_GelIntent{GelIntent: "avoid"}},
		},
	}}}
	add(f, good)
	q, b := reviewed()
	granted := []engine.Grant{engine.GrantFindings}
	if err := CheckFindings(q, good, "clays", granted); err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, bytes, tape []byte) {
		m := &additivev1.ReviewResponse{}
		if !read(m, bytes, tape) {
			return
		}
		if err := CheckFindings(q, m, "clays", granted); err != nil {
			told(t, err)
			return
		}
		for _, x := range Findings(m, b) {
			if x.Severity < engine.Note || x.Severity > engine.Danger || x.Text == "" || x.Evidence.Source == "" {
				t.Errorf("accepted %+v", x)
			}
			for _, n := range x.Numbers {
				if !finite(n.Value) || n.Unit == "" {
					t.Errorf("accepted %+v", n)
				}
			}
			for _, r := range x.Remedies {
				if r.Text == "" {
					t.Errorf("accepted %+v", r)
				}
			}
		}
	})
}
