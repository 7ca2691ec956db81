//go:build chaos

package chaos_test

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"google.golang.org/genproto/googleapis/rpc/errdetails"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/proto"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
	"lixivium.example/server/app"
)

// dosed is a question whose answer depends on the hostile plugin.
func dosed(partial bool) question {
	q := &lixiviumv1.FormulateRequest{AllowIncomplete: partial, Recipe: &lixiviumv1.Recipe{
		Fats:   []*lixiviumv1.FatLine{{Id: "oil", Kind: &lixiviumv1.FatLine_Fat{Fat: "olive-oil"}, Amount: &lixiviumv1.FatLine_Mass{Mass: grams(1000)}}},
		Alkali: &lixiviumv1.Alkali{Amount: &lixiviumv1.Alkali_SuperfatPct{SuperfatPct: 5}},
		Water:  &lixiviumv1.Water{Ask: &lixiviumv1.Water_Measure{Measure: &lixiviumv1.WaterMeasure{Measure: &lixiviumv1.WaterMeasure_LyeConcentrationPct{LyeConcentrationPct: 33}}}},
		Doses: []*lixiviumv1.Dose{
			{Id: "dose", Kind: &lixiviumv1.Dose_Additive{Additive: "hostile-powder"}, Amount: &lixiviumv1.Dose_OfFatsPct{OfFatsPct: 1}},
			{Id: "clay", Kind: &lixiviumv1.Dose_Additive{Additive: "kaolin"}, Amount: &lixiviumv1.Dose_OfFatsPct{OfFatsPct: 1}},
		},
	}}
	return asking("Formulate", q, partial, app.Service.Formulate)
}

// signed gives an answer the digests that a real server's have.
func signed(m proto.Message, digest string) *lixiviumv1.FormulateResponse {
	r := proto.Clone(m).(*lixiviumv1.FormulateResponse)
	for _, p := range r.GetFormulation().GetOrigin().GetPlugins() {
		p.Digest = digest
	}
	return r
}

// The judge catches an answer of which one bit is another, and every refusal that
// is not clean.
func TestTheJudgeCatchesTampering(t *testing.T) {
	j, err := newJudge()
	must(t, err)
	ctx, q := t.Context(), dosed(false)
	right, err := q.put(ctx, j.twin)
	must(t, err)
	if v := j.judge(ctx, q, signed(right, "sha256:one"), nil, false); v.kind != answered || v.wrong != "" {
		t.Fatalf("the right answer: %+v", v)
	}
	for what, tamper := range map[string]func(*lixiviumv1.Formulation){
		"the last bit of the alkali": func(f *lixiviumv1.Formulation) { f.Alkali.NaohG *= 1 + 0x1p-52 },
		"a finding left out":         func(f *lixiviumv1.Formulation) { f.Findings = f.Findings[1:] },
		"a finding's severity":       func(f *lixiviumv1.Formulation) { f.Findings[0].Severity = 99 },
		"a caution left out":         func(f *lixiviumv1.Formulation) { f.Safety = f.Safety[1:] },
		"another plugin's digest":    func(f *lixiviumv1.Formulation) { f.Origin.Plugins[0].Digest = "sha256:two" },
		"no digest":                  func(f *lixiviumv1.Formulation) { f.Origin.Plugins[0].Digest = "" },
		"a plugin said to be absent": func(f *lixiviumv1.Formulation) { f.MissingPlugins = []string{"clays"} },
	} {
		fresh := &judge{set: j.set, twin: j.twin, digests: map[string]string{"hostile": "sha256:one"}}
		r := signed(right, "sha256:one")
		tamper(r.Formulation)
		if v := fresh.judge(ctx, q, r, nil, false); v.wrong == "" {
			t.Errorf("%s is not seen", what)
		}
	}
	refusal := func(code codes.Code, reason, plugin string) error {
		s, err := status.New(code, "no").WithDetails(&errdetails.ErrorInfo{Reason: reason, Domain: "lixivium.example", Metadata: map[string]string{"plugin": plugin}})
		must(t, err)
		return s.Err()
	}
	for what, c := range map[string]struct {
		err   error
		down  bool
		clean bool
	}{
		"a plugin that is down":             {refusal(codes.Unavailable, "PLUGIN_DOWN", "clays"), false, true},
		"a connection while the server is":  {status.Error(codes.Unavailable, "connection refused"), true, true},
		"a connection while it is not":      {status.Error(codes.Unavailable, "connection refused"), false, false},
		"a caller that waited in vain":      {status.Error(codes.DeadlineExceeded, "context deadline exceeded"), true, false},
		"a fault of the server":             {refusal(codes.Internal, "INTERNAL", ""), true, false},
		"a reason nobody knows":             {refusal(codes.Unavailable, "BAD_WEATHER", "clays"), true, false},
		"the hostile plugin's poison":       {refusal(codes.Internal, "POISON_QUESTION", "hostile"), false, true},
		"an honest plugin's poison":         {refusal(codes.Internal, "POISON_QUESTION", "clays"), false, false},
		"an honest plugin's broken promise": {refusal(codes.Unavailable, "CONTRACT_BROKEN", "clays"), false, false},
		"a fault found in a good recipe":    {refusal(codes.InvalidArgument, "INVALID_REQUEST", ""), false, false},
	} {
		if v := j.judge(ctx, q, nil, c.err, c.down); (v.wrong == "") != c.clean {
			t.Errorf("%s: %+v", what, v)
		}
	}
}

// What is answered without some plugins is judged by the same measure.
func TestTheJudgeReadsPartialAnswers(t *testing.T) {
	j, err := newJudge()
	must(t, err)
	ctx, q := t.Context(), dosed(true)
	for _, l := range []lame{{atAll: []string{"hostile"}}, {inReview: []string{"hostile"}}, {atAll: []string{"hostile"}, inReview: []string{"clays"}}} {
		l.Set = j.set
		twin, err := app.New(app.Options{Additives: l})
		must(t, err)
		got, err := q.put(ctx, twin)
		must(t, err)
		if v := j.judge(ctx, q, signed(got, "sha256:one"), nil, false); v.kind != inPart || v.wrong != "" {
			t.Errorf("%q failing and %q in review: %+v", l.atAll, l.inReview, v)
		}
		r := signed(got, "sha256:one")
		r.Formulation.Alkali.NaohG *= 1 + 0x1p-52
		if v := j.judge(ctx, q, r, nil, false); v.wrong == "" {
			t.Errorf("%q failing and %q in review: one bit more of alkali is not seen", l.atAll, l.inReview)
		}
	}
}

// The search for leaks finds a process, orphaned or not, a file and a goroutine
// that were left.
func TestTheSearchForLeaksFinds(t *testing.T) {
	folder := t.TempDir()
	w := &world{t: t, folder: folder, run: filepath.Join(folder, "run"), orders: filepath.Join(folder, "orders")}
	for _, f := range []string{w.run, w.orders} {
		must(t, os.MkdirAll(f, 0o700))
	}
	if left := w.left(); len(left) != 0 {
		t.Fatalf("found %q where nothing is", left)
	}
	// Its parent ends at once, and it is in a session of its own.
	orphan, err := exec.Command("/bin/sh", "-c", "setsid sleep 60 >/dev/null 2>&1 & echo").CombinedOutput()
	if err != nil {
		t.Fatalf("%v %s", err, orphan)
	}
	found := descendants(os.Getpid())
	for end := time.Now().Add(5 * time.Second); time.Now().Before(end) && (len(found) != 1 || found[0].name != "sleep"); found = descendants(os.Getpid()) {
		time.Sleep(5 * time.Millisecond)
	}
	if left := w.left(); len(left) != 1 || !strings.HasSuffix(left[0], " sleep") {
		t.Fatalf("an orphan is found as %q", left)
	}
	must(t, errors.Join(killOf(found)...))
	for end := time.Now().Add(5 * time.Second); time.Now().Before(end) && len(w.left()) > 0; {
		time.Sleep(5 * time.Millisecond)
	}
	must(t, os.WriteFile(filepath.Join(w.run, "copy123"), nil, 0o600))
	must(t, os.WriteFile(filepath.Join(w.orders, takenPrefix+"eat-1"), nil, 0o600))
	if left := w.left(); len(left) != 2 {
		t.Errorf("two files are found as %q", left)
	}
	before := map[string]int{"a.b": 2, "c.d": 1}
	if grown := more(before, map[string]int{"a.b": 2, "c.d": 2, "e.f": 1}); !slices.Equal(grown, []string{"c.d: 2, before 1", "e.f: 1, before 0"}) {
		t.Errorf("two goroutines too many are found as %q", grown)
	}
}

func killOf(list []process) (out []error) {
	for _, p := range list {
		f, err := os.FindProcess(p.pid)
		if err == nil {
			err = f.Kill()
		}
		out = append(out, err)
	}
	return out
}

// A harm that was never done is told.
func TestTheTallyMissesHarms(t *testing.T) {
	c := newTally()
	for _, h := range allHarms[1:] {
		c.harm(h)
	}
	if left := c.notDone(); !slices.Equal(left, []string{string(allHarms[0])}) {
		t.Errorf("got %q", left)
	}
	c.call(dosed(false), verdict{answered, "one bit"})
	if c.wrongs != 1 || len(c.wrong) != 1 || c.count(answered) != 0 {
		t.Errorf("a wrong answer is counted as %+v", c)
	}
}
