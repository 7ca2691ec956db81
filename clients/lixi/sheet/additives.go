package sheet

import (
	"fmt"
	"strings"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// Additives lists the additives that plugins own.
func Additives(r *lixiviumv1.ListAdditivesResponse) string {
	p := &page{}
	if len(r.GetAdditives()) == 0 {
		p.wrap("", "", "No additive is owned here. Plugins are named in lixivium.yaml; without one, give a dose your own figures (custom).")
		return p.String()
	}
	for _, a := range r.GetAdditives() {
		p.blank()
		p.wrapf("", "  ", "%s, %s (plugin %s)", a.GetId(), a.GetName(), a.GetPlugin())
		if a.GetHighOfFatsPct() > 0 {
			p.wrapf("  ", "  ", "usual dose %s to %s %% of the fats", plain(a.GetLowOfFatsPct()), plain(a.GetHighOfFatsPct()))
		}
		if g := a.GetGPerTeaspoonUs(); g > 0 {
			p.wrapf("  ", "  ", "about %s g in a level US teaspoon", plain(g))
		}
		stage := strings.ReplaceAll(strings.ToLower(strings.TrimPrefix(a.GetUsualStage().String(), "STAGE_")), "_", " ")
		water := ""
		if a.GetWaterOnTop() {
			water = "; its water counts on top"
		}
		p.wrapf("  ", "  ", "usual stage: %s%s", stage, water)
		for _, q := range a.GetParameters() {
			p.wrapf("  ", "    ", "%s: %s to %s, %s when not said; %s", q.GetName(), plain(q.GetMin()), plain(q.GetMax()), plain(q.GetDefaultValue()), q.GetUnit())
		}
	}
	return p.String()
}

// Plugins lists plugins with their health.
func Plugins(r *lixiviumv1.ListPluginsResponse) string {
	p := &page{}
	if len(r.GetPlugins()) == 0 {
		p.wrap("", "", "No plugin is named in lixivium.yaml. lixiviumd plugin-line FILE prints the entry for one.")
		return p.String()
	}
	for _, x := range r.GetPlugins() {
		p.blank()
		version := x.GetVersion()
		if version != "" {
			version = " " + version
		}
		p.wrapf("", "  ", "%s%s: %s", x.GetName(), version, x.GetState())
		p.wrapf("  ", "    ", "may move: %s", strings.Join(x.GetGrants(), ", "))
		p.wrapf("  ", "    ", "additives: %s", strings.Join(x.GetAdditives(), ", "))
		if x.GetCalls() > 0 || x.GetRestarts() > 0 {
			p.wrapf("  ", "    ", "%d calls, median %s µs; %d restarts; %s in memory", x.GetCalls(), plain(x.GetMedianCallUs()), x.GetRestarts(), megabytes(x.GetResidentBytes()))
		}
		if t := x.GetLastTrouble(); t != "" {
			p.wrapf("  ", "    ", "last trouble: %s", t)
		}
		if d := x.GetDigest(); d != "" {
			p.wrapf("  ", "    ", "digest %s", d)
		}
	}
	return p.String()
}

func megabytes(b uint64) string { return fmt.Sprintf("%.1f MB", float64(b)/1e6) }

// plain writes a number with no more figures than it needs.
func plain(v float64) string { return fmt.Sprintf("%.4g", v) }
