package translate

import (
	"testing"
	"time"

	"lixivium.example/engine"
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

func TestAdditives(t *testing.T) {
	list := []engine.AdditiveInfo{
		{ID: "rose-clay", Name: "Rose clay", Plugin: engine.PluginOrigin{Name: "clays"}, UsualStage: engine.StageTrace},
		{ID: "citric-acid", Name: "Citric acid", Plugin: engine.PluginOrigin{Name: "acids"}, LowOfFatsPct: 0.1, HighOfFatsPct: 3,
			GPerTeaspoonUS: 4.6, UsualStage: engine.StageWaterBeforeLye, WaterOnTop: true,
			Parameters: []engine.ParameterInfo{{Name: "monohydrate", Unit: "1", Min: 0, Max: 1, Default: 0}}},
	}
	all := Additives(list, "").GetAdditives()
	if len(all) != 2 || all[0].GetId() != "citric-acid" || all[1].GetPlugin() != "clays" {
		t.Fatalf("%v", all)
	}
	if a := all[0]; a.GetUsualStage() != lixiviumv1.Stage_STAGE_WATER_BEFORE_LYE || a.GetParameters()[0].GetMax() != 1 ||
		a.GetHighOfFatsPct() != 3 || a.GetGPerTeaspoonUs() != 4.6 || !a.GetWaterOnTop() {
		t.Errorf("%v", a)
	}
	if some := Additives(list, "CLAY").GetAdditives(); len(some) != 1 || some[0].GetId() != "rose-clay" {
		t.Errorf("%v", some)
	}
}

func TestPlugins(t *testing.T) {
	got := Plugins([]PluginStatus{
		{Name: "sugars"},
		{Name: "acids", Version: "1", Digest: "sha256:a", State: "ready", LastTrouble: "PLUGIN_CRASHED", Grants: []engine.Grant{engine.GrantAlkali},
			Additives: []string{"vinegar"}, Restarts: 2, Calls: 7, MedianCall: 1500 * time.Nanosecond, ResidentBytes: 9},
	}).GetPlugins()
	if len(got) != 2 || got[0].GetName() != "acids" {
		t.Fatalf("%v", got)
	}
	if p := got[0]; p.GetGrants()[0] != "alkali" || p.GetMedianCallUs() != 1.5 || p.GetRestarts() != 2 || p.GetCalls() != 7 ||
		p.GetResidentBytes() != 9 || p.GetLastTrouble() != "PLUGIN_CRASHED" || p.GetState() != "ready" || p.GetAdditives()[0] != "vinegar" {
		t.Errorf("%v", p)
	}
}
