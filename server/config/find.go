package config

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
)

// FileName is the name of the configuration file.
const FileName = "lixivium.yaml"

// maxFileBytes is far above any configuration, so that a wrong path to a large
// file is told at once.
const maxFileBytes = 1 << 20

// Places lists where the file is looked for, in order. A folder that this
// machine does not tell is left out.
func Places() []string {
	var places []string
	// UserConfigDir refuses a relative folder itself; it is then skipped, as
	// it would lead to the current folder.
	if dir, err := os.UserConfigDir(); err == nil {
		places = append(places, filepath.Join(dir, "lixivium", FileName))
	}
	if dir := systemFolder(); filepath.IsAbs(dir) {
		places = append(places, filepath.Join(dir, "lixivium", FileName))
	}
	if exe, err := os.Executable(); err == nil && filepath.IsAbs(exe) {
		places = append(places, filepath.Join(filepath.Dir(exe), FileName))
	}
	return places
}

func systemFolder() string {
	if runtime.GOOS == "windows" {
		return os.Getenv("ProgramData")
	}
	return "/etc"
}

// Load reads the named file, or with an empty name the first of places that
// exists. It gives the file read; empty: none, and the defaults hold.
func Load(name string, places []string) (Config, string, error) {
	if name != "" {
		c, err := readFile(name)
		if errors.Is(err, fs.ErrNotExist) {
			err = fmt.Errorf("%s: there is no such file. Write it, name another with --config, or leave --config out to look in the usual places", name)
		}
		return c, name, err
	}
	for _, place := range places {
		c, err := readFile(place)
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		// A file that is there but cannot be read is not passed over: its
		// limits were meant to hold.
		return c, place, err
	}
	return Default(), "", nil
}

func readFile(name string) (Config, error) {
	info, err := os.Stat(name)
	if err != nil {
		return Config{}, explained(name, err)
	}
	if info.IsDir() {
		return Config{}, fmt.Errorf("%s: this is a folder; name the file in it", name)
	}
	if info.Size() > maxFileBytes {
		return Config{}, fmt.Errorf("%s: %d bytes are more than a configuration has; the limit is %d. Is it the right file?", name, info.Size(), maxFileBytes)
	}
	text, err := os.ReadFile(name)
	if err != nil {
		return Config{}, explained(name, err)
	}
	return Parse(name, text)
}

func explained(name string, err error) error {
	if errors.Is(err, fs.ErrPermission) {
		return fmt.Errorf("%s: the file may not be read by this user; change its permissions or run as its owner: %w", name, err)
	}
	return fmt.Errorf("%s: %w", name, err)
}
