package command

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"google.golang.org/protobuf/proto"

	"lixivium.example/clients/lixi/recipefile"
)

// standardInput is the name that stands for the input stream.
const standardInput = "-"

// read fills a request from a recipe file or from standard input.
func (env *environment) read(name string, into proto.Message) (*recipefile.Places, error) {
	data, err := env.bytes(name)
	if err != nil {
		return nil, err
	}
	folder := filepath.Dir(name)
	if name == standardInput {
		name, folder = "(standard input)", "."
	}
	open := func(base string) ([]byte, error) {
		if base == standardInput { // a file may have this name
			base = "." + string(filepath.Separator) + base
		}
		return env.bytes(filepath.Join(folder, base))
	}
	return recipefile.ReadVariant(open, name, data, into, map[string]string{
		"actual": "weighed masses belong to lixi weigh; take `actual` out for this command",
		"fit":    "", // the size that lixi scale brings the recipe to
		"terms":  "", // how the batch is sold, for lixi cost
		// Matters of the request alone, which a call that has them reads.
		"allow_incomplete":  "",
		"include_worksheet": "",
	})
}

// bytes reads at most one byte more than a recipe file may hold.
func (env *environment) bytes(name string) ([]byte, error) {
	in := env.In
	if name != standardInput {
		file, err := os.Open(name)
		if err != nil {
			return nil, unreadable(name, err)
		}
		defer file.Close() //nolint:errcheck // only read from
		in = file
	}
	data, err := io.ReadAll(io.LimitReader(in, recipefile.MaxBytes+1))
	if err != nil {
		return nil, unreadable(name, err)
	}
	return data, nil
}

func unreadable(name string, err error) error {
	var inPath *fs.PathError
	if errors.As(err, &inPath) {
		err = inPath.Err
	}
	next := "give the path of a recipe file, or - for standard input"
	if errors.Is(err, fs.ErrPermission) {
		next = "ask for the right to read it"
	}
	return refused(fmt.Sprintf("%s cannot be read: %v", name, err), next)
}
