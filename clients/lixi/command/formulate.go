package command

import (
	"context"

	"github.com/spf13/cobra"

	"lixivium.example/clients/lixi/recipefile"
	"lixivium.example/clients/lixi/sheet"
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// formulation is what formulate and check have in common: a recipe
// file that becomes a settled batch.
type formulation struct {
	request *lixiviumv1.FormulateRequest
	places  *recipefile.Places
	answer  *lixiviumv1.FormulateResponse
}

// readFormulation reads a file.
func (env *environment) readFormulation(file string, worksheet bool) (*formulation, error) {
	request := &lixiviumv1.FormulateRequest{}
	places, err := env.read(file, request)
	request.IncludeWorksheet = request.IncludeWorksheet || worksheet
	return &formulation{request: request, places: places}, err
}

// formulate asks for the batch of what was read.
func (env *environment) formulate(ctx context.Context, f *formulation) error {
	answer, err := ask(ctx, env, func(ctx context.Context, s Service) (*lixiviumv1.FormulateResponse, error) {
		return s.Formulate(ctx, f.request)
	})
	if err != nil {
		return ofCall(err, f.places, env)
	}
	env.danger = hasDanger(answer.GetFormulation().GetFindings(), answer.GetFormulation().GetSuperfat())
	f.answer = answer
	return nil
}

func newFormulate(env *environment) *cobra.Command {
	var out output
	cmd := &cobra.Command{
		Use:   "formulate FILE|-",
		Short: "Print the sheet to weigh a batch out by",
		Long: `formulate works out a recipe file and prints the sheet to weigh out by: the
superfat and how sure it is, the water, what to look at first, then every line
with a checkbox, vessel by vessel in the order of use.

A recipe with given alkali is judged; its sheet shows the weights as given.
With - the recipe is read from standard input.

Exit codes: 0 fine, 1 a danger finding, 2 refused, 3 no answer.`,
		Example: `  lixi formulate kitchen-bar.yaml
  lixi formulate --unit oz kitchen-bar.yaml
  lixi formulate --json --worksheet - < kitchen-bar.yaml`,
		Args: arguments(1, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := out.check(); err != nil {
				return err
			}
			f, err := env.readFormulation(args[0], out.worksheet)
			if err != nil {
				return err
			}
			if out.request {
				return env.printJSON(f.request)
			}
			if err := env.formulate(cmd.Context(), f); err != nil {
				return err
			}
			if out.json {
				return env.printJSON(f.answer)
			}
			options := out.options(f.request.GetRecipe(), f.request.GetBalances())
			options.FitLeftOut = f.places.Has("fit")
			return env.print(sheet.Formulation(f.answer.GetFormulation(), options) + out.reckoning(f.answer.GetFormulation().GetWorksheet()))
		},
	}
	out.flags(cmd)
	out.call.flags(cmd)
	return cmd
}
