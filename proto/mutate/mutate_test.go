package mutate_test

import (
	"math/rand/v2"
	"strings"
	"testing"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protopath"
	"google.golang.org/protobuf/reflect/protorange"
	"google.golang.org/protobuf/reflect/protoreflect"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
	"lixivium.example/proto/mutate"
)

func tape(r *rand.Rand) []byte {
	b := make([]byte, 200)
	for i := range b {
		b[i] = byte(r.Uint32())
	}
	return b
}

// TestEveryFieldIsReached: tapes set every field that a request can hold, from
// an empty one on, and a field that they do not reach would be found.
func TestEveryFieldIsReached(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	reached := map[protoreflect.FullName]bool{}
	m := &lixiviumv1.ScaleRequest{}
	for i := range 40_000 {
		if i%40 == 0 {
			m = &lixiviumv1.ScaleRequest{}
		}
		mutate.Apply(m, tape(r), []string{"olive-oil"})
		if proto.Size(m) > 1<<20 {
			t.Fatalf("%d bytes", proto.Size(m))
		}
		err := protorange.Range(m.ProtoReflect(), func(p protopath.Values) error {
			if step := p.Path.Index(-1); step.Kind() == protopath.FieldAccessStep {
				reached[step.FieldDescriptor().FullName()] = true
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	all := map[protoreflect.FullName]bool{}
	below(m.ProtoReflect().Descriptor(), all)
	if len(all) < 100 {
		t.Errorf("a request has %d fields", len(all))
	}
	for name := range all {
		if !reached[name] {
			t.Errorf("%s was never set", name)
		}
	}
}

func below(d protoreflect.MessageDescriptor, all map[protoreflect.FullName]bool) {
	for i := range d.Fields().Len() {
		fd := d.Fields().Get(i)
		if d.IsMapEntry() || all[fd.FullName()] {
			continue
		}
		all[fd.FullName()] = true
		if fd.Message() != nil {
			below(fd.Message(), all)
		}
	}
}

// TestSameTapeSameMessage: what the fuzzer keeps can be played again.
func TestSameTapeSameMessage(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 500 {
		b := tape(r)
		one, two := &lixiviumv1.CostRequest{}, &lixiviumv1.CostRequest{}
		mutate.Apply(one, b, []string{"naoh"})
		mutate.Apply(two, b, []string{"naoh"})
		if !proto.Equal(one, two) {
			t.Fatalf("%v\n%v", one, two)
		}
	}
}

// TestWordsAreUsed: the caller's words reach text fields.
func TestWordsAreUsed(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 1000 {
		m := &lixiviumv1.ListFatsRequest{}
		mutate.Apply(m, tape(r), []string{"a word of ours"})
		if strings.Contains(m.GetNameContains(), "a word of ours") {
			return
		}
	}
	t.Error("the word never came")
}
