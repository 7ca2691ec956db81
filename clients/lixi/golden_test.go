package main

import (
	"bytes"
	"os"
	"regexp"
	"testing"

	"lixivium.example/clients/lixi/command"
)

var digest = regexp.MustCompile(`sha256:[0-9a-f]{64}`)

// TestKitchenBarSheet holds the wording and layout of one sheet as a whole;
// figures are compared elsewhere. LIXI_UPDATE=1 writes what is printed now and
// fails all the same, so that a person reads the difference first.
func TestKitchenBarSheet(t *testing.T) {
	const golden = "testdata/kitchen-bar.sheet"
	var out, errs bytes.Buffer
	code := command.Run(t.Context(), []string{"formulate", "../../testdata/recipes/kitchen-bar.yaml"},
		command.Streams{Out: &out, Err: &errs}, command.ConnectApp)
	if code != command.ExitFine || errs.Len() > 0 {
		t.Fatalf("exit code %d, %s", code, errs.String())
	}
	got := digest.ReplaceAll(out.Bytes(), []byte("sha256:<digest>"))
	want, err := os.ReadFile(golden)
	if err != nil || !bytes.Equal(got, want) {
		t.Errorf("the sheet differs from %s (%v); it is now\n%s", golden, err, got)
		if os.Getenv("LIXI_UPDATE") == "1" {
			if err := os.WriteFile(golden, got, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
}
