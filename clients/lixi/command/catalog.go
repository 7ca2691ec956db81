package command

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"
	"google.golang.org/protobuf/proto"

	"lixivium.example/clients/lixi/sheet"
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

func newCatalog(env *environment) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "catalog",
		Short: "List what is known: fats, additives, water, findings, versions",
		Long: `catalog lists what recipes can name and what answers can say. All of it comes
from the service that is asked, so that --server shows what that server knows.

Exit codes: 0 fine, 2 refused, 3 no answer.`,
		Example: "  lixi catalog fats olive",
		Args:    cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return cmd.Help()
			}
			return unknownCommand(cmd, args[0])
		},
	}
	cmd.AddCommand(newCatalogFats(env), newCatalogAdditives(env),
		listing(env, "water", "List the ways to ask for water and what each means",
			func(ctx context.Context, s Service) (*lixiviumv1.ListWaterReferencesResponse, error) {
				return s.ListWaterReferences(ctx, &lixiviumv1.ListWaterReferencesRequest{})
			}, sheet.WaterReferences),
		listing(env, "findings", "List every finding of the engine; plugins add findings of their own",
			func(ctx context.Context, s Service) (*lixiviumv1.ListFindingCodesResponse, error) {
				return s.ListFindingCodes(ctx, &lixiviumv1.ListFindingCodesRequest{})
			}, sheet.FindingCodes),
		listing(env, "versions", "Show the versions of server, engine and data",
			func(ctx context.Context, s Service) (*lixiviumv1.GetVersionsResponse, error) {
				return s.GetVersions(ctx, &lixiviumv1.GetVersionsRequest{})
			}, sheet.Versions))
	return cmd
}

func newCatalogFats(env *environment) *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "fats [NAME]",
		Short: "List the fats; with a part of a name, those that fit",
		Long: `fats lists the fats of the catalog with the saponification value in use, its
range and what it rests on. With a name, or a part of one, it lists those that
fit; a single one is shown in full. Names that mean several fats are told.`,
		Example: "  lixi catalog fats\n  lixi catalog fats coconut",
		Args:    arguments(0, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			request := &lixiviumv1.ListFatsRequest{}
			if len(args) == 1 {
				request.NameContains = args[0]
			}
			answer, err := ask(cmd.Context(), env, func(ctx context.Context, s Service) (*lixiviumv1.ListFatsResponse, error) {
				return s.ListFats(ctx, request)
			})
			switch {
			case err != nil:
				return ofCall(err, nil, env)
			case asJSON:
				return env.printJSON(answer)
			case len(answer.GetFats()) == 0 && len(answer.GetAmbiguousNames()) == 0:
				return refused(fmt.Sprintf("no fat of the catalog has %q in its name", request.NameContains),
					"lixi catalog fats lists them all; a fat that is not there can be declared under custom")
			}
			return env.print(sheet.Fats(answer))
		},
	}
	jsonFlag(cmd, &asJSON)
	return cmd
}

// listing makes a command that prints one list of the catalog.
func listing[A proto.Message](env *environment, name, short string, call func(context.Context, Service) (A, error), write func(A) string) *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:     name,
		Short:   short,
		Long:    short + ".",
		Example: "  lixi catalog " + name,
		Args:    arguments(0, 0),
		RunE: func(cmd *cobra.Command, _ []string) error {
			answer, err := ask(cmd.Context(), env, call)
			if err != nil {
				return ofCall(err, nil, env)
			}
			if asJSON {
				return env.printJSON(answer)
			}
			return env.print(write(answer))
		},
	}
	jsonFlag(cmd, &asJSON)
	return cmd
}

func jsonFlag(cmd *cobra.Command, into *bool) {
	cmd.Flags().BoolVar(into, "json", false, "print the answer message as JSON, names as in the contract")
}
