package command

import (
	"bytes"
	"errors"
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestFilesAreLeftAlone: no command changes a file that it reads, nor makes one,
// whether it answers or refuses; a log is only added to.
func TestFilesAreLeftAlone(t *testing.T) {
	folder := t.TempDir()
	t.Chdir(folder)
	const sound = bar + "  alkali: {superfat_pct: 5}\n  water: {measure: {lye_concentration_pct: 33}}\n"
	for name, text := range map[string]string{
		"sound.yaml":   sound,
		"broken.yaml":  "recipe_format: 1\nrecipe: {fats: [",
		"refused.yaml": strings.Replace(sound, "pct: 5", "pct: 120", 1),
		"strong.yaml":  strings.Replace(sound, "pct: 33", "pct: 65", 1),
		"variant.yaml": "recipe_format: 1\nvariant_of: sound.yaml\nchanges: {recipe: {alkali: {superfat_pct: 0.05}}}\n",
		"prices.yaml":  "prices_format: 1\nprices: {currency_code: EUR, packs: [{material: naoh, size: {kg: 1}, price: 1,50}]}\n",
		"log":          "an older line\n",
	} {
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	before := contents(t, folder)
	codes := map[int]int{}
	for _, file := range []string{"sound.yaml", "broken.yaml", "refused.yaml", "strong.yaml", "variant.yaml", "none.yaml"} {
		for _, args := range [][]string{
			{"formulate", file}, {"formulate", "--json", "--worksheet", file}, {"check", file}, {"explain", file}, {"swap", file, "olive=lard"},
			{"scale", file, "--fats", "1kg"}, {"scale", file, "--fats", "1kg", "--recipe"}, {"scale", file, "--fats", "-1kg", "--recipe"},
			{"weigh", file, "--actual", "naoh=60g"}, {"cost", file, "--prices", "prices.yaml", "--bars", "4"}, {"check", file, "--log", "log"},
		} {
			var out, errs bytes.Buffer
			codes[Run(t.Context(), args, Streams{In: strings.NewReader(""), Out: &out, Err: &errs}, ConnectApp)]++
		}
	}
	if codes[ExitFine] == 0 || codes[ExitRefused] == 0 {
		t.Errorf("exit codes %v: not every way was tried", codes)
	}
	after := contents(t, folder)
	if !strings.HasPrefix(after["log"], before["log"]) || len(after["log"]) == len(before["log"]) {
		t.Errorf("the log is now %q", after["log"])
	}
	after["log"] = before["log"]
	if !maps.Equal(before, after) {
		t.Errorf("files were %v, are %v", before, after)
	}
}

// contents reads every file of a folder.
func contents(t *testing.T, folder string) map[string]string {
	t.Helper()
	all := map[string]string{}
	files, err := filepath.Glob(filepath.Join(folder, "*"))
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		all[filepath.Base(file)] = string(data)
	}
	return all
}

// fullDisk takes some bytes and no more.
type fullDisk struct{ left int }

func (d *fullDisk) Write(b []byte) (int, error) {
	n := min(d.left, len(b))
	d.left -= n
	if n < len(b) {
		return n, errors.New("no space left on device")
	}
	return n, nil
}

// TestOutputThatCannotBeWritten: half a sheet must not pass for a sheet.
func TestOutputThatCannotBeWritten(t *testing.T) {
	const recipe = bar + "  alkali: {superfat_pct: 5}\n  water: {measure: {lye_concentration_pct: 33}}\n"
	for _, args := range [][]string{
		{"formulate", "-"}, {"check", "-"}, {"check", "--json", "-"}, {"explain", "-"}, {"swap", "-", "olive=lard"}, {"scale", "-", "--fats", "1kg", "--recipe"},
		{"weigh", "-", "--actual", "naoh=60g"}, {"catalog", "fats"}, {"catalog", "versions"},
	} {
		for _, space := range []int{0, 20} {
			var errs bytes.Buffer
			code := Run(t.Context(), args, Streams{In: strings.NewReader(recipe), Out: &fullDisk{space}, Err: &errs}, ConnectApp)
			if want := "lixi: the answer cannot be written: no space left on device\n  next: make room or write elsewhere, and throw away what was written\n"; code != ExitServer || errs.String() != want {
				t.Errorf("%v with room for %d bytes: code %d, %s", args, space, code, errs.String())
			}
		}
	}
}
