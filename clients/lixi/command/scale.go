package command

import (
	"context"

	"github.com/spf13/cobra"

	"lixivium.example/clients/lixi/recipefile"
	"lixivium.example/clients/lixi/sheet"
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

func newScale(env *environment) *cobra.Command {
	var out output
	var size sizeFlags
	var asRecipe bool
	cmd := &cobra.Command{
		Use:   "scale FILE|-",
		Short: "Bring a recipe to molds, a mass, bars or what is on the shelf",
		Long: `scale brings a recipe file to a size and prints what was done, then the sheet to
weigh out by. The size stands in the file under fit, or behind one of the flags,
which take its place. Losses are masses and do not grow with the batch.

  --mold box:240x85x70       inside of a box, mm: length, width, height
  --mold cylinder:75x200     diameter, height
  --mold cavities:6x110ml    six cavities of 110 mL
  --mold water:1200ml        the water a mold holds
  --batter 1200g  --fats 500g  --bars 10x110g [--cured]  --stock olive-oil=900g

Liners, fill heights, tapered molds and what molds are made of stand in a file:

  fit:
    pot_loss: {g: 15}
    molds:
      molds:
        - name: loaf
          count: 1
          box: {length_mm: 240, width_mm: 85, height_mm: 70}
          liner_mm: 2
          fill_height_mm: 62
          material: wood

With --recipe the recipe at its new size is printed as a file of its own.

Exit codes: 0 fine, 1 a danger finding, 2 refused, 3 no answer.`,
		Example: `  lixi scale salt-bar.yaml
  lixi scale kitchen-bar.yaml --bars 12x110g --cured
  lixi scale kitchen-bar.yaml --fats 250g --recipe > test-batch.yaml`,
		Args: arguments(1, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := out.check(); err != nil {
				return err
			}
			request := &lixiviumv1.ScaleRequest{}
			places, err := env.read(args[0], request)
			if err != nil {
				return err
			}
			if err := size.into(request, places); err != nil {
				return err
			}
			if request.GetFit() == nil {
				return refused("no size: neither `fit` in the file nor a flag", "add --mold, --batter, --fats, --bars or --stock; lixi scale --help shows them")
			}
			request.IncludeWorksheet = request.IncludeWorksheet || out.worksheet
			if out.request {
				return env.printJSON(request)
			}
			return env.scale(cmd.Context(), request, places, out, asRecipe)
		},
	}
	out.flags(cmd)
	out.call.flags(cmd)
	size.flags(cmd)
	cmd.Flags().BoolVar(&asRecipe, "recipe", false, "print the recipe at its new size as a recipe file, and nothing else")
	return cmd
}

// scale puts the call and prints its answer.
func (env *environment) scale(ctx context.Context, request *lixiviumv1.ScaleRequest, places *recipefile.Places, out output, asRecipe bool) error {
	answer, err := ask(ctx, env, func(ctx context.Context, s Service) (*lixiviumv1.ScaleResponse, error) {
		return s.Scale(ctx, request)
	})
	if err != nil {
		return ofCall(err, places, env)
	}
	f := answer.GetFormulation()
	env.danger = hasDanger(f.GetFindings(), f.GetSuperfat()) || hasDanger(answer.GetFindings(), nil)
	switch {
	case out.json:
		return env.printJSON(answer)
	case asRecipe:
		return env.printRecipe(answer.GetRecipe(), answer.GetBalances())
	}
	options := out.options(answer.GetRecipe(), answer.GetBalances())
	return env.print(sheet.Size(answer, options) + sheet.Formulation(f, options) + out.reckoning(f.GetWorksheet()))
}

// printRecipe writes a recipe as a file that every command reads.
func (env *environment) printRecipe(recipe *lixiviumv1.Recipe, balances []*lixiviumv1.Balance) error {
	dropEmpty(recipe)
	text, err := recipefile.Write(&lixiviumv1.FormulateRequest{Recipe: recipe, Balances: balances})
	if err != nil {
		return &failure{exit: ExitServer, items: []item{{err.Error(), "update this lixi; --json holds the recipe all the same"}}}
	}
	return env.print(text)
}

// dropEmpty takes out what a recipe says nothing by.
func dropEmpty(r *lixiviumv1.Recipe) {
	if p := r.GetProcess(); p != nil && p.String() == "" {
		r.Process = nil
	}
	if v := r.GetVessels(); v != nil && v.String() == "" {
		r.Vessels = nil
	}
}
