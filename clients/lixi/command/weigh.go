package command

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"lixivium.example/clients/lixi/recipefile"
	"lixivium.example/clients/lixi/sheet"
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

func newWeigh(env *environment) *cobra.Command {
	var out output
	var actual []string
	cmd := &cobra.Command{
		Use:   "weigh FILE|- [--actual ID=MASS]...",
		Short: "Before lye and fats meet: compare what was weighed with the plan",
		Long: `weigh takes what was really weighed and says which superfat that implies. Either
it says to go on, or what to add to which line to put the batch right. After
lye and fats are combined there is no such way back.

Weighed masses stand in the file under actual, or behind --actual; a line that
is not named was weighed as planned. Lines are named by the ids of the recipe,
the lye by water, naoh and koh.

Exit codes: 0 fine, 1 a danger finding, 2 refused, 3 no answer.`,
		Example: `  lixi weigh kitchen-bar.yaml --actual naoh=145g --actual olive-oil=702g
  lixi weigh before-combining.yaml`,
		Args: arguments(1, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := out.check(); err != nil {
				return err
			}
			request := &lixiviumv1.ReconcileWeightsRequest{}
			places, err := env.read(args[0], request)
			if err != nil {
				return err
			}
			if places.Has("fit") {
				return refused(places.Of("fit")+": fit: masses are weighed against the size of the recipe, not against its fit",
					"write the recipe at that size with lixi scale --recipe, and weigh against that")
			}
			if err := addActual(request, actual, places); err != nil {
				return err
			}
			if len(request.GetActual()) == 0 {
				return env.nothingWeighed(cmd.Context(), request, places)
			}
			request.IncludeWorksheet = request.IncludeWorksheet || out.worksheet
			if out.request {
				return env.printJSON(request)
			}
			return env.weigh(cmd.Context(), request, places, out)
		},
	}
	out.flags(cmd)
	out.call.flags(cmd)
	cmd.Flags().StringArrayVar(&actual, "actual", nil, "what was weighed on a line, such as naoh=139.5g; may be repeated")
	return cmd
}

// weigh puts the call and prints its answer.
func (env *environment) weigh(ctx context.Context, request *lixiviumv1.ReconcileWeightsRequest, places *recipefile.Places, out output) error {
	answer, err := ask(ctx, env, func(ctx context.Context, s Service) (*lixiviumv1.ReconcileWeightsResponse, error) {
		return s.ReconcileWeights(ctx, request)
	})
	if err != nil {
		return ofCall(err, places, env)
	}
	env.danger = hasDanger(answer.GetFindings(), answer.GetSuperfat())
	if out.json {
		return env.printJSON(answer)
	}
	text := sheet.Reconciliation(answer, out.options(request.GetRecipe(), request.GetBalances()))
	return env.print(text + out.reckoning(answer.GetWorksheet()))
}

// addActual adds the masses given by flag to those of the file.
func addActual(request *lixiviumv1.ReconcileWeightsRequest, flags []string, places *recipefile.Places) error {
	f := &failure{exit: ExitRefused}
	named := map[string]bool{}
	for _, a := range request.GetActual() {
		named[a.GetLineId()] = true
	}
	for _, text := range flags {
		id, amount, ok := strings.Cut(text, "=")
		if !ok || id == "" {
			f.items = append(f.items, item{fmt.Sprintf("--actual %q names no line and mass", text), "write the id of a line and what was weighed, such as --actual naoh=139.5g"})
			continue
		}
		mass, bad, next := recipefile.ParseQuantity(amount)
		switch {
		case bad != "":
			f.items = append(f.items, item{fmt.Sprintf("--actual %q: %s", text, bad), next})
			continue
		case named[id]:
			f.items = append(f.items, item{fmt.Sprintf("--actual %q: a mass of this line was given before", text), "give each line once, in the file or behind --actual"})
			continue
		}
		named[id] = true
		places.Note(fmt.Sprintf("actual[%d]", len(request.GetActual())), fmt.Sprintf("--actual %q", text))
		request.Actual = append(request.Actual, &lixiviumv1.ActualWeight{LineId: id, Mass: mass})
	}
	if len(f.items) > 0 {
		return f
	}
	return nil
}

// nothingWeighed refuses a comparison with nothing, and names the lines that
// could have been weighed.
func (env *environment) nothingWeighed(ctx context.Context, request *lixiviumv1.ReconcileWeightsRequest, places *recipefile.Places) error {
	answer, err := ask(ctx, env, func(ctx context.Context, s Service) (*lixiviumv1.FormulateResponse, error) {
		return s.Formulate(ctx, planOf(request))
	})
	if err != nil {
		return ofCall(err, places, env)
	}
	var ids []string
	for _, l := range answer.GetFormulation().GetWeighOut() {
		ids = append(ids, l.GetLineId())
	}
	return refused("nothing was weighed yet: neither `actual` in the file nor --actual",
		"add --actual ID=MASS; the lines are "+strings.Join(ids, ", "))
}

// planOf is the request for the batch that masses are weighed against.
func planOf(r *lixiviumv1.ReconcileWeightsRequest) *lixiviumv1.FormulateRequest {
	return &lixiviumv1.FormulateRequest{
		Recipe: r.GetRecipe(), Balances: r.GetBalances(), AllowIncomplete: r.GetAllowIncomplete(), IncludeWorksheet: r.GetIncludeWorksheet(),
	}
}
