package command

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"google.golang.org/genproto/googleapis/rpc/errdetails"
	"google.golang.org/grpc/codes"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// TestCostAsks: recipes from files and standard input, terms and bars from
// elsewhere, and what is wrong at its place.
func TestCostAsks(t *testing.T) {
	folder := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(folder, name)
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	prices := write("prices.yaml", "prices_format: 1\nprices: {currency_code: EUR}\n")
	own := write("own.yaml", bar+"terms: {saleable_bars: 3, margin_pct: 40}\nfit: {batter: {g: 500}}\n")
	s := &fake{cost: &lixiviumv1.CostResponse{Costings: []*lixiviumv1.Costing{{RecipeName: "Bar", CurrencyCode: "EUR", PerBar: "1.00", Worksheet: []*lixiviumv1.WorksheetLine{{Id: "cost.per_bar", Value: 1}}}}}}
	code, out, err := run(t, s, bar, "cost", own, "-", "--prices", prices, "--terms", own, "--bars", "7", "--partial")
	if code != ExitFine || err != "" || !strings.HasPrefix(out, "Bar, cost\n") {
		t.Fatalf("code %d, %s, %s", code, out, err)
	}
	for _, r := range s.costed.GetRecipes() {
		if r.GetRecipe().GetName() != "Bar" || r.GetTerms().GetSaleableBars() != 7 || r.GetTerms().GetMarginPct() != 40 {
			t.Errorf("asked %v", r)
		}
	}
	if len(s.costed.GetRecipes()) != 2 || !s.costed.GetAllowPartial() || s.costed.GetIncludeWorksheet() || s.costed.GetPrices().GetCurrencyCode() != "EUR" {
		t.Errorf("asked %v", s.costed)
	}

	code, out, err = run(t, s, "", "explain", own, "cost.per_bar", "--prices", prices)
	if code != ExitFine || err != "" || !strings.HasPrefix(out, "cost.per_bar = 1\n") || !s.costed.GetIncludeWorksheet() {
		t.Errorf("code %d, %s, %s", code, out, err)
	}
	code, out, _ = run(t, s, "", "cost", own, "--prices", prices, "--json")
	if code != ExitFine || !strings.Contains(out, `"per_bar": "1.00"`) {
		t.Errorf("code %d, %s", code, out)
	}

	s.err = withDetails(codes.InvalidArgument, "no", &errdetails.BadRequest{FieldViolations: []*errdetails.BadRequest_FieldViolation{
		{Field: "recipes[1].terms.margin_pct", Description: "a"}, {Field: "recipes[0].terms.margin_pct", Description: "b"},
		{Field: "recipes[1].recipe.fats[0].mass", Description: "c"}, {Field: "prices.packs", Description: "d"}, {Field: "recipes", Description: "e"},
	}})
	code, out, err = run(t, s, bar, "cost", own, "-", "--prices", prices, "--terms", own)
	want := "lixi: --terms " + `"` + own + `": recipes[1].terms.margin_pct: a` + "\nlixi: " + own + ":8:39: recipes[0].terms.margin_pct: b\n" +
		"lixi: (standard input):7:7: recipes[1].recipe.fats[0].mass: c\nlixi: " + prices + ":2:1: prices.packs: d\nlixi: the command line: recipes: e\n"
	if code != ExitRefused || out != "" || err != want {
		t.Errorf("code %d, %s\n%s\nwant\n%s", code, out, err, want)
	}
}

// TestCostReadsAllFilesFirst: what is wrong with any of them is told together.
func TestCostReadsAllFilesFirst(t *testing.T) {
	code, _, err := run(t, &fake{}, "recipe_format: 2\n", "cost", "none-a.yaml", "-", "--prices", "none-b.yaml", "--terms", "none-c.yaml")
	for _, part := range []string{"none-a.yaml cannot be read", "none-b.yaml cannot be read", "none-c.yaml cannot be read", "this lixi understands format 1 only"} {
		if code != ExitRefused || !strings.Contains(err, part) {
			t.Errorf("code %d, no %q in %s", code, part, err)
		}
	}
}
