package command

import (
	"strings"
	"testing"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

func TestWrongUse(t *testing.T) {
	s := &fake{formulate: &lixiviumv1.FormulateResponse{Formulation: &lixiviumv1.Formulation{
		WeighOut:  []*lixiviumv1.WeighLine{{LineId: "water"}, {LineId: "naoh"}},
		Worksheet: []*lixiviumv1.WorksheetLine{{Id: "alkali.naoh_g"}},
	}}}
	for args, want := range map[string]string{
		"formulat":                    "lixi: lixi has no command \"formulat\"\n  next: did you mean lixi formulate?\n",
		"xyzzyplugh":                  "lixi: lixi has no command \"xyzzyplugh\"\n  next: lixi --help lists the commands\n",
		"catalog fits":                "lixi: lixi catalog has no command \"fits\"\n  next: did you mean lixi catalog fats?\n",
		"formulate":                   "lixi: an argument is missing\n  next: usage: lixi formulate FILE|- [flags]\n",
		"check a b":                   "lixi: \"b\" is one argument too many\n  next: usage: lixi check FILE|- [flags]\n",
		"check --jsn -":               "lixi: unknown flag: --jsn\n  next: lixi check --help lists the flags\n",
		"check --timeout soon -":      "lixi: invalid argument \"soon\" for \"--timeout\" flag: time: invalid duration \"soon\"\n  next: lixi check --help lists the flags\n",
		"check --unit lb -":           "lixi: --unit \"lb\" is no unit of a sheet\n  next: write --unit g or --unit oz\n",
		"weigh --unit lb -":           "lixi: --unit \"lb\" is no unit of a sheet\n  next: write --unit g or --unit oz\n",
		"formulate --unit lb -":       "lixi: --unit \"lb\" is no unit of a sheet\n  next: write --unit g or --unit oz\n",
		"weigh -":                     "lixi: nothing was weighed yet: neither `actual` in the file nor --actual\n  next: add --actual ID=MASS; the lines are water, naoh\n",
		"weigh - --actual naoh":       "lixi: --actual \"naoh\" names no line and mass\n  next: write the id of a line and what was weighed, such as --actual naoh=139.5g\n",
		"weigh - --actual naoh=12":    "lixi: --actual \"naoh=12\": \"12\" is no amount\n  next: write a number and its unit, such as 139.5g; units: g, kg, oz, lb, ml, l, fl_oz_us, cup_us, tsp_us\n",
		"weigh - --actual naoh=1,5g":  "lixi: --actual \"naoh=1,5g\": \"1,5g\" has a decimal comma\n  next: write 1.5g\n",
		"explain - alkali.naoh":       "lixi: this recipe has no figure \"alkali.naoh\"\n  next: did you mean alkali.naoh_g? lixi explain FILE lists the figures of a recipe\n",
		"explain - zzz":               "lixi: this recipe has no figure \"zzz\"\n  next: lixi explain FILE lists the figures of a recipe\n",
		"catalog fats nothing-at-all": "lixi: no fat of the catalog has \"nothing-at-all\" in its name\n  next: lixi catalog fats lists them all; a fat that is not there can be declared under custom\n",
		"weigh - --actual a=1g --actual a=2g": "lixi: --actual \"a=2g\": a mass of this line was given before\n" +
			"  next: give each line once, in the file or behind --actual\n",
	} {
		t.Run(args, func(t *testing.T) {
			code, out, err := run(t, s, bar, strings.Fields(args)...)
			if code != ExitRefused || out != "" || err != want {
				t.Errorf("code %d, output %q, error\n%s\nwant\n%s", code, out, err, want)
			}
		})
	}
}

// TestHelpExplainsItself: every command says what it does, shows an example
// and, where it answers a recipe, its exit codes.
func TestHelpExplainsItself(t *testing.T) {
	for _, args := range []string{"", "formulate", "check", "scale", "swap", "weigh", "cost", "explain", "catalog", "catalog fats", "catalog water", "catalog findings", "catalog versions"} {
		code, out, err := run(t, &fake{}, "", append(strings.Fields(args), "--help")...)
		if code != ExitFine || err != "" || !strings.Contains(out, "Examples:\n  lixi "+args) {
			t.Errorf("%q: code %d, %s, %s", args, code, err, out)
		}
		if !strings.HasPrefix(args, "catalog ") && !strings.Contains(out, "Exit codes:") {
			t.Errorf("%q does not tell its exit codes", args)
		}
		for line := range strings.SplitSeq(out, "\n") {
			if len(line) > 110 {
				t.Errorf("%q: %d columns: %s", args, len(line), line)
			}
		}
	}
	for _, args := range []string{"", "catalog"} {
		if code, out, _ := run(t, &fake{}, "", strings.Fields(args)...); code != ExitFine || !strings.Contains(out, "Usage:") {
			t.Errorf("%q: code %d, %s", args, code, out)
		}
	}
}
