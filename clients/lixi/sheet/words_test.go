package sheet

import (
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
	"pgregory.net/rapid"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

func TestOdds(t *testing.T) {
	for pct, want := range map[float64]string{
		0: "less than 1 in a million", 1e-5: "less than 1 in a million", 0.01: "about 1 in 10000", 0.0123: "about 1 in 8100",
		2.5: "about 1 in 40", 10: "about 1 in 10", 37.4: "about 37 in 100", 99.9: "about 100 in 100", 99.99: "all but certain", 100: "all but certain",
		-1: "unknown", math.NaN(): "unknown", math.Inf(1): "unknown",
	} {
		if got := odds(pct); got != want {
			t.Errorf("%g: %q, want %q", pct, got, want)
		}
	}
}

func TestNumbersForDisplay(t *testing.T) {
	for _, c := range []struct {
		v    float64
		n    int
		want string
	}{{138.25, 1, "138.2"}, {0.004, 2, "0.004"}, {0.00004, 1, "0.00004"}, {0, 1, "0.0"}, {-0.001, 1, "-0.001"}, {math.Copysign(0, -1), 1, "0.0"}, {1e-12, 1, "0.0000000"}} {
		if got := decimal(c.v, c.n); got != c.want {
			t.Errorf("%g with %d: %q, want %q", c.v, c.n, got, c.want)
		}
	}
	for v, want := range map[float64]string{
		0: "0", 39.997: "39.997", 3.386541234: "3.38654", 1000: "1000", 123456789: "123456789", -0.05: "-0.05", 1e-7: "1e-07", 2e12: "2e+12",
	} {
		if got := significant(v); got != want {
			t.Errorf("%g: %q, want %q", v, got, want)
		}
	}
}

func TestStepsOfBalances(t *testing.T) {
	for step, want := range map[float64]int{1: 0, 5: 0, 0.1: 1, 0.5: 1, 0.01: 2, 0.05: 2, 0.001: 3, 0.0001: 4, 0.00001: 4} {
		if got := decimalsOf(step); got != want {
			t.Errorf("%g: %d, want %d", step, got, want)
		}
	}
	o := Options{Unit: Ounces}
	on := &lixiviumv1.Balance{Step: &lixiviumv1.Quantity{Amount: &lixiviumv1.Quantity_Oz{Oz: 0.1}}}
	if large, small := o.mass(141.7476, on); large != "5.0 oz" || small != "141.7 g" {
		t.Errorf("%s, %s", large, small)
	}
}

func TestQuantityWords(t *testing.T) {
	for unit, want := range map[string]string{
		"percent": "12.3 %", "1": "12.3456", "": "12.3456", "degC": "12 °C", "g": "12.3 g", "mg KOH/g": "12.3456 mg KOH/g",
	} {
		if got := quantityWords(12.3456, unit); got != want {
			t.Errorf("%s: %q, want %q", unit, got, want)
		}
	}
}

func TestEvidenceWords(t *testing.T) {
	for b, want := range map[lixiviumv1.Basis]string{0: "", 1: "published, seen", 2: "published, from memory", 3: "derived", 4: "common practice", 5: "estimate", 6: "your own"} {
		if got := evidence(&lixiviumv1.Evidence{Basis: b}); got != want {
			t.Errorf("%v: %q, want %q", b, got, want)
		}
	}
	if got := evidence(&lixiviumv1.Evidence{Basis: 1, Source: "CXS 210"}); got != "published, seen: CXS 210" {
		t.Errorf("got %q", got)
	}
}

// TestAnyAnswerFitsTheSheet fills answers at random, hostile names and numbers
// included: no line is too wide, nothing acts on a terminal, no line to weigh
// is lost, and nothing panics.
func TestAnyAnswerFitsTheSheet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := &lixiviumv1.ReconcileWeightsResponse{}
		fill(t, r.ProtoReflect(), 0)
		f := &lixiviumv1.Formulation{}
		if r.Plan != nil {
			f = proto.CloneOf(r.Plan)
		}
		o := Options{Recipe: &lixiviumv1.Recipe{Name: anyText(t)}, Unit: Unit(rapid.IntRange(0, 1).Draw(t, "unit"))}
		cups := 0
		for _, a := range f.GetPortions() {
			if a.GetPortionId() != "" {
				cups++
			}
		}
		weights := Formulation(f, o)
		if boxes := strings.Count(weights, "\n  [ ] "); boxes < len(f.GetWeighOut())+cups {
			t.Errorf("%d boxes for %d lines and %d cups", boxes, len(f.GetWeighOut()), cups)
		}
		for _, text := range []string{
			weights, Judgement(f, o), Reconciliation(r, o), Figures(f.GetWorksheet()),
			Chain(f.GetWorksheet(), "a", func(path string) string { return path }),
		} {
			for line := range strings.SplitSeq(text, "\n") {
				if n := utf8.RuneCountInString(line); n > width {
					t.Errorf("%d columns: %q", n, line)
				}
				if Plain(line) != line {
					t.Errorf("characters that act: %q", line)
				}
			}
		}
	})
}

func anyText(t *rapid.T) string {
	return rapid.OneOf(rapid.SampledFrom([]string{"", "a", "b", "\x1b[31mred", "two\nlines", strings.Repeat("long", 40), "percent", "degC"}), rapid.String()).Draw(t, "text")
}

// fill sets every field of a message at random; nothing is set below level 5.
func fill(t *rapid.T, m protoreflect.Message, level int) {
	fields := m.Descriptor().Fields()
	for i := range fields.Len() {
		fd := fields.Get(i)
		switch {
		case fd.IsMap(), level > 4 && fd.Message() != nil, !rapid.Bool().Draw(t, "set"):
		case fd.IsList() && fd.Message() != nil:
			for range rapid.IntRange(1, 3).Draw(t, "entries") {
				fill(t, m.Mutable(fd).List().AppendMutable().Message(), level+1)
			}
		case fd.IsList():
			m.Mutable(fd).List().Append(protoreflect.ValueOfString(anyText(t)))
		case fd.Message() != nil:
			fill(t, m.Mutable(fd).Message(), level+1)
		case fd.Enum() != nil:
			m.Set(fd, protoreflect.ValueOfEnum(protoreflect.EnumNumber(rapid.IntRange(0, 9).Draw(t, "enum"))))
		case fd.Kind() == protoreflect.StringKind:
			m.Set(fd, protoreflect.ValueOfString(anyText(t)))
		case fd.Kind() == protoreflect.BoolKind:
			m.Set(fd, protoreflect.ValueOfBool(rapid.Bool().Draw(t, "bool")))
		case fd.Kind() == protoreflect.Uint32Kind:
			m.Set(fd, protoreflect.ValueOfUint32(rapid.Uint32().Draw(t, "uint")))
		default:
			odd := rapid.SampledFrom([]float64{0, 1, -1, math.NaN(), math.Inf(1), math.MaxFloat64, 1e-300})
			m.Set(fd, protoreflect.ValueOfFloat64(rapid.OneOf(odd, rapid.Float64Range(0, 1e5)).Draw(t, "number")))
		}
	}
}
