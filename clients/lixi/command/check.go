package command

import (
	"github.com/spf13/cobra"

	"lixivium.example/clients/lixi/sheet"
)

func newCheck(env *environment) *cobra.Command {
	var out output
	cmd := &cobra.Command{
		Use:   "check FILE|-",
		Short: "Judge a recipe, without the weights",
		Long: `check works out a recipe file and prints the verdict first: the superfat with
its interval, the chance that alkali is left over, what other assumptions would
give, and every finding. It is made for recipes with given alkali, from a book
or a friend, and takes any other too.

Exit codes: 0 fine, 1 a danger finding, 2 refused, 3 no answer.`,
		Example: `  lixi check lye-heavy-check.yaml
  lixi check lye-heavy-check.yaml || echo "look at it again"`,
		Args: arguments(1, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := out.check(); err != nil {
				return err
			}
			f, err := env.readFormulation(args[0], false)
			if err != nil {
				return err
			}
			if err := env.formulate(cmd.Context(), f); err != nil {
				return err
			}
			if out.json {
				return env.printJSON(f.answer)
			}
			return env.print(sheet.Judgement(f.answer.GetFormulation(), out.options(f.request.GetRecipe(), f.request.GetBalances())))
		},
	}
	out.flags(cmd)
	return cmd
}
