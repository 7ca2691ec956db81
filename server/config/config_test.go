package config

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/rs/zerolog"
)

func TestEveryKey(t *testing.T) {
	got, err := Parse("f", []byte(`# limits
listen: "[::1]:0"
deadline_ceiling: 1500ms
max_request_bytes: 2_000_000
max_concurrent_streams: 7
max_connections: 9
drain_timeout: 0s
log:
  level: debug
  format: console
`))
	want := Config{
		Listen: "[::1]:0", ListenPlace: "f:2:9", DeadlineCeiling: 1500 * time.Millisecond, MaxRequestBytes: 2_000_000,
		MaxConcurrentStreams: 7, MaxConnections: 9, DrainTimeout: 0, Log: Log{Level: zerolog.DebugLevel, Format: Console},
	}
	if err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v, %v\nwant %+v", got, err, want)
	}
}

func TestNothingSaid(t *testing.T) {
	for _, text := range []string{"", "# only a comment\n", "---\n", "log:\n", "log: {}\n", "{}\n"} {
		if got, err := Parse("f", []byte(text)); err != nil || !reflect.DeepEqual(got, Default()) {
			t.Errorf("%q: %+v, %v", text, got, err)
		}
	}
}

// TestFaults: each message begins with the place and says what to do.
func TestFaults(t *testing.T) {
	for text, want := range map[string]string{
		"listn: 127.0.0.1:1\n":                 `f:1:1: "listn" is no key of this file. Did you mean "listen"? Keys: listen, `,
		"log:\n  levle: info\n":                `f:2:3: "levle" is no key of log. Did you mean "level"? Keys: level, format`,
		"plugins_of_mine: 1\n":                 `f:1:1: "plugins_of_mine" is no key of this file. Keys: `,
		"listen: a:1\nlisten: b:1\n":           `f:2:1: "listen" stands here a second time, first on line 1`,
		"listen: 7450\n":                       `f:1:9: listen: "7450" is not host:port. Write it like 127.0.0.1:7450`,
		"listen: 127.0.0.1:http\n":             `f:1:9: listen: the port "http" is no number from 0 to 65535`,
		"listen: 127.0.0.1:70000\n":            `f:1:9: listen: the port "70000" is no number`,
		"listen:\n":                            `f:1:8: listen is nothing; write host:port`,
		"listen: [a]\n":                        `f:1:9: listen is a list; write host:port`,
		"a: &x 1\nlisten: *x\n":                `f:2:9: listen is a reference to another place (*x)`,
		"deadline_ceiling: 10\n":               `f:1:19: deadline_ceiling: "10" is no time with a unit. Write it like 500ms`,
		"deadline_ceiling: 0s\n":               `f:1:19: deadline_ceiling: 0s is outside 10ms to 10m0s`,
		"drain_timeout: -1s\n":                 `f:1:16: drain_timeout: -1s is outside 0s to 1h0m0s`,
		"max_request_bytes: 1MiB\n":            `f:1:20: max_request_bytes: "1MiB" is no whole number. Write it in digits, from 1024 to 67108864`,
		"max_request_bytes: 12\n":              `f:1:20: max_request_bytes: 12 is outside 1024 to`,
		"max_concurrent_streams: 0\n":          `f:1:25: max_concurrent_streams: 0 is outside 1 to 10000`,
		"max_concurrent_streams: 4294967297\n": `f:1:25: max_concurrent_streams: 4294967297 is outside`,
		"max_connections: 0\n":                 `f:1:18: max_connections: 0 is outside 1 to 100000`,
		"log: loud\n":                          `f:1:6: log holds keys and values (level, format), not "loud"`,
		"log: {level: inf}\n":                  `f:1:14: log.level: "inf" is none of debug, info, warn, error. Did you mean "info"?`,
		"log: {format: xml}\n":                 `f:1:15: log.format: "xml" is none of json, console`,
		"- listen\n":                           `f:1:1: this file holds keys and values (listen, `,
		"hello\n":                              `f:1:1: this file holds keys and values`,
		"listen: a:1\n---\nlisten: b:1\n":      `f:2:1: a second document begins here`,
		"log: {level: info\n":                  `f:`,
		"listen: 127.0.0.1:1\n  log: {}\n":     `f:2: the YAML cannot be read`,
		"\tlisten: a\n":                        `f:1:1: a tab indents this line; YAML wants spaces`,
		"log:\n  \tlevel: info\n":              `f:2:3: a tab indents`,
	} {
		_, err := Parse("f", []byte(text))
		if err == nil {
			t.Errorf("%q is accepted", text)
		} else if !strings.Contains(err.Error(), want) {
			t.Errorf("%q:\ngot  %s\nwant %s", text, err, want)
		}
	}
}

func TestAllFaultsAtOnce(t *testing.T) {
	_, err := Parse("f", []byte("listn: 1\ndrain_timeout: x\nlog: {level: x, formt: y}\n"))
	if err == nil || strings.Count(err.Error(), "\n") != 3 {
		t.Errorf("got %v", err)
	}
}

func write(t *testing.T, name, text string) string {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return name
}

func TestLoad(t *testing.T) {
	dir := t.TempDir()
	first, second := filepath.Join(dir, "a", FileName), filepath.Join(dir, "b", FileName)
	places := []string{first, second}

	c, file, err := Load("", places)
	if err != nil || file != "" || !reflect.DeepEqual(c, Default()) {
		t.Errorf("no file: %+v, %q, %v", c, file, err)
	}
	write(t, second, "max_concurrent_streams: 2\n")
	if c, file, err = Load("", places); err != nil || file != second || c.MaxConcurrentStreams != 2 {
		t.Errorf("second place: %+v, %q, %v", c, file, err)
	}
	write(t, first, "max_concurrent_streams: 1\n")
	if c, file, err = Load("", places); err != nil || file != first || c.MaxConcurrentStreams != 1 {
		t.Errorf("first place: %+v, %q, %v", c, file, err)
	}
	named := write(t, filepath.Join(dir, "mine.yaml"), "max_concurrent_streams: 3\n")
	if c, file, err = Load(named, places); err != nil || file != named || c.MaxConcurrentStreams != 3 {
		t.Errorf("named: %+v, %q, %v", c, file, err)
	}
	// A file that is there and wrong is not passed over for the next place.
	write(t, first, "max_concurrent_streams: none\n")
	if _, _, err = Load("", places); err == nil || !strings.HasPrefix(err.Error(), first+":1:25: ") {
		t.Errorf("wrong file: %v", err)
	}
}

func TestLoadFaults(t *testing.T) {
	dir := t.TempDir()
	big := write(t, filepath.Join(dir, "big.yaml"), strings.Repeat("#", maxFileBytes+1))
	for name, want := range map[string]string{
		filepath.Join(dir, "missing.yaml"): "there is no such file",
		dir:                                "this is a folder",
		big:                                "more than a configuration has",
	} {
		if _, _, err := Load(name, nil); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestPlaces: never the current folder, whatever the environment says.
func TestPlaces(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", "/home/someone/settings")
	want := "/home/someone/settings/lixivium/lixivium.yaml"
	if got := Places(); len(got) != 3 || got[0] != want || got[1] != "/etc/lixivium/lixivium.yaml" {
		t.Errorf("got %v", got)
	}
	t.Setenv("XDG_CONFIG_HOME", ".")
	for _, place := range Places() {
		if !filepath.IsAbs(place) {
			t.Errorf("%s is in the current folder", place)
		}
	}
}
