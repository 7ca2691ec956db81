package config

import (
	"encoding/hex"
	"net"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode"

	"lixivium.example/engine"
	"lixivium.example/server/host"
	"lixivium.example/server/host/wire"
)

// FuzzParse: whatever lixivium.yaml holds, it is read within its limits or
// refused with the file's name, a text and nothing that acts on a terminal.
func FuzzParse(f *testing.F) {
	for _, text := range []string{
		"", "# nothing\n", "listen: 127.0.0.1:0\n", "log: {level: debug, format: console}\n", "deadline_ceiling: 500ms\ndrain_timeout: 1h\n",
		"max_request_bytes: 2_000_000\nmax_concurrent_streams: 5\n", "listen: &a 127.0.0.1:1\nowners: {x: *a}\n", "a: &a [*a]\n", "listen: 1\nlisten: 2\n",
		"plugins:\n  - name: clays\n    file: bin/lixivium-clays\n    sha256: '00'\n    grants: [water, trace]\n    additives: [kaolin]\nowners:\n  kaolin: clays\n",
		"---\n---\n", "\tlisten: x\n", "? [a]\n: b\n", "!!binary x: y\n", "\xef\xbb\xbflisten: 127.0.0.1:1\r\n", "plugins: [{name: ~}]\n", "<<: {listen: 127.0.0.1:1}\n",
	} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		c, err := Parse("lixivium.yaml", text)
		if err != nil {
			for line := range strings.SplitSeq(err.Error(), "\n") {
				place, what, found := strings.Cut(line, ": ")
				if !found || !strings.HasPrefix(place, "lixivium.yaml") || strings.TrimSpace(what) == "" || strings.ContainsFunc(line, unicode.IsControl) {
					t.Errorf("refused with %q", line)
				}
			}
			return
		}
		if _, _, err := net.SplitHostPort(c.Listen); err != nil {
			t.Errorf("listens on %q", c.Listen)
		}
		if c.DeadlineCeiling < minDeadline || c.DeadlineCeiling > maxDeadline || c.DrainTimeout < 0 || c.DrainTimeout > maxDrain ||
			c.MaxRequestBytes < minRequestBytes || c.MaxRequestBytes > maxRequestBytes || c.MaxConcurrentStreams < minStreams || c.MaxConcurrentStreams > maxStreams {
			t.Errorf("accepted %+v", c)
		}
		for _, p := range c.Plugins {
			if p.Name == "" || p.SHA256 == "" || !filepath.IsAbs(p.File) || p.Place == "" {
				t.Errorf("accepted %+v", p)
			}
		}
	})
}

// FuzzPluginLine: the entry that lixiviumd prints for a plugin is read back as
// it was, whatever its file and its additives are called. A path that is not
// UTF-8 cannot stand in YAML.
func FuzzPluginLine(f *testing.F) {
	f.Add("clays", "/opt/lixivium-clays", "00ff", "kaolin", "olive-oil")
	f.Add("null", "/tmp/it's here: #1\n\t\u2028é\u0085\ufeff\\", "1e5", "on", "null")
	f.Fuzz(func(t *testing.T, name, file, digest, additive, fat string) {
		want := host.Line{
			Name: name, File: "/" + strings.ReplaceAll(strings.ToValidUTF8(file, ""), "\x00", ""), SHA256: hex.EncodeToString([]byte(digest)),
			Grants: []engine.Grant{engine.GrantWater, engine.GrantTrace}, Additives: []string{additive}, WatchesFats: []string{fat},
		}
		if !wire.IsID(name) || !wire.IsID(additive) || !wire.IsID(fat) || want.SHA256 == "" {
			return // no plugin that says so of itself gets as far as a line
		}
		c, err := Parse("/etc/lixivium/lixivium.yaml", []byte("plugins:\n"+want.YAML()))
		if err != nil {
			t.Fatalf("%v\nin %s", err, want.YAML())
		}
		got := c.Plugins[0]
		if got.Name != want.Name || got.File != want.File || got.SHA256 != want.SHA256 || !slices.Equal(got.Grants, []string{"water", "trace"}) ||
			!slices.Equal(got.Additives, want.Additives) || !slices.Equal(got.WatchesFats, want.WatchesFats) {
			t.Errorf("%+v is read back as %+v", want, got)
		}
	})
}
