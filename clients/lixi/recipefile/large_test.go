package recipefile

import (
	"strings"
	"testing"
	"time"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// TestLargeFilesEndInTime reads files of the largest size in shapes that cost
// a YAML parser most. Each must end within seconds, whatever it says.
func TestLargeFilesEndInTime(t *testing.T) {
	fill := func(head, unit string) []byte {
		return []byte(head + strings.Repeat(unit, (MaxBytes-len(head))/len(unit)))
	}
	head := "recipe_format: 1\nrecipe: "
	for name, data := range map[string][]byte{
		"brackets":      fill(head, "["),
		"braces":        fill(head, "{a: "),
		"dashes":        fill("", "- "),
		"questions":     fill("", "? "),
		"comments":      fill("", "#\n"),
		"short entries": fill("recipe_format: 1\nrecipe:\n  fats:\n", "  - {}\n"),
		"empty entries": fill("recipe_format: 1\nrecipe:\n  fats:\n", "  -\n"),
		"one key":       fill("recipe_format: 1\nrecipe:\n", "  a: 1\n"),
		"long key":      fill("recipe_format: 1\nrecipe:\n  ", "k"),
		"anchors":       fill(head, "&a "),
		"aliases":       fill(head+"&a [", "*a, "),
		"quotes":        fill(head, "\""),
		"commas":        fill(head+"[", ","),
		"documents":     fill("", "---\n"),
		"block text":    fill("recipe_format: 1\nrecipe:\n  name: |\n", "    x\n"),
		"commented":     fill("recipe_format: 1\nrecipe:\n  fats:\n", "  # c\n  - {} # d\n"),
	} {
		t.Run(name, func(t *testing.T) {
			began := time.Now()
			_, err := Read("x", data, &lixiviumv1.FormulateRequest{}, nil)
			took := time.Since(began)
			if took > 10*time.Second {
				t.Errorf("took %v", took)
			}
			t.Logf("%v, %.80v", took, err)
		})
	}
}
