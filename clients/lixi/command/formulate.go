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

// formulate reads a file and asks for its batch.
func (env *environment) formulate(ctx context.Context, file string, worksheet bool) (*formulation, error) {
	request := &lixiviumv1.FormulateRequest{}
	places, err := env.read(file, request)
	if err != nil {
		return nil, err
	}
	request.IncludeWorksheet = request.IncludeWorksheet || worksheet
	answer, err := ask(ctx, env, func(ctx context.Context, s Service) (*lixiviumv1.FormulateResponse, error) {
		return s.Formulate(ctx, request)
	})
	if err != nil {
		return nil, ofCall(err, places, env)
	}
	env.danger = hasDanger(answer.GetFormulation().GetFindings(), answer.GetFormulation().GetSuperfat())
	return &formulation{request, places, answer}, nil
}

func newFormulate(env *environment) *cobra.Command {
	var out output
	var worksheet bool
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
			f, err := env.formulate(cmd.Context(), args[0], worksheet)
			if err != nil {
				return err
			}
			if out.json {
				return env.printJSON(f.answer)
			}
			options := out.options(f.request.GetRecipe(), f.request.GetBalances())
			options.FitLeftOut = f.places.Has("fit")
			text := sheet.Formulation(f.answer.GetFormulation(), options)
			if worksheet {
				text += "\nWORKSHEET\n" + sheet.Figures(f.answer.GetFormulation().GetWorksheet())
			}
			return env.print(text)
		},
	}
	out.flags(cmd)
	cmd.Flags().BoolVar(&worksheet, "worksheet", false, "add every line of the reckoning; lixi explain shows how they hang together")
	return cmd
}
