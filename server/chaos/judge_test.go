//go:build chaos

package chaos_test

import (
	"bytes"
	"context"
	"fmt"
	"reflect"
	"slices"
	"sync"

	"google.golang.org/grpc/codes"
	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	"lixivium.example/engine"
	"lixivium.example/plugins/acids"
	"lixivium.example/plugins/clays"
	"lixivium.example/plugins/lactate"
	"lixivium.example/plugins/pigments"
	"lixivium.example/plugins/sdk/inprocess"
	"lixivium.example/plugins/sugars"
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
	"lixivium.example/server/app"
	"lixivium.example/server/host"
)

// judge knows what every question must be answered with.
type judge struct {
	set  *inprocess.Set
	twin app.Service

	mu      sync.Mutex
	digests map[string]string // of each plugin, as its first answer told it
}

func newJudge() (*judge, error) {
	set, err := inprocess.New(acids.Plugin(), clays.Plugin(), lactate.Plugin(), pigments.Plugin(), sugars.Plugin(), hostile(honest))
	if err != nil {
		return nil, err
	}
	twin, err := app.New(app.Options{Additives: set})
	return &judge{set: set, twin: twin, digests: map[string]string{}}, err
}

// verdict is what became of a call.
type verdict struct {
	kind  string // of those below
	wrong string // what is wrong, for people; empty: nothing is
}

// The kinds of verdicts beside refusals, which are named by code and reason.
const (
	answered    = "answered"
	inPart      = "answered in part"
	refusedBoth = "refused as the twin refuses"
	unreachable = "UNAVAILABLE, server down"
)

// outages are the reasons for which any plugin may not answer. The others only
// the hostile one may give.
var outages = []string{
	host.ReasonCrashed, host.ReasonTimeout, host.ReasonDown, host.ReasonQuarantined, host.ReasonRefused, host.ReasonMemory, "ADDITIVE_OWNER_MISSING",
}

// judge compares an answer with the twin's. Down tells that the server was down
// for some part of the call.
func (j *judge) judge(ctx context.Context, q question, got proto.Message, gotErr error, down bool) verdict {
	if gotErr != nil {
		return j.refusal(ctx, q, gotErr, down)
	}
	if changed := j.takeDigests(got.ProtoReflect()); changed != "" {
		return verdict{answered, changed}
	}
	want, wantErr := q.put(ctx, j.twin)
	if missing := missingPlugins(got); q.partial && len(missing) > 0 {
		return j.part(ctx, q, got, missing)
	}
	switch {
	case wantErr != nil:
		return verdict{answered, fmt.Sprintf("it was answered and must be refused: %v", wantErr)}
	case !sameBits(got, want):
		return verdict{answered, difference(got, want)}
	}
	return verdict{answered, ""}
}

func (j *judge) refusal(ctx context.Context, q question, err error, down bool) verdict {
	r := app.ReadRefusal(err)
	v := verdict{kind: r.Code.String() + " " + r.Reason}
	switch {
	case r.Code == codes.InvalidArgument, r.Code == codes.FailedPrecondition:
		want, wantErr := q.put(ctx, j.twin)
		if wantErr == nil || !reflect.DeepEqual(r, app.ReadRefusal(wantErr)) {
			v.wrong = fmt.Sprintf("refused with %v; the twin says %v, %v", err, wantErr, brief(want))
			return v
		}
		return verdict{refusedBoth, ""}
	case r.Reason == "" && down && (r.Code == codes.Unavailable || r.Code == codes.Canceled):
		return verdict{unreachable, ""}
	case r.Code == codes.Unavailable && slices.Contains(outages, r.Reason):
	case r.Reason == host.ReasonBroken && r.Code == codes.Unavailable, r.Reason == host.ReasonPoison && r.Code == codes.Internal:
		if r.Metadata["plugin"] != "hostile" {
			v.wrong = fmt.Sprintf("an honest plugin is blamed: %v %v", err, r.Metadata)
		}
	case r.Code == codes.DeadlineExceeded && r.Reason == "DEADLINE_EXCEEDED":
	default:
		v.wrong = fmt.Sprintf("no clean refusal: %v", err)
	}
	return v
}

// part judges an answer without some plugins: each failed when it was asked about
// its doses, or only when it looked at the batch.
func (j *judge) part(ctx context.Context, q question, got proto.Message, missing []string) verdict {
	var told string
	for which := range 1 << len(missing) {
		l := lame{Set: j.set}
		for i, name := range missing {
			if which>>i&1 == 0 {
				l.atAll = append(l.atAll, name)
			} else {
				l.inReview = append(l.inReview, name)
			}
		}
		twin, err := app.New(app.Options{Additives: l})
		if err != nil {
			return verdict{inPart, err.Error()}
		}
		want, err := q.put(ctx, twin)
		if err == nil && sameBits(got, want) {
			return verdict{inPart, ""}
		}
		told += fmt.Sprintf("\nwith %q failing and %q in review: %v, %s", l.atAll, l.inReview, err, difference(got, want))
	}
	return verdict{inPart, told}
}

func missingPlugins(m proto.Message) []string {
	if f, ok := m.(*lixiviumv1.FormulateResponse); ok {
		return f.GetFormulation().GetMissingPlugins()
	}
	return nil
}

// lame is the set with some plugins failing at all questions, some in review alone.
type lame struct {
	*inprocess.Set
	atAll, inReview []string
}

func (l lame) fail(failing []string, doses []engine.DoseView) (failures []engine.Failure, rest []engine.DoseView) {
	at := map[string]int{}
	for _, d := range doses {
		info, _ := l.Owner(d.Additive)
		if !slices.Contains(failing, info.Plugin.Name) {
			rest = append(rest, d)
			continue
		}
		i, known := at[info.Plugin.Name]
		if !known {
			i = len(failures)
			at[info.Plugin.Name] = i
			failures = append(failures, engine.Failure{Plugin: info.Plugin.Name, Grants: info.Grants, Reason: host.ReasonDown})
		}
		failures[i].DoseIDs = append(failures[i].DoseIDs, d.ID)
	}
	slices.SortFunc(failures, func(a, b engine.Failure) int { return bytes.Compare([]byte(a.Plugin), []byte(b.Plugin)) })
	return failures, rest
}

func (l lame) Adjust(ctx context.Context, q *engine.AdjustQuestion) (*engine.AdjustAnswer, error) {
	asked := *q
	failures, rest := l.fail(l.atAll, q.Doses)
	asked.Doses = rest
	a, err := l.Set.Adjust(ctx, &asked)
	a.Failures = append(a.Failures, failures...)
	return a, err
}

func (l lame) Review(ctx context.Context, b *engine.ReviewBatch) (*engine.ReviewAnswer, error) {
	a, err := l.Set.Review(ctx, b)
	failing := slices.Concat(l.atAll, l.inReview)
	failures, _ := l.fail(failing, b.Doses)
	a.Failures = append(a.Failures, failures...)
	a.Findings = slices.DeleteFunc(a.Findings, func(f engine.Finding) bool {
		return slices.ContainsFunc(failing, func(name string) bool { return len(f.Code) > len(name) && f.Code[:len(name)+1] == name+"/" })
	})
	return a, err
}

// takeDigests takes the digests of plugins out of an answer, which rules in this
// process do not have. Each plugin must show one and the same for ever: another
// would mean that a file ran which nobody accepted.
func (j *judge) takeDigests(m protoreflect.Message) (changed string) {
	if o, ok := m.Interface().(*lixiviumv1.PluginOrigin); ok {
		j.mu.Lock()
		defer j.mu.Unlock()
		known := j.digests[o.GetName()]
		if o.GetDigest() == "" || known != "" && known != o.GetDigest() {
			changed = fmt.Sprintf("plugin %s had the digest %q and now has %q", o.GetName(), known, o.GetDigest())
		}
		j.digests[o.GetName()] = o.GetDigest()
		o.Digest = ""
		return changed
	}
	m.Range(func(f protoreflect.FieldDescriptor, v protoreflect.Value) bool {
		switch {
		case f.Kind() != protoreflect.MessageKind || f.IsMap():
		case f.IsList():
			for i := range v.List().Len() {
				changed += j.takeDigests(v.List().Get(i).Message())
			}
		default:
			changed += j.takeDigests(v.Message())
		}
		return true
	})
	return changed
}

// sameBits compares encodings: unlike figures, they tell 0 from -0.
func sameBits(a, b proto.Message) bool {
	bits := proto.MarshalOptions{Deterministic: true}
	x, errX := bits.Marshal(a)
	y, errY := bits.Marshal(b)
	return errX == nil && errY == nil && bytes.Equal(x, y)
}

func difference(got, want proto.Message) string {
	x, y := brief(got), brief(want)
	from := 0
	for from < len(x) && from < len(y) && x[from] == y[from] {
		from++
	}
	from = max(0, from-60)
	return fmt.Sprintf("got ...%s\nwant ...%s", x[min(from, len(x)):min(from+300, len(x))], y[min(from, len(y)):min(from+300, len(y))])
}

func brief(m proto.Message) string {
	if m == nil || !m.ProtoReflect().IsValid() {
		return "nothing"
	}
	text, _ := protojson.Marshal(m)
	return string(text)
}
