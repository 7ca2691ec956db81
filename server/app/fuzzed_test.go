package app_test

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/rs/zerolog"
	"google.golang.org/grpc/codes"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	"lixivium.example/engine"
	"lixivium.example/plugins/acids"
	"lixivium.example/plugins/clays"
	"lixivium.example/plugins/lactate"
	"lixivium.example/plugins/pigments"
	"lixivium.example/plugins/sdk/inprocess"
	"lixivium.example/plugins/sugars"
	"lixivium.example/proto/mutate"
	"lixivium.example/server/app"
	"lixivium.example/server/host"
	"lixivium.example/server/translate"
)

// maxFuzzedBytes keeps single inputs quick. Large requests are the business of
// the table of bad input and of the benchmarks.
const maxFuzzedBytes = 16 << 10

// fuzzCall puts requests to the service in this process, all five plugins
// included, as a client may send them: the encoded message, changed by the
// fuzzer as bytes, and then by a tape of edits (see package mutate). Whatever
// comes, there is an answer without NaN and infinity that can be sent, or a
// refusal that says what is wrong and where.
func fuzzCall[Q, A proto.Message](f *testing.F, call func(app.Service, context.Context, Q) (A, error), seeds ...Q) {
	log := &bytes.Buffer{}
	service, err := app.New(app.Options{Plugins: rules(f), Logger: zerolog.New(log).Level(zerolog.ErrorLevel)})
	if err != nil {
		f.Fatal(err)
	}
	for i, q := range seeds {
		message, err := proto.Marshal(q)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(message, []byte{})
		f.Add(message, []byte(fmt.Sprintf("%[1]*[2]s%[1]c%[2]s", i+3, "tape")))
	}
	f.Fuzz(func(t *testing.T, message, tape []byte) {
		q := seeds[0].ProtoReflect().New().Interface().(Q)
		if len(message) > maxFuzzedBytes || proto.Unmarshal(message, q) != nil {
			return
		}
		mutate.Apply(q, tape, words)
		asked := encoded(t, q)
		log.Reset()
		answer, err := call(service, t.Context(), q)
		if !bytes.Equal(asked, encoded(t, q)) {
			t.Error("the request was changed")
		}
		if err != nil {
			for _, fault := range badRefusal(err, q.ProtoReflect().Descriptor()) {
				t.Errorf("%s\nin %v\n%s", fault, err, log)
			}
			return
		}
		for _, fault := range badAnswer(answer) {
			t.Error(fault)
		}
	})
}

// encoded gives a message as bytes that are equal where it is; a copy of a
// message would lose the sign of minus zero.
func encoded(t *testing.T, m proto.Message) []byte {
	raw, err := proto.MarshalOptions{Deterministic: true}.Marshal(m)
	if err != nil {
		t.Fatal(err)
	}
	return raw
}

// badRefusal says what is wrong with the error of a call. A plugin of ours that
// fails is wrong as well: nothing but its own rules ran.
func badRefusal(err error, request protoreflect.MessageDescriptor) []string {
	r := app.ReadRefusal(err)
	var faults []string
	unless := func(right bool, format string, args ...any) {
		if !right {
			faults = append(faults, fmt.Sprintf(format, args...))
		}
	}
	reasons := map[codes.Code][]string{
		codes.InvalidArgument: {translate.ReasonInvalidRequest},
		codes.FailedPrecondition: {
			engine.ImpossibleLyeTooStrong, engine.ImpossibleWater, engine.ImpossibleHeldBack, engine.ImpossibleRounding,
		},
		codes.Unavailable: {translate.ReasonOwnerMissing},
	}
	unless(slices.Contains(reasons[r.Code], r.Reason), "code %v with reason %q", r.Code, r.Reason)
	unless(speaks(r.Text), "the message is %q", r.Text)
	unless(r.Code != codes.InvalidArgument || len(r.Violations) > 0, "no violation is named")
	for _, v := range r.Violations {
		unless(speaks(v.Text), "%s: the text is %q", v.Path, v.Text)
		unless(v.Reason != "", "%s: no reason", v.Path)
		unless(v.Path != "" && isPath(request, v.Path), "%q is no path of %s", v.Path, request.Name())
		unless(!slices.Contains(v.Suggestions, ""), "%s: an empty suggestion", v.Path)
	}
	short := app.ReadRefusal(translate.Shortened(err))
	unless(short.Code == r.Code && short.Reason == r.Reason, "shortened, it is %v %s", short.Code, short.Reason)
	unless(len(short.Violations) <= len(r.Violations) && (len(r.Violations) == 0 || len(short.Violations) > 0), "shortened, %d violations are %d", len(r.Violations), len(short.Violations))
	return faults
}

// speaks tells whether a text says something, in characters that can be sent.
func speaks(s string) bool { return strings.TrimSpace(s) != "" && utf8.ValidString(s) }

// isPath tells whether a path names a field of a message: fields joined by
// points, an index behind a list, anything behind a map.
func isPath(d protoreflect.MessageDescriptor, path string) bool {
	for {
		step, rest, more := strings.Cut(path, ".")
		name, index, indexed := strings.Cut(step, "[")
		fd := d.Fields().ByName(protoreflect.Name(name))
		switch {
		case fd == nil || indexed && (!fd.IsList() || !strings.HasSuffix(index, "]")):
			return false
		case !more || fd.IsMap():
			return true
		case fd.Message() == nil || fd.IsList() && !indexed:
			return false
		}
		d, path = fd.Message(), rest
	}
}

// badAnswer says what is wrong with an answer.
func badAnswer(m proto.Message) []string {
	var faults []string
	if _, err := proto.Marshal(m); err != nil {
		faults = append(faults, "it cannot be sent: "+err.Error())
	}
	return append(faults, notFinite(m.ProtoReflect(), string(m.ProtoReflect().Descriptor().Name()))...)
}

// notFinite lists the numbers of a message that are none.
func notFinite(m protoreflect.Message, path string) []string {
	var faults []string
	value := func(fd protoreflect.FieldDescriptor, v protoreflect.Value, at string) {
		switch {
		case fd.Message() != nil:
			faults = append(faults, notFinite(v.Message(), at)...)
		case fd.Kind() == protoreflect.DoubleKind && (v.Float()-v.Float() != 0):
			faults = append(faults, fmt.Sprintf("%s is %v", at, v.Float()))
		}
	}
	m.Range(func(fd protoreflect.FieldDescriptor, v protoreflect.Value) bool {
		at := path + "." + string(fd.Name())
		switch {
		case fd.IsMap():
			v.Map().Range(func(k protoreflect.MapKey, v protoreflect.Value) bool {
				value(fd.MapValue(), v, at+"."+k.String())
				return true
			})
		case fd.IsList():
			for i := range v.List().Len() {
				value(fd, v.List().Get(i), fmt.Sprintf("%s[%d]", at, i))
			}
		default:
			value(fd, v, at)
		}
		return true
	})
	return faults
}

// inProcess are plugins that run here and are listed like those of a host.
type inProcess struct{ *inprocess.Set }

func (inProcess) StartAll(context.Context) error { return nil }
func (inProcess) Missing(string) error           { return nil }
func (inProcess) Health() []host.PluginHealth {
	return []host.PluginHealth{{Name: "clays", Version: "1", State: "ready"}}
}

func rules(t testing.TB) app.Plugins {
	set, err := inprocess.New(acids.Plugin(), clays.Plugin(), lactate.Plugin(), pigments.Plugin(), sugars.Plugin())
	if err != nil {
		t.Fatal(err)
	}
	return inProcess{set}
}
