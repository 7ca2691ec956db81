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

func newExplain(env *environment) *cobra.Command {
	var prices string
	cmd := &cobra.Command{
		Use:   "explain FILE|- [FIGURE]",
		Short: "Show how one figure came about, down to its sources",
		Long: `explain works out a recipe file and prints the chain behind one figure: the
arithmetic, what it reads, and so on down to lines of your file, rows of the
data and where these come from. Without a figure it lists all there are. A file
with weighed masses under actual is explained as weighed. With --prices the
chain is that of the cost, down to the packs of the price file.

Exit codes: 0 fine, 2 refused, 3 no answer.`,
		Example: `  lixi explain kitchen-bar.yaml
  lixi explain kitchen-bar.yaml alkali.naoh_g
  lixi explain kitchen-bar.yaml cost.per_bar --prices prices.yaml`,
		Args: arguments(1, 2),
		RunE: func(cmd *cobra.Command, args []string) error {
			worksheet, places, err := env.reckoning(cmd.Context(), args[0], prices)
			if err != nil {
				return err
			}
			if len(worksheet) == 0 {
				return &failure{exit: ExitServer, items: []item{{"the answer holds no worksheet", "update the server that was asked, or leave --server out"}}}
			}
			if len(args) == 1 {
				return env.print(sheet.Figures(worksheet))
			}
			text := sheet.Chain(worksheet, args[1], places.Of)
			if text == "" {
				return unknownFigure(args[1], worksheet)
			}
			return env.print(text)
		},
	}
	pricesFlag(cmd, &prices)
	return cmd
}

// reckoning reads a file and asks for its worksheet: that of the weighed masses
// where the file holds some, else that of the batch; with prices that of its cost.
func (env *environment) reckoning(ctx context.Context, file, prices string) ([]*lixiviumv1.WorksheetLine, *recipefile.Places, error) {
	if prices != "" {
		request, places, err := env.costRequest([]string{file}, costOptions{prices: prices})
		if err != nil {
			return nil, nil, err
		}
		request.IncludeWorksheet = true
		answer, err := env.cost(ctx, request, places)
		var worksheet []*lixiviumv1.WorksheetLine
		for _, c := range answer.GetCostings() { // there is one
			worksheet = c.GetWorksheet()
		}
		return worksheet, places, err
	}
	request := &lixiviumv1.ReconcileWeightsRequest{}
	places, err := env.read(file, request)
	if err != nil {
		return nil, nil, err
	}
	request.IncludeWorksheet = true
	worksheet, err := ask(ctx, env, func(ctx context.Context, s Service) ([]*lixiviumv1.WorksheetLine, error) {
		if len(request.GetActual()) > 0 {
			weighed, err := s.ReconcileWeights(ctx, request)
			return weighed.GetWorksheet(), err
		}
		answer, err := s.Formulate(ctx, planOf(request))
		return answer.GetFormulation().GetWorksheet(), err
	})
	if err != nil {
		return nil, nil, ofCall(err, places, env)
	}
	return worksheet, places, nil
}

func unknownFigure(word string, worksheet []*lixiviumv1.WorksheetLine) error {
	ids := make([]string, len(worksheet))
	for i, l := range worksheet {
		ids[i] = l.GetId()
	}
	next := "lixi explain FILE lists the figures of a recipe"
	if near := recipefile.Nearest(word, ids); len(near) > 0 {
		next = "did you mean " + strings.Join(near, " or ") + "? " + next
	}
	return refused(fmt.Sprintf("this recipe has no figure %q", word), next)
}
