package host

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"lixivium.example/engine"
	"lixivium.example/server/host/wire"
)

func key(i int) wire.Key { return wire.Key{byte(i), byte(i >> 8), byte(i >> 16)} }

// An answer outside the contract is a failure, never a figure, and too many
// put the plugin out of service.
func TestBrokenContract(t *testing.T) {
	h := started(t, Config{MaxStrikes: 1000}, build(t, script{}))
	for dose, want := range map[string]string{
		"nan": "heat is NaN", "infinite": "water bound is +Inf", "bounds": "water brought is 1.01",
		"alkali": `needs the grant "alkali"`, "density": "density is 0", "band": "rises",
		"stage": `no stage "later"`, "basis": `no basis "hearsay"`, "control": "control characters",
		"wrongid": "was not asked about", "twice": "2 answers for 1 doses", "nothing": "0 answers for 1 doses",
		"fat": "no catalog id", "big": "larger than max", "status": "PermissionDenied",
	} {
		f := fails(t, h, ReasonBroken, dose+"-1")
		if !strings.Contains(f.Text, want) {
			t.Errorf("%s is told as %q, want %q", dose, f.Text, want)
		}
		if strings.Contains(f.Text, "\x1b") {
			t.Errorf("%s: control characters reach the operator", dose)
		}
	}
	answers(t, h, "a")

	few := started(t, Config{MaxStrikes: 3}, build(t, script{}))
	for range 3 {
		fails(t, few, ReasonBroken, "nan-1")
	}
	fails(t, few, ReasonQuarantined, "a")
}

// One owner's trouble does not hide another's answer.
func TestOthersAnswerBesideAFailure(t *testing.T) {
	h := started(t, Config{}, build(t, script{}), build(t, script{Name: "salts", Owns: []string{"salt"}}))
	q := about("nan-1", "a")
	q.Doses[1].Additive = "salt"
	a, err := h.Adjust(within(t, 5*time.Second), q)
	if err != nil || len(a.Failures) != 1 || len(a.Adjustments) != 1 || a.Adjustments[0].DoseID != "a" {
		t.Fatalf("got %+v, %v", a, err)
	}
	if f := a.Failures[0]; f.Plugin != "clays" || fmt.Sprint(f.Grants) != "[water trace heat findings]" {
		t.Errorf("the failure is %+v", f)
	}
}

func TestRejectionIsAnAnswer(t *testing.T) {
	h := started(t, Config{}, build(t, script{}))
	a, err := h.Adjust(within(t, 5*time.Second), about("reject-1"))
	want := engine.Rejection{DoseID: "reject-1", Field: "parameters.strength_pct", Reason: "PARAMETER", Text: "Not like this."}
	if err != nil || len(a.Failures)+len(a.Adjustments) > 0 || len(a.Rejections) != 1 || a.Rejections[0] != want {
		t.Errorf("got %+v, %v", a, err)
	}
}

func TestWatchersAreAsked(t *testing.T) {
	h := newHost(t, Config{}, build(t, script{}), build(t, script{Name: "oils", Watches: []string{"olive-oil", "hemp-oil"}, Owns: []string{}}))
	a, err := h.Adjust(within(t, 5*time.Second), about("a"))
	if err != nil || len(a.FatFactors) != 1 || a.FatFactors[0].Fat != "olive-oil" {
		t.Errorf("got %+v, %v", a, err)
	}
	q := about("a")
	q.FatPct = map[string]float64{"coconut-oil": 100}
	a, err = h.Adjust(within(t, 5*time.Second), q)
	if err != nil || len(a.FatFactors) != 0 || right(a, "a") != "" {
		t.Errorf("without its fats: %+v, %v", a, err)
	}
}

// An additive has one owner.
func TestTwoOwners(t *testing.T) {
	one := Line{Name: "clays", File: "/clays", Additives: []string{"kaolin", "bentonite"}}
	two := Line{Name: "muds", File: "/muds", Additives: []string{"kaolin"}}
	_, err := New(Config{Plugins: []Line{two, one}})
	if err == nil || !strings.Contains(err.Error(), `"kaolin" is accepted for "clays" and for "muds"`) {
		t.Errorf("got %v", err)
	}
	h, err := New(Config{Plugins: []Line{two, one}, Owners: map[string]string{"kaolin": "muds"}})
	if err != nil || h.owner["kaolin"].line.Name != "muds" || h.owner["bentonite"].line.Name != "clays" {
		t.Errorf("with an owner named: %v", err)
	}
	for _, owners := range []map[string]string{{"kaolin": "salts"}, {"kaolin": "clays", "salt": "clays"}} {
		if _, err := New(Config{Plugins: []Line{one}, Owners: owners}); err == nil {
			t.Errorf("the owners %v were taken", owners)
		}
	}
}

func TestBadLines(t *testing.T) {
	good := Line{Name: "clays", File: "/clays", SHA256: strings.Repeat("ab", 32), Grants: []engine.Grant{"water"}, Additives: []string{"kaolin"}}
	if _, err := New(Config{Plugins: []Line{good}}); err != nil {
		t.Fatal(err)
	}
	for want, spoil := range map[string]func(*Line){
		"lower case":       func(l *Line) { l.Name = "Clays" },
		"absolute":         func(l *Line) { l.File = "clays" },
		"64 hexadecimal":   func(l *Line) { l.SHA256 = "abc" },
		"scheme":           func(l *Line) { l.SHA256 = "md5:" + l.SHA256 },
		`no grant "lye"`:   func(l *Line) { l.Grants = []engine.Grant{"lye"} },
		`"China Clay"`:     func(l *Line) { l.Additives = []string{"China Clay"} },
		`is no id: ids ar`: func(l *Line) { l.WatchesFats = []string{""} },
	} {
		bad := good
		spoil(&bad)
		if _, err := New(Config{Plugins: []Line{bad}}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got %v, want %q", err, want)
		}
	}
	if _, err := New(Config{Plugins: []Line{good, good}}); err == nil {
		t.Error("a name was taken twice")
	}
}

func batchOf(ids ...string) *engine.ReviewBatch {
	b := &engine.ReviewBatch{Formulation: &engine.Formulation{Fats: []engine.FatAnswer{{FatID: "olive-oil", MassG: 500}}, Portions: []engine.PortionAnswer{{}}}}
	b.Doses = append(b.Doses, about(ids...).Doses...)
	return b
}

func TestReview(t *testing.T) {
	h := started(t, Config{MaxStrikes: 1000}, build(t, script{}), build(t, script{Name: "salts", Owns: []string{"salt"}, Wants: []string{"water"}}))
	b := batchOf("a", "own", "brine")
	b.Doses[1].Additive, b.Doses[2].Additive = "", "salt"
	for range 3 {
		a, err := h.Review(within(t, 5*time.Second), b)
		if err != nil || len(a.Failures) > 0 || len(a.Findings) != 1 {
			t.Fatalf("got %+v, %v", a, err)
		}
		f := a.Findings[0]
		if f.Code != "clays/plenty" || f.Severity != engine.Note || f.Numbers[0] != (engine.Figure{Name: "dose_pct", Value: 2, Unit: "percent"}) {
			t.Errorf("the finding is %+v", f)
		}
		if d := f.Remedies[0].Dose; d == nil || d.ID != "a" || d.OfFatsPct.Or(0) != 1 {
			t.Errorf("the remedy is %+v", f.Remedies[0])
		}
		// Whoever scribbles on an answer spoils no other's.
		f.Remedies[0].Dose.Parameters["strength_pct"] = 9
		f.Subjects[0] = "x"
	}
	if p := health(h); p.Calls != 1 || p.Remembered != 2 {
		t.Errorf("health is %+v, want one call and two answers from memory", p)
	}
	for dose, want := range map[string]string{
		"reviewcode": "the plugin's name", "reviewsubject": `"stranger" is no dose`, "reviewnan": "NaN",
		"reviewseverity": `no severity "doom"`, "reviewdose": "a suggested dose is 900",
	} {
		a, err := h.Review(within(t, 5*time.Second), batchOf(dose+"-1"))
		if err != nil || len(a.Findings) > 0 || len(a.Failures) != 1 || a.Failures[0].Reason != ReasonBroken || !strings.Contains(a.Failures[0].Text, want) {
			t.Errorf("%s: got %+v, %v", dose, a, err)
		}
	}
	a, err := h.Review(within(t, 5*time.Second), batchOf("reviewpanic-1"))
	if err != nil || len(a.Failures) != 1 || a.Failures[0].Reason != ReasonPoison {
		t.Errorf("got %+v, %v", a, err)
	}
}

// A caller who left is told so; nothing is made up for them.
func TestCanceledCaller(t *testing.T) {
	h := started(t, Config{}, build(t, script{}))
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if a, err := h.Adjust(ctx, about("hold-9")); err == nil {
		t.Errorf("got %+v", a)
	}
}
