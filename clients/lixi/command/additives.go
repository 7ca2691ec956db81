package command

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"lixivium.example/clients/lixi/sheet"
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

func newCatalogAdditives(env *environment) *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "additives [NAME]",
		Short: "List the additives that plugins own; with a part of a name, those that fit",
		Long: `additives lists what a dose can name under additive, with usual doses, the moment
of use and the parameters a dose can set. The rules run as plugins, which
lixivium.yaml names.`,
		Example: "  lixi catalog additives\n  lixi catalog additives clay",
		Args:    arguments(0, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			request := &lixiviumv1.ListAdditivesRequest{}
			if len(args) == 1 {
				request.NameContains = args[0]
			}
			answer, err := ask(cmd.Context(), env, func(ctx context.Context, s Service) (*lixiviumv1.ListAdditivesResponse, error) {
				return s.ListAdditives(ctx, request)
			})
			switch {
			case err != nil:
				return ofCall(err, nil, env)
			case asJSON:
				return env.printJSON(answer)
			case len(answer.GetAdditives()) == 0 && request.NameContains != "":
				return refused(fmt.Sprintf("no additive owned here has %q in its name", request.NameContains),
					"lixi catalog additives lists them all; a dose can also carry your own figures (custom)")
			}
			return env.print(sheet.Additives(answer))
		},
	}
	jsonFlag(cmd, &asJSON)
	return cmd
}

// newPlugins lists the plugins with their health; with a name, one of them with
// what it owns.
func newPlugins(env *environment) *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "plugins [NAME]",
		Short: "List the additive plugins, their rights, health, restarts and times",
		Long: `plugins lists the plugins that lixivium.yaml accepts: what each may move, which
additives it owns, and how it does. In this process they are started for it;
with --server it shows those of the running server, with their restarts and the
time of a call. With a name it explains one plugin: its state and its additives.`,
		Example: "  lixi plugins\n  lixi plugins clays --server 127.0.0.1:7450",
		Args:    arguments(0, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			var additives *lixiviumv1.ListAdditivesResponse
			answer, err := ask(cmd.Context(), env, func(ctx context.Context, s Service) (*lixiviumv1.ListPluginsResponse, error) {
				var err error
				if additives, err = s.ListAdditives(ctx, &lixiviumv1.ListAdditivesRequest{}); err != nil {
					return nil, err
				}
				return s.ListPlugins(ctx, &lixiviumv1.ListPluginsRequest{})
			})
			if err != nil {
				return ofCall(err, nil, env)
			}
			if len(args) == 1 {
				return env.explainPlugin(args[0], answer, additives, asJSON)
			}
			if asJSON {
				return env.printJSON(answer)
			}
			return env.print(sheet.Plugins(answer))
		},
	}
	jsonFlag(cmd, &asJSON)
	return cmd
}

// explainPlugin prints one plugin and what it owns.
func (env *environment) explainPlugin(name string, all *lixiviumv1.ListPluginsResponse, additives *lixiviumv1.ListAdditivesResponse, asJSON bool) error {
	one := &lixiviumv1.ListPluginsResponse{}
	for _, p := range all.GetPlugins() {
		if p.GetName() == name {
			one.Plugins = append(one.Plugins, p)
		}
	}
	if len(one.GetPlugins()) == 0 {
		return refused(fmt.Sprintf("no plugin is named %q here", name), "lixi plugins lists them")
	}
	if asJSON {
		return env.printJSON(one)
	}
	owned := &lixiviumv1.ListAdditivesResponse{}
	for _, a := range additives.GetAdditives() {
		if a.GetPlugin() == name {
			owned.Additives = append(owned.Additives, a)
		}
	}
	text := sheet.Plugins(one)
	if len(owned.GetAdditives()) > 0 {
		text += "\n" + sheet.Additives(owned)
	}
	return env.print(text)
}
