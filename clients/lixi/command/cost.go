package command

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"
	"google.golang.org/protobuf/proto"

	"lixivium.example/clients/lixi/recipefile"
	"lixivium.example/clients/lixi/sheet"
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

const costHelp = `cost works out what batches cost, what a bar of them costs, and the price that
holds a wanted margin. What the shop pays stands in a price file; what a batch
yields and how it is sold stands in each recipe file under terms.

A price file:

  prices_format: 1
  prices:
    currency_code: EUR
    packs:
      - {material: olive-oil, size: {l: 5}, price: 42.50, freight: 4.00}
      - {material: coconut-oil, size: {kg: 5}, price: 31.90, waste_pct: 2}
      - {material: naoh, size: {kg: 1}, price: 9.80, price_date: 2025-01-15}

Materials go by the id of a fat or additive, by the name of a custom one or of a
premix, or as naoh, koh, naoh-solution, koh-solution or water. Of several packs
the cheapest per gram counts. Money has a point for decimals.

Terms of a recipe file:

  terms:
    saleable_bars: 11
    packaging_per_bar: 0.35
    labor_minutes: 75
    labor_per_hour: 18
    margin_pct: 35         # or markup_pct, or price

A recipe file without terms, such as one that lixi scale --recipe prints, takes
those of another file behind --terms; --bars says how many bars it yields.

Exit codes: 0 fine, 2 refused, 3 no answer.`

func newCost(env *environment) *cobra.Command {
	var o costOptions
	var asJSON bool
	var call call
	cmd := &cobra.Command{
		Use:   "cost FILE|-... --prices FILE",
		Short: "Work out what a batch and a bar cost, and the price that holds a margin",
		Long:  costHelp,
		Example: `  lixi cost kitchen-bar.yaml --prices prices.yaml
  lixi cost *-bar.yaml --prices prices.yaml --partial
  lixi scale kitchen-bar.yaml --bars 24x105g --recipe |
    lixi cost - --terms kitchen-bar.yaml --bars 24 --prices prices.yaml
  lixi explain kitchen-bar.yaml cost.per_bar --prices prices.yaml`,
		Args: arguments(1, 1<<30),
		RunE: func(cmd *cobra.Command, args []string) error {
			request, places, err := env.costRequest(args, o)
			if err != nil {
				return err
			}
			request.IncludeWorksheet = call.worksheet
			if call.request {
				return env.printJSON(request)
			}
			answer, err := env.cost(cmd.Context(), request, places)
			if err != nil {
				return err
			}
			if asJSON {
				return env.printJSON(answer)
			}
			text := sheet.Costs(answer, request.GetRecipes())
			for _, c := range answer.GetCostings() {
				text += call.reckoning(c.GetWorksheet())
			}
			return env.print(text)
		},
	}
	pricesFlag(cmd, &o.prices)
	cmd.Flags().StringVar(&o.terms, "terms", "", "recipe file whose terms go for recipes without any")
	cmd.Flags().Uint32Var(&o.bars, "bars", 0, "bars of a batch that can be sold, in place of those of the terms")
	cmd.Flags().BoolVar(&o.partial, "partial", false, "cost what has a price and name what has none")
	jsonFlag(cmd, &asJSON)
	call.flags(cmd)
	return cmd
}

func pricesFlag(cmd *cobra.Command, into *string) {
	cmd.Flags().StringVar(into, "prices", "", "price file: what the shop pays")
}

// costOptions are what is asked of a cost beside the recipe files.
type costOptions struct {
	prices, terms string // files; no terms: each recipe has its own
	bars          uint32 // 0: those of the terms
	partial       bool
}

// costRequest reads recipe files and the price file.
func (env *environment) costRequest(files []string, o costOptions) (*lixiviumv1.CostRequest, *recipefile.Places, error) {
	request := &lixiviumv1.CostRequest{AllowPartial: o.partial}
	places, err := env.readCost(files, o, request)
	return request, places, err
}

// cost asks what recipes cost.
func (env *environment) cost(ctx context.Context, request *lixiviumv1.CostRequest, places *recipefile.Places) (*lixiviumv1.CostResponse, error) {
	answer, err := ask(ctx, env, func(ctx context.Context, s Service) (*lixiviumv1.CostResponse, error) {
		return s.Cost(ctx, request)
	})
	if err != nil {
		return nil, ofCall(err, places, env)
	}
	return answer, nil
}

// readCost fills a request from recipe files and a price file; what is wrong
// with any of them is told together.
func (env *environment) readCost(files []string, o costOptions, request *lixiviumv1.CostRequest) (*recipefile.Places, error) {
	if o.prices == "" {
		return nil, refused("no prices are named", "add --prices FILE; lixi cost --help shows such a file")
	}
	streams := 0
	for _, name := range append([]string{o.prices, o.terms}, files...) {
		if name == standardInput {
			streams++
		}
	}
	if streams > 1 {
		return nil, refused("standard input is named more than once", "it can be read once; give the others as files")
	}
	all := &failure{exit: ExitRefused}
	places, err := env.readPrices(o.prices, request)
	if err != nil {
		all.items = append(all.items, asFailure(err).items...)
	}
	shared := &lixiviumv1.CostedRecipe{}
	if o.terms != "" {
		if _, err := env.read(o.terms, shared); err != nil {
			all.items = append(all.items, asFailure(err).items...)
		}
	}
	for i, file := range files {
		recipe := &lixiviumv1.CostedRecipe{}
		own, err := env.read(file, recipe)
		if err != nil {
			all.items = append(all.items, asFailure(err).items...)
			continue
		}
		request.Recipes = append(request.Recipes, recipe)
		if places != nil {
			at := fmt.Sprintf("recipes[%d]", i)
			places.Take(at, own)
			takeTerms(recipe, shared, o, at, places)
		}
	}
	if len(all.items) > 0 {
		return nil, all
	}
	places.Note("recipes", "the command line")
	return places, nil
}

// takeTerms gives a recipe the terms that came from elsewhere than its file.
func takeTerms(recipe, shared *lixiviumv1.CostedRecipe, o costOptions, at string, places *recipefile.Places) {
	if recipe.Terms == nil && shared.GetTerms() != nil {
		recipe.Terms = proto.CloneOf(shared.GetTerms())
		places.Note(at+".terms", fmt.Sprintf("--terms %q", o.terms))
	}
	if o.bars > 0 {
		if recipe.Terms == nil {
			recipe.Terms = &lixiviumv1.CostTerms{}
		}
		recipe.Terms.SaleableBars = o.bars
		places.Note(at+".terms.saleable_bars", fmt.Sprintf("--bars %d", o.bars))
	}
}

// readPrices fills the prices of a request from a price file.
func (env *environment) readPrices(name string, request *lixiviumv1.CostRequest) (*recipefile.Places, error) {
	data, err := env.bytes(name)
	if err != nil {
		return nil, err
	}
	if name == standardInput {
		name = "(standard input)"
	}
	return recipefile.ReadPrices(name, data, request)
}
