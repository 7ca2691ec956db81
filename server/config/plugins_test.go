package config

import (
	"path/filepath"
	"strings"
	"testing"
)

func TestPlugins(t *testing.T) {
	c, err := Parse("/shop/lixivium.yaml", []byte(`plugins:
  - name: acids
    file: plugins/lixivium-acids
    sha256: ab
    grants: [alkali, water]
    additives: [citric-acid]
  - {name: other, file: /opt/other, sha256: cd, watches_fats: [beeswax]}
owners: {citric-acid: acids}
`))
	if err != nil {
		t.Fatal(err)
	}
	if len(c.Plugins) != 2 || c.Plugins[0].File != filepath.FromSlash("/shop/plugins/lixivium-acids") || c.Plugins[1].File != "/opt/other" {
		t.Errorf("%+v", c.Plugins)
	}
	if p := c.Plugins[0]; strings.Join(p.Grants, " ") != "alkali water" || p.Additives[0] != "citric-acid" || p.Place != "/shop/lixivium.yaml:2:5" {
		t.Errorf("%+v", p)
	}
	if c.Plugins[1].WatchesFats[0] != "beeswax" || c.Owners["citric-acid"] != "acids" {
		t.Errorf("%+v", c)
	}
}

func TestBadPlugins(t *testing.T) {
	for text, want := range map[string]string{
		"plugins: acids":                            "c.yaml:1:10: plugins is",
		"plugins:\n  - {name: a, sha256: b}":        "c.yaml:2:5: plugins: this entry has no file; lixiviumd plugin-line FILE prints the whole entry",
		"plugins:\n  - {nam: a}":                    `"nam" is no key of plugins`,
		"plugins:\n  - {name: a, grants: water}":    "c.yaml:2:23: plugins.grants is",
		"plugins:\n  - {name: [a]}":                 "c.yaml:2:12: plugins.name is a list",
		"owners: [a]":                               "c.yaml:1:9: owners is a list; write additive: plugin",
		"owners: {honey: sugars, honey: otherwise}": `"honey" stands here a second time`,
	} {
		_, err := Parse("c.yaml", []byte(text))
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}
