package command

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"lixivium.example/clients/lixi/recipefile"
	"lixivium.example/clients/lixi/sheet"
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

func newSwap(env *environment) *cobra.Command {
	var out output
	var asRecipe bool
	var prices string
	cmd := &cobra.Command{
		Use:   "swap FILE|- LINE=FAT[,FAT:SHARE...]",
		Short: "Replace a fat by others and say what changes",
		Long: `swap replaces one fat line of a recipe by another fat at equal grams, or by
several that share its mass out in percent. The alkali is worked out anew, unless
it is given. It prints what changes, then the sheet to weigh out by. Lines are
named by their ids, fats as in the catalog; shares sum to 100. With --prices, and
terms in the recipe file, it also says what the batch and a bar cost before and
after.

With --recipe the recipe with the fat replaced is printed as a file of its own.

Exit codes: 0 fine, 1 a danger finding, 2 refused, 3 no answer.`,
		Example: `  lixi swap kitchen-bar.yaml castor-oil=shea-butter
  lixi swap kitchen-bar.yaml olive-oil=rice-bran-oil:60,avocado-oil:40
  lixi swap kitchen-bar.yaml coconut-oil=palm-kernel-oil --recipe`,
		Args: arguments(2, 2),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := out.check(); err != nil {
				return err
			}
			plan := &lixiviumv1.FormulateRequest{}
			places, err := env.read(args[0], plan)
			if err != nil {
				return err
			}
			request := &lixiviumv1.SwapFatRequest{Recipe: plan.GetRecipe(), Balances: plan.GetBalances()}
			if err := addSwap(request, args[1], places); err != nil {
				return err
			}
			if prices != "" && (out.json || asRecipe || args[0] == standardInput) {
				return refused("--prices goes with a recipe file and the sheet", "leave --json and --recipe out, and name the file")
			}
			return env.swap(cmd.Context(), request, places, swapOutput{output: out, asRecipe: asRecipe, file: args[0], prices: prices})
		},
	}
	out.flags(cmd)
	pricesFlag(cmd, &prices)
	cmd.Flags().BoolVar(&asRecipe, "recipe", false, "print the recipe with the fat replaced as a recipe file, and nothing else")
	return cmd
}

// swapOutput is how the answer to a swap is printed.
type swapOutput struct {
	output
	asRecipe     bool
	file, prices string // for the cost; no prices: none
}

// swap puts the call and prints its answer.
func (env *environment) swap(ctx context.Context, request *lixiviumv1.SwapFatRequest, places *recipefile.Places, out swapOutput) error {
	answer, err := ask(ctx, env, func(ctx context.Context, s Service) (*lixiviumv1.SwapFatResponse, error) {
		return s.SwapFat(ctx, request)
	})
	if err != nil {
		return ofCall(err, places, env)
	}
	f := answer.GetAfter()
	env.danger = hasDanger(f.GetFindings(), f.GetSuperfat())
	switch {
	case out.json:
		return env.printJSON(answer)
	case out.asRecipe:
		return env.printRecipe(answer.GetRecipe(), request.GetBalances())
	}
	var costs []*lixiviumv1.Costing
	if out.prices != "" {
		if costs, err = env.swapCosts(ctx, answer.GetRecipe(), out); err != nil {
			return err
		}
	}
	options := out.options(answer.GetRecipe(), request.GetBalances())
	return env.print(sheet.Swap(answer, swapInWords(request, f), costs, options) + sheet.Formulation(f, options))
}

// swapCosts costs the recipe of the file and the same with the fat replaced, on
// the terms of the file.
func (env *environment) swapCosts(ctx context.Context, after *lixiviumv1.Recipe, out swapOutput) ([]*lixiviumv1.Costing, error) {
	request := &lixiviumv1.CostRequest{}
	places, err := env.readCost([]string{out.file}, costOptions{prices: out.prices}, request)
	if err != nil {
		return nil, err
	}
	before := request.GetRecipes()[0]
	request.Recipes = append(request.Recipes, &lixiviumv1.CostedRecipe{Recipe: after, Balances: before.GetBalances(), Terms: before.GetTerms()})
	answer, err := ask(ctx, env, func(ctx context.Context, s Service) (*lixiviumv1.CostResponse, error) {
		return s.Cost(ctx, request)
	})
	if err != nil {
		return nil, ofCall(err, places, env)
	}
	return answer.GetCostings(), nil
}

// swapInWords says what was replaced by what.
func swapInWords(request *lixiviumv1.SwapFatRequest, after *lixiviumv1.Formulation) string {
	var names []string
	for _, l := range request.GetReplacements() {
		for _, x := range after.GetFats() {
			if x.GetLineId() == l.GetId() {
				names = append(names, fmt.Sprintf("%s (%.1f g)", x.GetName(), x.GetMassG()))
			}
		}
	}
	return fmt.Sprintf("%s is replaced at equal grams by %s.", request.GetLineId(), strings.Join(names, " and "))
}

const swapAdvice = "write castor-oil=shea-butter, or olive-oil=rice-bran-oil:60,avocado-oil:40 with shares in percent"

// addSwap reads LINE=FAT[,FAT:SHARE...].
func addSwap(request *lixiviumv1.SwapFatRequest, text string, places *recipefile.Places) error {
	line, fats, ok := strings.Cut(text, "=")
	if !ok || line == "" || fats == "" {
		return refused(fmt.Sprintf("%q names no line and fat", text), swapAdvice)
	}
	request.LineId = line
	places.Note("line_id", strconv.Quote(text))
	places.Note("replacements", strconv.Quote(text))
	taken := idsOf(request.GetRecipe(), line)
	for _, part := range strings.Split(fats, ",") {
		name, share, shared := strings.Cut(part, ":")
		name = strings.TrimSpace(name)
		l := &lixiviumv1.FatLine{Id: freeID(name, taken), Kind: &lixiviumv1.FatLine_Fat{Fat: name}}
		taken = append(taken, l.GetId())
		if name == "" {
			return refused(fmt.Sprintf("%q names no fat between its commas", text), swapAdvice)
		}
		if shared {
			v, err := strconv.ParseFloat(strings.TrimSuffix(strings.TrimSpace(share), "%"), 64)
			if err != nil {
				return refused(fmt.Sprintf("%q: %q is no share in percent", text, share), swapAdvice)
			}
			l.Amount = &lixiviumv1.FatLine_ShareOfFatsPct{ShareOfFatsPct: v}
		}
		request.Replacements = append(request.Replacements, l)
	}
	return nil
}

// idsOf are the ids of a recipe, that of one line left out.
func idsOf(r *lixiviumv1.Recipe, but string) []string {
	var ids []string
	for _, l := range r.GetFats() {
		if l.GetId() != but {
			ids = append(ids, l.GetId())
		}
	}
	for _, d := range r.GetDoses() {
		ids = append(ids, d.GetId())
	}
	for _, p := range r.GetPortions() {
		ids = append(ids, p.GetId())
	}
	return ids
}

// freeID makes an id out of the name of a fat: lower case letters, digits and
// hyphens, with a number where it is taken.
func freeID(name string, taken []string) string {
	id := strings.Trim(strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
			return r
		case r >= 'A' && r <= 'Z':
			return r - 'A' + 'a'
		}
		return '-'
	}, name), "-")
	if id == "" {
		id = "fat"
	}
	free := id
	for n := 2; slices.Contains(taken, free); n++ {
		free = id + "-" + strconv.Itoa(n)
	}
	return free
}
