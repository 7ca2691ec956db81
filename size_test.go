package lixivium_test

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"testing"
	"testing/fstest"
)

// maxLines is where a hand-written Go file has more than one concern for certain. The aim is a mean of about 200;
// from 400 on it is time to split.
const maxLines = 500

func tooLong(tree fs.FS) (found []string, err error) {
	err = goFiles(tree, func(name string, source []byte) error {
		if strings.HasSuffix(name, ".pb.go") {
			return nil
		}
		if lines := bytes.Count(source, []byte("\n")); lines > maxLines {
			found = append(found, fmt.Sprintf("%s has %d lines, more than %d: split it by concern", name, lines, maxLines))
		}
		return nil
	})
	return found, err
}

func TestFilesStaySmall(t *testing.T) {
	found, err := tooLong(os.DirFS("."))
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range found {
		t.Error(text)
	}
}

func TestLongFileIsRefused(t *testing.T) {
	at := []byte(strings.Repeat("\n", maxLines))
	above := append(bytes.Clone(at), '\n')
	found, err := tooLong(fstest.MapFS{
		"engine/long.go":      {Data: above},
		"engine/long_test.go": {Data: above},
		"engine/at.go":        {Data: at},
		"proto/long.pb.go":    {Data: above},
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(found) != 2 || !strings.HasPrefix(found[0], "engine/long.go ") || !strings.HasPrefix(found[1], "engine/long_test.go ") {
		t.Errorf("got %q, want engine/long.go and engine/long_test.go", found)
	}
}
