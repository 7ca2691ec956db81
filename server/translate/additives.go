package translate

import (
	"slices"
	"strings"
	"time"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"

	"lixivium.example/engine"
)

// Additives lists the additives whose id or name contains some text; case is
// ignored and no text means all.
func Additives(list []engine.AdditiveInfo, contains string) *lixiviumv1.ListAdditivesResponse {
	wanted := strings.ToLower(strings.TrimSpace(contains))
	out := &lixiviumv1.ListAdditivesResponse{}
	for i := range list {
		a := &list[i]
		if strings.Contains(strings.ToLower(a.ID), wanted) || strings.Contains(strings.ToLower(a.Name), wanted) {
			out.Additives = append(out.Additives, additive(a))
		}
	}
	slices.SortFunc(out.Additives, func(a, b *lixiviumv1.CatalogAdditive) int { return strings.Compare(a.GetId(), b.GetId()) })
	return out
}

func additive(a *engine.AdditiveInfo) *lixiviumv1.CatalogAdditive {
	return &lixiviumv1.CatalogAdditive{
		Id:             a.ID,
		Name:           a.Name,
		Plugin:         a.Plugin.Name,
		LowOfFatsPct:   a.LowOfFatsPct,
		HighOfFatsPct:  a.HighOfFatsPct,
		GPerTeaspoonUs: a.GPerTeaspoonUS,
		UsualStage:     lixiviumv1.Stage(a.UsualStage),
		WaterOnTop:     a.WaterOnTop,
		Parameters: each(a.Parameters, func(m *lixiviumv1.AdditiveParameter, p *engine.ParameterInfo) {
			m.Name, m.Unit, m.Min, m.Max, m.DefaultValue = p.Name, p.Unit, p.Min, p.Max, p.Default
		}),
	}
}

// PluginStatus is a plugin and how it does.
type PluginStatus struct {
	Name, Version, Digest, State, LastTrouble string
	Grants                                    []engine.Grant
	Additives                                 []string
	Restarts                                  int
	Calls                                     uint64
	MedianCall                                time.Duration
	ResidentBytes                             uint64
}

// Plugins lists plugins in order of name.
func Plugins(list []PluginStatus) *lixiviumv1.ListPluginsResponse {
	out := &lixiviumv1.ListPluginsResponse{}
	for i := range list {
		p := &list[i]
		grants := make([]string, len(p.Grants))
		for j, g := range p.Grants {
			grants[j] = string(g)
		}
		out.Plugins = append(out.Plugins, &lixiviumv1.PluginStatus{
			Name:          p.Name,
			Version:       p.Version,
			Digest:        p.Digest,
			State:         p.State,
			Grants:        grants,
			Additives:     slices.Clone(p.Additives),
			Restarts:      uint32(max(0, p.Restarts)),
			Calls:         p.Calls,
			MedianCallUs:  float64(p.MedianCall) / float64(time.Microsecond),
			ResidentBytes: p.ResidentBytes,
			LastTrouble:   p.LastTrouble,
		})
	}
	slices.SortFunc(out.Plugins, func(a, b *lixiviumv1.PluginStatus) int { return strings.Compare(a.GetName(), b.GetName()) })
	return out
}
