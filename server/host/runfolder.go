package host

import (
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// systemSocketPath is the longest path a socket may have, in bytes; some
// systems allow 107. What is longer fails with a message that says nothing, so
// the folder is measured with room to spare.
const (
	systemSocketPath = 103
	maxSocketPath    = 100
)

const (
	runPrefix = "lx"
	lockName  = "lock"
	saltBytes = 3
	// Below a run folder: the folder that go-plugin makes for a socket, and
	// the socket that a plugin makes in it, at their longest.
	socketFolderBytes = len("/plugin-dir4294967295")
	socketFileBytes   = len("/lixivium-4194304")
	ownFolderBytes    = len("/lx-4194304-abcdef")
)

// checkRunFolder tells at once what a socket would tell only later.
func checkRunFolder(base string) error {
	if !filepath.IsAbs(base) {
		return fmt.Errorf("the run folder %q is not an absolute path", base)
	}
	if n := len(base) + ownFolderBytes + socketFolderBytes + socketFileBytes; n >= maxSocketPath {
		return fmt.Errorf("the run folder %s is too long: a socket below it takes up to %d bytes, and systems allow about %d. Name a shorter one, such as /tmp", base, n, maxSocketPath)
	}
	return nil
}

// runFolder is the host's own folder, locked while the host lives.
type runFolder struct {
	path string
	lock *os.File
}

// makeRunFolder makes a folder that only this user can enter, after sweeping
// those of hosts that are gone.
func makeRunFolder(base string) (*runFolder, error) {
	sweep(base)
	var salt [saltBytes]byte
	_, _ = rand.Read(salt[:]) // never fails
	path := filepath.Join(base, fmt.Sprintf("%s-%d-%s", runPrefix, os.Getpid(), hex.EncodeToString(salt[:])))
	if err := os.Mkdir(path, 0o700); err != nil {
		return nil, fmt.Errorf("the run folder for plugins cannot be made: %w", err)
	}
	lock, err := os.OpenFile(filepath.Join(path, lockName), os.O_CREATE|os.O_RDWR, 0o600)
	if err == nil {
		err = tryLock(lock)
	}
	if err != nil {
		_ = os.RemoveAll(path)
		return nil, fmt.Errorf("the run folder %s cannot be locked: %w", path, err)
	}
	return &runFolder{path: path, lock: lock}, nil
}

func (f *runFolder) remove() error {
	return errors.Join(os.RemoveAll(f.path), f.lock.Close())
}

// sweep removes the folders of hosts that died without cleaning up. The lock
// is let go of by the system when its holder dies, whatever process ids mean
// where the holder ran.
func sweep(base string) {
	entries, err := os.ReadDir(base)
	if err != nil {
		return
	}
	for _, e := range entries {
		part := strings.Split(e.Name(), "-")
		if !e.IsDir() || len(part) != 3 || part[0] != runPrefix || len(part[2]) != 2*saltBytes {
			continue
		}
		pid, err := strconv.Atoi(part[1])
		if err != nil || pid <= 0 || processAlive(pid) {
			continue
		}
		path := filepath.Join(base, e.Name())
		lock, err := os.OpenFile(filepath.Join(path, lockName), os.O_RDWR, 0)
		switch {
		case errors.Is(err, fs.ErrNotExist): // died before it was locked
		case err != nil:
			continue // another user's
		default:
			err := tryLock(lock)
			_ = lock.Close()
			if err != nil {
				continue
			}
		}
		_ = os.RemoveAll(path)
	}
}
