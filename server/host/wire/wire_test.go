package wire

import (
	"math"
	"slices"
	"strings"
	"testing"

	"google.golang.org/protobuf/proto"

	"lixivium.example/engine"
	additivev1 "lixivium.example/proto/lixivium/additive/v1"
)

func manifest() *additivev1.DescribeResponse {
	return &additivev1.DescribeResponse{
		Name: "clays", Version: "1", GrantsWanted: []string{"water"}, WatchesFats: []string{"palm-oil", "olive-oil"},
		Owns: []*additivev1.AdditiveInfo{{
			Id: "kaolin", Name: "Kaolin", UsualStage: "trace", LowOfFatsPct: 1, HighOfFatsPct: 3,
			Parameters: []*additivev1.ParameterInfo{{Name: "wet_pct", Unit: "percent", Max: 10, DefaultValue: 2}},
		}},
	}
}

func TestReadManifest(t *testing.T) {
	m, err := ReadManifest(manifest())
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(m.WatchesFats, []string{"olive-oil", "palm-oil"}) || m.Owns[0].UsualStage != engine.StageTrace || m.Owns[0].Parameters[0].Default != 2 {
		t.Errorf("got %+v", m)
	}
	for want, spoil := range map[string]func(*additivev1.DescribeResponse){
		"lower case with hyphens": func(m *additivev1.DescribeResponse) { m.Name = "Clays" },
		"version is missing":      func(m *additivev1.DescribeResponse) { m.Version = "" },
		"control characters":      func(m *additivev1.DescribeResponse) { m.Version = "1\x1b" },
		"no grant":                func(m *additivev1.DescribeResponse) { m.GrantsWanted = []string{"lye"} },
		"wanted twice":            func(m *additivev1.DescribeResponse) { m.GrantsWanted = []string{"water", "water"} },
		"owned twice":             func(m *additivev1.DescribeResponse) { m.Owns = append(m.Owns, m.Owns[0]) },
		"watched twice":           func(m *additivev1.DescribeResponse) { m.WatchesFats = []string{"a", "a"} },
		"owns no additive":        func(m *additivev1.DescribeResponse) { m.Owns, m.WatchesFats = nil, nil },
		"no stage":                func(m *additivev1.DescribeResponse) { m.Owns[0].UsualStage = "" },
		"usual dose":              func(m *additivev1.DescribeResponse) { m.Owns[0].LowOfFatsPct = math.NaN() },
		"teaspoon":                func(m *additivev1.DescribeResponse) { m.Owns[0].GPerTeaspoonUs = -1 },
		"defaults to 11":          func(m *additivev1.DescribeResponse) { m.Owns[0].Parameters[0].DefaultValue = 11 },
		"it is -Inf to":           func(m *additivev1.DescribeResponse) { m.Owns[0].Parameters[0].Min = math.Inf(-1) },
		"unit is missing":         func(m *additivev1.DescribeResponse) { m.Owns[0].Parameters[0].Unit = "" },
		"501 additives":           func(m *additivev1.DescribeResponse) { m.Owns = make([]*additivev1.AdditiveInfo, 501) },
	} {
		m := manifest()
		spoil(m)
		if _, err := ReadManifest(m); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got %v, want %q", err, want)
		}
	}
}

func question() *engine.AdjustQuestion {
	return &engine.AdjustQuestion{
		Conditions: engine.Conditions{FatsC: engine.Some(0), Gel: engine.GelForce},
		FatPct:     map[string]float64{"olive-oil": 60, "palm-oil": 40},
		Doses: []engine.DoseView{
			{ID: "a", Additive: "kaolin", OfFatsPct: 2, OfPortionFatsPct: 4, PortionID: "p", Stage: engine.StageTrace, Parameters: map[string]float64{"x_pct": 1, "y_pct": 2, "z_pct": 3}},
			{ID: "b", Additive: "kaolin", OfFatsPct: 2, CarrierKind: "water", CarrierGPerG: 1},
		},
	}
}

// Equal questions share a key, whatever order a map is walked in; questions
// that differ anywhere do not.
func TestQuestionKey(t *testing.T) {
	all, watched := []int{0, 1}, []string{"olive-oil"}
	want := QuestionKey(question(), all, watched)
	for range 50 {
		if QuestionKey(question(), all, watched) != want {
			t.Fatal("the same question has two keys")
		}
	}
	other := question()
	other.FatPct["palm-oil"] = 1 // nobody watches it
	if QuestionKey(other, all, watched) != want {
		t.Error("a fat that is not watched changes the key")
	}
	seen := map[Key]int{want: -1}
	for i, change := range []func(*engine.AdjustQuestion){
		func(q *engine.AdjustQuestion) { q.Conditions.FatsC = engine.Optional{} },
		func(q *engine.AdjustQuestion) { q.Conditions.LyeC = engine.Some(0) },
		func(q *engine.AdjustQuestion) { q.Conditions.Gel = engine.GelAvoid },
		func(q *engine.AdjustQuestion) { q.Conditions.KOHOfMolesPct = 1 },
		func(q *engine.AdjustQuestion) { q.FatPct["olive-oil"] = 61 },
		func(q *engine.AdjustQuestion) { delete(q.FatPct, "olive-oil") },
		func(q *engine.AdjustQuestion) { q.Doses[0].ID, q.Doses[1].ID = "b", "a" },
		func(q *engine.AdjustQuestion) { q.Doses[0].ID, q.Doses[0].Additive = "ak", "aolin" },
		func(q *engine.AdjustQuestion) { q.Doses[0].OfFatsPct = math.Nextafter(2, 3) },
		func(q *engine.AdjustQuestion) { q.Doses[0].OfPortionFatsPct = 5 },
		func(q *engine.AdjustQuestion) { q.Doses[0].PortionID = "" },
		func(q *engine.AdjustQuestion) { q.Doses[0].Stage = engine.StageFats },
		func(q *engine.AdjustQuestion) { q.Doses[0].Parameters["x_pct"] = 2 },
		func(q *engine.AdjustQuestion) {
			q.Doses[0].Parameters["x_pct"], q.Doses[0].Parameters["y_pct"] = 2, 1
		},
		func(q *engine.AdjustQuestion) { delete(q.Doses[0].Parameters, "z_pct") },
		func(q *engine.AdjustQuestion) { q.Doses[1].CarrierKind = "other" },
		func(q *engine.AdjustQuestion) { q.Doses[1].CarrierGPerG = 2 },
	} {
		q := question()
		change(q)
		k := QuestionKey(q, all, watched)
		if before, ok := seen[k]; ok {
			t.Errorf("changes %d and %d have one key", i, before)
		}
		seen[k] = i
	}
}

// A question outlives the caller, so it shares no memory with what the caller
// may change.
func TestQuestionIsACopy(t *testing.T) {
	q := question()
	m := Question(q, []int{0}, []string{"olive-oil"})
	before := proto.Clone(m)
	q.Doses[0].Parameters["x_pct"], q.FatPct["olive-oil"] = 99, 99
	if !proto.Equal(m, before) {
		t.Error("the message changed with the question")
	}
	if len(m.GetDoses()) != 1 || len(m.GetWatchedFatPct()) != 1 || m.GetConditions().FatsC == nil || m.GetConditions().LyeC != nil || m.GetConditions().GetGelIntent() != "force" {
		t.Errorf("the message is %v", m)
	}
}

func TestAnswerOrderDoesNotMatter(t *testing.T) {
	q := Question(question(), []int{0, 1}, []string{"olive-oil", "palm-oil"})
	one := func(id string) *additivev1.Adjustment {
		return &additivev1.Adjustment{DoseId: id, DensityGPerMl: 1, Basis: "derived", Source: "s"}
	}
	fat := func(id string) *additivev1.FatFactor {
		return &additivev1.FatFactor{Fat: id, Basis: "derived", Source: "s"}
	}
	a, err := ReadAnswer(q, &additivev1.AdjustResponse{
		Adjustments: []*additivev1.Adjustment{one("b"), one("a")}, FatFactors: []*additivev1.FatFactor{fat("palm-oil"), fat("olive-oil")},
	}, nil)
	if err != nil || a.Adjustments[0].DoseID != "a" || a.FatFactors[0].Fat != "olive-oil" {
		t.Errorf("got %+v, %v", a, err)
	}
}
