package host

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"syscall"
)

// maxExecutableBytes keeps a wrong path to something huge from filling the run
// folder.
const maxExecutableBytes = 1 << 30

// privateCopy gives a file in the run folder that holds the bytes the line
// accepts. The bytes hashed are the bytes that run: hashing the configured
// path and then running it would leave a moment to exchange the file. A copy
// that is there already is hashed again and used, so that a plugin restarts
// although its file was replaced or removed meanwhile. Its name begins with the
// plugin's, which is what a list of processes shows.
func privateCopy(folder string, l Line) (path string, err error) {
	want, err := ParseDigest(l.SHA256)
	if err != nil {
		// Nothing to compare with: tell the digest, run nothing.
		got, hashErr := hashFile(l.File)
		if hashErr != nil {
			return "", hashErr
		}
		return "", mismatch(l, got)
	}
	path = filepath.Join(folder, l.Name+"-"+want.Hex()[:16])
	switch got, err := hashFile(path); {
	case err == nil && got.Matches(want):
		return path, nil
	case err != nil && short(err):
		return "", err // the copy may be well, and the configured file another by now
	}
	fresh, got, err := copyExecutable(folder, l.File)
	if err != nil {
		return "", err
	}
	if !got.Matches(want) {
		_ = os.Remove(fresh)
		return "", mismatch(l, got)
	}
	if err := os.Rename(fresh, path); err != nil {
		_ = os.Remove(fresh)
		return "", fmt.Errorf("the private copy of %s: %w", l.File, err)
	}
	return path, nil
}

func mismatch(l Line, got Digest) error {
	text := fmt.Sprintf("the file %s has the digest %s, and lixivium.yaml accepts %s. It was not started. If you trust this file, its line is:", l.File, got.Hex(), l.SHA256)
	if l.SHA256 == "" {
		text = fmt.Sprintf("lixivium.yaml has no sha256 for the file %s. It was not started. If you trust this file, its line is:", l.File)
	}
	l.SHA256 = got.Hex()
	return &refusal{text: text, line: l}
}

// openRegular opens a file that is a file: a pipe would block for ever.
func openRegular(path string) (*os.File, error) {
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return nil, fmt.Errorf("the plugin's file: %w", err)
	case !info.Mode().IsRegular():
		return nil, fmt.Errorf("the plugin's file %s is no regular file", path)
	case info.Size() > maxExecutableBytes:
		return nil, fmt.Errorf("the plugin's file %s has %d bytes; more than %d is no plugin", path, info.Size(), maxExecutableBytes)
	}
	return os.Open(path)
}

func hashFile(path string) (Digest, error) {
	f, err := openRegular(path)
	if err != nil {
		return Digest{}, err
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return Digest{}, fmt.Errorf("reading %s: %w", path, err)
	}
	return digestOf(h.Sum(nil)), nil
}

// copyExecutable copies a file into the folder and hashes the bytes copied.
func copyExecutable(folder, from string) (path string, got Digest, err error) {
	in, err := openRegular(from)
	if err != nil {
		return "", Digest{}, err
	}
	defer in.Close()
	// A child forked while the copy is open for writing holds it open until it
	// runs its own program, and running the copy then fails as "text file
	// busy". So nothing forks meanwhile.
	syscall.ForkLock.RLock()
	defer syscall.ForkLock.RUnlock()
	out, err := os.CreateTemp(folder, "copy")
	if err != nil {
		return "", Digest{}, fmt.Errorf("the private copy of %s: %w", from, err)
	}
	h := sha256.New()
	_, err = io.Copy(io.MultiWriter(out, h), in)
	err = errors.Join(err, out.Chmod(0o500), out.Close())
	if err != nil {
		_ = os.Remove(out.Name())
		return "", Digest{}, fmt.Errorf("the private copy of %s: %w", from, err)
	}
	return out.Name(), digestOf(h.Sum(nil)), nil
}
